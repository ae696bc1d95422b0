//! Jobs on drawn systems, by the coach and by a fixed wait, and the table of how they went.

#![allow(missing_docs, dead_code)]

use crate::field::{BIAS, Field, MINIMUM, SCATTER};
use crate::plant::Dice;
use coach::{Entry, Minutes, Plan, Stop, Wait, advise};
use quantity::TemperatureDifference as Difference;

pub const LOW: f64 = 8.0;
pub const HIGH: f64 = 12.0;
const PATIENCE: f64 = 120.0;

pub fn plan() -> Plan {
    let f = Difference::from_f;
    Plan {
        low: f(LOW),
        high: f(HIGH),
        minimum: f(MINIMUM),
        scatter: f(SCATTER),
        bias: f(BIAS),
        head_limit: None,
        opening_end: None,
        closing_end: None,
    }
}

/// How one job went.
#[derive(Clone, Debug, Default)]
pub struct Job {
    /// A quarter of the travel rests in the band.
    pub reachable: bool,
    /// It hunts where it was left.
    pub hunts: bool,
    pub reached: bool,
    pub turns: u32,
    pub minutes: f64,
    /// Minutes of true superheat under the minimum.
    pub below: f64,
    pub settled_below: bool,
    /// Values taken for settled; of them more than 2 °F off; the same without the tools' standing
    /// error; and within their own 90 % band.
    pub calls: u32,
    pub off: u32,
    pub off_but_for_bias: u32,
    pub in_own_band: u32,
    /// The learned gain over the true mean one.
    pub gain: Option<f64>,
    pub end: &'static str,
}

impl Job {
    fn call(&mut self, field: &Field, value: f64, half_width: f64) {
        let off = value - field.settles();
        self.calls += 1;
        self.off += u32::from(off.abs() > 2.0);
        self.off_but_for_bias += u32::from((off - field.bias).abs() > 2.0);
        self.in_own_band += u32::from(off.abs() <= half_width);
    }

    fn finish(mut self, mut field: Field, end: &'static str) -> Self {
        let settles = field.settles();
        self.minutes = field.now;
        self.below = field.below;
        self.end = end;
        self.reached = (LOW - 1.0..=HIGH + 1.0).contains(&settles);
        self.settled_below |= self.turns > 0 && settles < MINIMUM;
        self.hunts = field.hunts();
        self
    }
}

/// One job by the coach's advice.
pub fn coached(mut field: Field, dice: &mut Dice, interval: f64) -> Job {
    let (plan, mut log) = (plan(), Vec::new());
    let mut job = Job {
        reachable: field.reachable(LOW, HIGH),
        ..Job::default()
    };
    let found = field.settles();
    let mut called = false;
    while field.now < PATIENCE {
        let at = Minutes::new(field.now);
        log.push(Entry::Reading {
            at,
            superheat: Difference::from_f(field.read(dice)),
            swing: None,
            condensing: Some(field.gauge_condensing()),
        });
        let advice = advise(&plan, &log, at);
        if let (Some(Wait::Settled), Some(settled), false) = (advice.wait, advice.settled, called) {
            job.call(&field, settled.value.f(), settled.half_width.f());
            let turned = f64::from(field.position) / 4.0;
            job.gain = advice
                .gain_learned
                .then(|| advice.gain.value.f() * turned / (field.settles() - found));
            called = true;
        }
        if let Some(by) = advice.next {
            job.settled_below |= job.turns > 0 && field.settles() < MINIMUM;
            field.turn(by.get());
            log.push(Entry::Turn {
                at: Minutes::new(field.now),
                by,
            });
            job.turns += 1;
            called = false;
        } else if let Some(stop) = advice.stop.filter(|stop| *stop != Stop::BelowMinimum) {
            return job.finish(field, stop.key());
        }
        field.pass(interval);
    }
    job.finish(field, "out of patience")
}

/// One reading after each wait, one turn towards the band, until a reading is in it.
pub fn fixed_wait(mut field: Field, dice: &mut Dice, wait: f64) -> Job {
    let mut job = Job {
        reachable: field.reachable(LOW, HIGH),
        ..Job::default()
    };
    while field.now < PATIENCE {
        let read = field.read(dice);
        job.call(&field, read, 1.645 * SCATTER + BIAS);
        let by = if read > HIGH { -4 } else { 4 };
        if (LOW..=HIGH).contains(&read) || (field.position + by).abs() > 40 {
            break;
        }
        job.settled_below |= job.turns > 0 && field.settles() < MINIMUM;
        field.turn(by);
        job.turns += 1;
        field.pass(wait);
    }
    job.finish(field, "fixed wait")
}

/// What a table's row says of the systems that can be set.
pub struct Row {
    pub jobs: usize,
    pub reached: f64,
    /// Median and mean.
    pub minutes: f64,
    pub mean_minutes: f64,
    pub dipped: f64,
    pub dipped_long: f64,
    pub settled_below: usize,
    pub off: f64,
    pub off_but_for_bias: f64,
    pub in_own_band: f64,
}

pub const HEAD: &str =
    "rule               jobs  in band   turns      minutes       under minimum    settled       \
                    of 'settled': off by 2 °F, same   in its
                          +-1 °F   med/p90  med/p90 (mean)     ever    >2 min   under minimum  \
                    but for the tools' error   90 % band";

pub fn row(name: &str, jobs: &[Job]) -> Row {
    let able: Vec<&Job> = jobs
        .iter()
        .filter(|job| job.reachable && !job.hunts)
        .collect();
    let share = |of: &dyn Fn(&Job) -> bool| {
        100.0 * able.iter().filter(|job| of(job)).count() as f64 / able.len() as f64
    };
    let at = |q: f64, of: &dyn Fn(&Job) -> f64| {
        let mut all: Vec<f64> = able.iter().map(|job| of(job)).collect();
        all.sort_by(f64::total_cmp);
        all[((all.len() - 1) as f64 * q) as usize]
    };
    let calls = able.iter().map(|job| job.calls).sum::<u32>().max(1);
    let of_calls = |of: &dyn Fn(&Job) -> u32| {
        100.0 * f64::from(able.iter().map(|job| of(job)).sum::<u32>()) / f64::from(calls)
    };
    let row = Row {
        jobs: able.len(),
        reached: share(&|job| job.reached),
        minutes: at(0.5, &|job| job.minutes),
        mean_minutes: able.iter().map(|job| job.minutes).sum::<f64>() / able.len() as f64,
        dipped: share(&|job| job.below > 0.0),
        dipped_long: share(&|job| job.below > 2.0),
        settled_below: able.iter().filter(|job| job.settled_below).count(),
        off: of_calls(&|job| job.off),
        off_but_for_bias: of_calls(&|job| job.off_but_for_bias),
        in_own_band: of_calls(&|job| job.in_own_band),
    };
    println!(
        "{name:<18} {:>4} {:>6.1} %  {:>3}/{:<3} {:>5.0}/{:<4.0} ({:.1}) {:>6.1} % {:>6.1} % {:>8} {:>14.1} % \
         {:>9.1} % {:>16.1} %",
        able.len(),
        row.reached,
        at(0.5, &|job| f64::from(job.turns)),
        at(0.9, &|job| f64::from(job.turns)),
        row.minutes,
        at(0.9, &|job| job.minutes),
        row.mean_minutes,
        row.dipped,
        row.dipped_long,
        row.settled_below,
        row.off,
        row.off_but_for_bias,
        row.in_own_band,
    );
    row
}

/// How jobs ended, and the learned gain over the true one at 10, 50 and 90 %.
pub fn ends(jobs: &[Job]) {
    for (name, is) in [
        ("reachable", (true, false)),
        ("out of reach", (false, false)),
        ("hunting", (true, true)),
        ("both", (false, true)),
    ] {
        let mut counts = std::collections::BTreeMap::new();
        for job in jobs.iter().filter(|job| (job.reachable, job.hunts) == is) {
            *counts.entry(job.end).or_insert(0) += 1;
        }
        let some: Vec<&Job> = jobs
            .iter()
            .filter(|job| (job.reachable, job.hunts) == is)
            .collect();
        let under = |least: f64| some.iter().filter(|job| job.below > least).count();
        println!(
            "    {name}: {counts:?}; under the minimum {}, of them over 2 min {}",
            under(0.0),
            under(2.0)
        );
    }
    let mut gains: Vec<f64> = jobs.iter().filter_map(|job| job.gain).collect();
    gains.sort_by(f64::total_cmp);
    let [low, middle, high] =
        [0.1, 0.5, 0.9].map(|q| gains[((gains.len() - 1) as f64 * q) as usize]);
    println!("    gain over true: {low:.2} / {middle:.2} / {high:.2}");
}

/// The same job on each system of these seeds.
pub fn all(
    seeds: core::ops::Range<u64>,
    starts: (f64, f64),
    run: impl Fn(Field, &mut Dice) -> Job,
) -> Vec<Job> {
    seeds
        .map(|seed| {
            let mut dice = Dice::new(seed);
            let field = Field::any(&mut dice, starts);
            run(field, &mut dice)
        })
        .collect()
}

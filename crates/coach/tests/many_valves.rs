//! The coach against 'one turn each time, then a fixed wait', on many simulated systems.
//!
//! The table is printed; what is met at each reading interval is asserted. Not met: 80 % of the
//! minutes of the rule that waits 5 minutes, when readings are farther apart than 20 s, and half of
//! those of the one that waits 10 when they are 3 minutes apart (see `TARGETS`); nor where the start
//! is near the band, since a single turn may do there. Those rules are quick because they do not
//! look whether they are right.

mod plant;

use coach::{Entry, Minutes, Plan, Stop, Wait, advise};
use plant::{Dice, Plant};
use quantity::TemperatureDifference as Difference;

/// The constants of the coach were tried on systems 0 to 600; these were held aside.
const SEEDS: core::ops::Range<u64> = 50_000..50_600;
const LOW: f64 = 8.0;
const HIGH: f64 = 12.0;
const MINIMUM: f64 = 5.0;
const PATIENCE: f64 = 120.0;

/// What must hold where the start is far above the band, for each interval in minutes: of the
/// minutes of the fixed waits of 5 and 10, medians. The aims are 0.8 and 0.5.
const TARGETS: [Target; 3] = [
    Target {
        interval: 1.0 / 3.0,
        of_five: 0.8,
        of_ten: 0.5,
    },
    Target {
        interval: 1.0,
        of_five: 1.05,
        of_ten: 0.5,
    },
    Target {
        interval: 3.0,
        of_five: 1.4,
        of_ten: 0.75,
    },
];

struct Target {
    interval: f64,
    of_five: f64,
    of_ten: f64,
}

fn plan() -> Plan {
    let f = Difference::from_f;
    Plan {
        low: f(LOW),
        high: f(HIGH),
        minimum: f(MINIMUM),
        scatter: f(0.8),
        bias: f(0.8),
        head_limit: None,
        opening_end: None,
        closing_end: None,
    }
}

#[derive(Clone, Debug, Default)]
struct Job {
    reachable: bool,
    reached: bool,
    turns: u32,
    minutes: f64,
    /// Minutes of true superheat under the minimum.
    below: f64,
    settled_below: bool,
    /// Values taken for settled; of them more than 2 °F off; the same without the tools' standing
    /// error; and within their own 90 % band.
    calls: u32,
    off: u32,
    off_but_for_bias: u32,
    in_own_band: u32,
    /// The learned gain over the true mean gain.
    gain: Option<f64>,
    end: &'static str,
}

impl Job {
    fn new(plant: &Plant) -> Self {
        Self {
            reachable: plant.reachable(LOW, HIGH),
            ..Self::default()
        }
    }

    fn call(&mut self, plant: &Plant, t: f64, value: f64, half_width: f64) {
        let off = value - plant.settles(t);
        self.calls += 1;
        self.off += u32::from(off.abs() > 2.0);
        self.off_but_for_bias += u32::from((off - plant.bias).abs() > 2.0);
        self.in_own_band += u32::from(off.abs() <= half_width);
    }

    /// Follows the true superheat while time goes on.
    fn pass(&mut self, plant: &Plant, from: f64, to: f64) {
        let steps = ((to - from) * 12.0).round().max(1.0);
        let step = (to - from) / steps;
        for i in 0..steps as u32 {
            if plant.superheat(from + step * f64::from(i)) < MINIMUM {
                self.below += step;
            }
        }
    }

    fn finish(mut self, plant: &Plant, t: f64, end: &'static str) -> Self {
        let settles = plant.settles(t);
        self.minutes = t;
        self.end = end;
        self.reached = (LOW - 1.0..=HIGH + 1.0).contains(&settles);
        self.settled_below |= settles < MINIMUM;
        self
    }
}

fn coached(mut plant: Plant, dice: &mut Dice, interval: f64) -> Job {
    let (plan, mut log, mut t) = (plan(), Vec::new(), 0.0);
    let (mut job, mut called) = (Job::new(&plant), false);
    while t < PATIENCE {
        let at = Minutes::new(t);
        let superheat = Difference::from_f(plant.read(t, dice));
        log.push(Entry::Reading {
            at,
            superheat,
            swing: None,
            condensing: None,
        });
        let advice = advise(&plan, &log, at);
        if let (Some(Wait::Settled), Some(settled), false) = (advice.wait, advice.settled, called) {
            job.call(&plant, t, settled.value.f(), settled.half_width.f());
            job.gain = advice
                .gain_learned
                .then(|| advice.gain.value.f() / plant.gain);
            called = true;
        }
        if let Some(by) = advice.next {
            job.settled_below |= plant.settles(t) < MINIMUM;
            plant.turn(t, by.turns());
            log.push(Entry::Turn { at, by });
            job.turns += 1;
            called = false;
        } else if let Some(stop) = advice.stop.filter(|stop| *stop != Stop::BelowMinimum) {
            return job.finish(&plant, t, stop.key());
        }
        job.pass(&plant, t, t + interval);
        t += interval;
    }
    job.finish(&plant, t, "out of patience")
}

/// One reading after each wait, one turn towards the band, until a reading is in it.
fn fixed_wait(mut plant: Plant, dice: &mut Dice, wait: f64) -> Job {
    let (mut job, mut t) = (Job::new(&plant), 0.0);
    while t < PATIENCE {
        let read = plant.read(t, dice);
        job.call(&plant, t, read, 1.645 * 0.8 + 0.8);
        let by = if read > HIGH { -1.0 } else { 1.0 };
        if (LOW..=HIGH).contains(&read) || (plant.position + by).abs() > 10.0 {
            break;
        }
        job.settled_below |= job.turns > 0 && plant.settles(t) < MINIMUM;
        plant.turn(t, by);
        job.turns += 1;
        job.pass(&plant, t, t + wait);
        t += wait;
    }
    job.finish(&plant, t, "fixed wait")
}

struct Row {
    reached: f64,
    minutes: f64,
    dipped: f64,
    dipped_long: f64,
    settled_below: usize,
    off: f64,
    off_but_for_bias: f64,
    in_own_band: f64,
}

const HEAD: &str =
    "rule               jobs  in band   turns    minutes     under minimum    settled       \
                    of 'settled': off by 2 °F, same   in its
                          +-1 °F   med/p90  med/p90     ever    >2 min   under minimum  \
                    but for the tools' error   90 % band";

fn row(name: &str, jobs: &[Job]) -> Row {
    let able: Vec<&Job> = jobs.iter().filter(|job| job.reachable).collect();
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
        reached: share(&|job| job.reached),
        minutes: at(0.5, &|job| job.minutes),
        dipped: share(&|job| job.below > 0.0),
        dipped_long: share(&|job| job.below > 2.0),
        settled_below: able.iter().filter(|job| job.settled_below).count(),
        off: of_calls(&|job| job.off),
        off_but_for_bias: of_calls(&|job| job.off_but_for_bias),
        in_own_band: of_calls(&|job| job.in_own_band),
    };
    println!(
        "{name:<18} {:>4} {:>6.1} %  {:>3}/{:<3} {:>5.0}/{:<5.0} {:>6.1} % {:>6.1} % {:>8} {:>14.1} % \
         {:>9.1} % {:>16.1} %",
        able.len(),
        row.reached,
        at(0.5, &|job| f64::from(job.turns)),
        at(0.9, &|job| f64::from(job.turns)),
        row.minutes,
        at(0.9, &|job| job.minutes),
        row.dipped,
        row.dipped_long,
        row.settled_below,
        row.off,
        row.off_but_for_bias,
        row.in_own_band,
    );
    row
}

fn all(starts: (f64, f64), run: impl Fn(Plant, &mut Dice) -> Job) -> Vec<Job> {
    SEEDS
        .map(|seed| {
            let mut dice = Dice::new(seed);
            let plant = Plant::any(&mut dice, starts);
            run(plant, &mut dice)
        })
        .collect()
}

/// How jobs ended, and the learned gain over the true one at 10, 50 and 90 %.
fn ends(jobs: &[Job]) {
    for reachable in [true, false] {
        let mut counts = std::collections::BTreeMap::new();
        for job in jobs.iter().filter(|job| job.reachable == reachable) {
            *counts.entry(job.end).or_insert(0) += 1;
        }
        println!(
            "    {}: {counts:?}",
            if reachable {
                "reachable"
            } else {
                "out of reach"
            }
        );
    }
    let mut gains: Vec<f64> = jobs.iter().filter_map(|job| job.gain).collect();
    gains.sort_by(f64::total_cmp);
    let [low, middle, high] =
        [0.1, 0.5, 0.9].map(|q| gains[((gains.len() - 1) as f64 * q) as usize]);
    println!("    gain over true: {low:.2} / {middle:.2} / {high:.2}");
}

/// The prototype's trial started at 22 to 40 °F too.
#[test]
fn far_above_the_band_it_is_set_sooner_and_safer_than_by_a_fixed_wait() {
    let starts = (22.0, 40.0);
    println!("As found at {starts:?} °F\n{HEAD}");
    let five = row(
        "one turn, wait 5",
        &all(starts, |p, d| fixed_wait(p, d, 5.0)),
    );
    let ten = row(
        "one turn, wait 10",
        &all(starts, |p, d| fixed_wait(p, d, 10.0)),
    );
    for target in TARGETS {
        let jobs = all(starts, |p, d| coached(p, d, target.interval));
        let coach = row(&format!("coach, {:.0} s", 60.0 * target.interval), &jobs);
        ends(&jobs);
        let (of_five, of_ten) = (coach.minutes / five.minutes, coach.minutes / ten.minutes);
        println!("    minutes: {of_five:.2} of wait 5, {of_ten:.2} of wait 10");
        safe(&coach);
        assert!(of_five < target.of_five + 0.005 && of_ten < target.of_ten + 0.005);
        assert!(coach.off < five.off && coach.dipped < five.dipped.min(ten.dipped));
    }
}

#[test]
fn near_the_band_it_is_safe_and_right_if_not_sooner() {
    for starts in [(12.0, 22.0), (6.0, 8.0)] {
        println!("As found at {starts:?} °F\n{HEAD}");
        row(
            "one turn, wait 5",
            &all(starts, |p, d| fixed_wait(p, d, 5.0)),
        );
        row(
            "one turn, wait 10",
            &all(starts, |p, d| fixed_wait(p, d, 10.0)),
        );
        for target in TARGETS {
            let jobs = all(starts, |p, d| coached(p, d, target.interval));
            let coach = row(&format!("coach, {:.0} s", 60.0 * target.interval), &jobs);
            ends(&jobs);
            safe(&coach);
        }
    }
}

fn safe(coach: &Row) {
    assert!(coach.reached >= 97.0, "{}", coach.reached);
    assert_eq!(coach.settled_below, 0);
    assert!(coach.dipped < 4.0, "{}", coach.dipped);
    assert!(coach.dipped_long == 0.0, "{}", coach.dipped_long);
    // The aim is 2 %. It is met by what the coach can know; the standing error of the tools, up to
    // 0.8 °F here, is not to be seen in any reading, and with it at worst 2.0 % were measured.
    assert!(
        coach.off_but_for_bias < 2.0 && coach.off < 2.5,
        "{}",
        coach.off
    );
    assert!(coach.in_own_band > 85.0, "{}", coach.in_own_band);
}

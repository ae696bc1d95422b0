//! Systems that the fit has never seen: what it finds, what it foretells, and whether its bands hold
//! what they claim. Seeds here were not looked at while priors and spreads were chosen.

use likeness::{Band, WhatIf, fit};

mod support;
use support::*;

const SEED: u64 = 20_260_712;
const SYSTEMS: usize = 240;

/// Hits of bands, and errors of their middles.
#[derive(Default)]
struct Score {
    hits: usize,
    errors: Vec<f64>,
}

impl Score {
    fn add(&mut self, band: &Band, truth: f64) {
        self.hits += usize::from(band.holds(truth));
        self.errors.push((band.middle - truth).abs());
    }

    fn coverage(&self) -> f64 {
        self.hits as f64 / self.errors.len().max(1) as f64
    }

    fn line(&mut self, name: &str) {
        let (median, ninety) = (
            share_of(&mut self.errors, 0.5),
            share_of(&mut self.errors, 0.9),
        );
        println!(
            "{name:42} {:4} {:8.2} {:8.2} {:8.0} %",
            self.errors.len(),
            median,
            ninety,
            100.0 * self.coverage()
        );
    }
}

fn to(what: WhatIf) -> To {
    match what {
        WhatIf::StemOut => To {
            turns: -1.0,
            ..AS_IT_IS
        },
        WhatIf::StemIn => To {
            turns: 1.0,
            ..AS_IT_IS
        },
        WhatIf::ChargeUp => To {
            charge: 1.1,
            ..AS_IT_IS
        },
        WhatIf::ChargeDown => To {
            charge: 0.9,
            ..AS_IT_IS
        },
        WhatIf::IndoorAirUp => To {
            indoor_air: 1.2,
            ..AS_IT_IS
        },
        WhatIf::CoolerAir => To {
            warmer_f: -10.0,
            ..AS_IT_IS
        },
        WhatIf::OpenAir => To {
            open_air: true,
            ..AS_IT_IS
        },
    }
}

#[test]
fn bands_of_held_aside_systems_hold_what_they_claim() {
    let mut dice = Dice(SEED);
    let mut fitted: Vec<(&str, Score)> = Vec::new();
    let mut now = Score::default();
    let mut tables: Vec<(WhatIf, [Score; 6])> =
        WhatIf::ALL.map(|what| (what, Default::default())).into();
    let (mut after, mut after_shift) = (<[Score; 2]>::default(), Score::default());
    let (mut poor, mut silent, mut ways) = (0, 0, 0);
    for _ in 0..SYSTEMS {
        let truth = drawn(&mut dice);
        let told = read(&truth, &mut dice);
        let likeness = fit(&told).expect("a fit");
        let report = likeness.report();
        if report.poor {
            poor += 1;
            println!(
                "poor: {:?} {:.1} {:?}",
                report.worst, report.squares, truth.faults
            );
            continue;
        }
        ways += usize::from(report.ways > 1);
        let known = [
            ("charge_share", truth.faults.charge),
            ("gain_f_per_turn", truth.gain_f()),
            ("stem_setting_f", truth.turns * truth.gain_f()),
            ("indoor_air_share", truth.indoor_share),
            ("condenser_air_share", truth.faults.condenser_air),
            ("pumping_share", truth.faults.pumping),
            ("return_dry_bulb_f", truth.air.1),
            ("return_wet_bulb_f", truth.air.2),
        ];
        for (name, value) in known {
            let one = report
                .fitted
                .iter()
                .find(|one| one.name == name)
                .expect("fitted");
            let half = 1.6449 * one.sd;
            let band = Band {
                low: one.value - half,
                middle: one.value,
                high: one.value + half,
            };
            let place = fitted.iter().position(|(known, _)| *known == name);
            let place = place.unwrap_or_else(|| {
                fitted.push((name, Score::default()));
                fitted.len() - 1
            });
            fitted[place].1.add(&band, value);
        }
        let (outlook, forecasts) = likeness.what_if();
        let is = truth.point(&AS_IT_IS).expect("an operating point");
        now.add(&outlook.expect("now").superheat_f, truth.superheat_f(&is));
        // A step of 6 % of the charge towards the right one.
        let step = 0.06 * (1.0 - truth.faults.charge).signum();
        let ounces = step * told.plate_charge_oz.expect("told");
        let charged = To {
            charge: 1.0 + step / truth.faults.charge,
            ..AS_IT_IS
        };
        let forecast = likeness.after_charge(ounces).expect("a small step");
        if let (Some(then), Some(shift), Some(truly)) =
            (forecast.then, forecast.shift, truth.point(&charged))
        {
            after[0].add(&then.superheat_f, truth.superheat_f(&truly));
            after[1].add(&then.subcooling_f, truth.subcooling_f(&truly));
            let moved = truth.subcooling_f(&truly) - truth.subcooling_f(&is);
            after_shift.add(&shift.subcooling_f, moved);
        }
        for (what, scores) in &mut tables {
            let forecast = forecasts.iter().find(|one| one.what == what.key());
            let Some(forecast) = forecast else {
                assert!(*what == WhatIf::OpenAir && told.open_air.is_none());
                continue;
            };
            let (Some(then), Some(shift)) = (forecast.then, forecast.shift) else {
                silent += 1;
                continue;
            };
            let Some(true_then) = truth.point(&to(*what)) else {
                continue;
            };
            let superheat = truth.superheat_f(&true_then);
            let head = truth.head_psig(&true_then);
            scores[0].add(&then.superheat_f, superheat);
            scores[1].add(&shift.superheat_f, superheat - truth.superheat_f(&is));
            scores[2].add(&then.subcooling_f, truth.subcooling_f(&true_then));
            scores[3].add(
                &shift.subcooling_f,
                truth.subcooling_f(&true_then) - truth.subcooling_f(&is),
            );
            scores[4].add(&then.head_psig, head);
            let share = true_then.capacity_w / is.capacity_w;
            let in_percent = Band {
                low: 100.0 * then.capacity_share.low,
                middle: 100.0 * then.capacity_share.middle,
                high: 100.0 * then.capacity_share.high,
            };
            scores[5].add(&in_percent, 100.0 * share);
        }
    }
    println!(
        "{SYSTEMS} systems: {poor} called poor, {ways} with more than one way, {silent} changes \
         without an answer"
    );
    println!(
        "{:42} {:>4} {:>8} {:>8} {:>8}",
        "", "n", "median", "90 %", "in band"
    );
    for (name, score) in &mut fitted {
        score.line(name);
    }
    now.line("superheat now, F");
    for (score, name) in after.iter_mut().zip(["superheat", "subcooling"]) {
        score.line(&format!("after ounces, 6 %, {name}, F"));
        assert!(score.errors.len() > 200 && (0.8..=0.98).contains(&score.coverage()));
    }
    after_shift.line("after ounces, 6 %, subcooling shift, F");
    assert!(after_shift.coverage() >= 0.8);
    let names = [
        "superheat, F",
        "superheat shift, F",
        "subcooling, F",
        "subcooling shift, F",
        "head, psi",
        "capacity, %",
    ];
    for (what, scores) in &mut tables {
        for (score, name) in scores.iter_mut().zip(names) {
            score.line(&format!("{} {name}", what.key()));
        }
    }
    assert!(poor <= SYSTEMS / 50 && silent <= SYSTEMS / 25);
    assert!((0.8..=0.97).contains(&now.coverage()));
    for (name, score) in &fitted {
        assert!((0.8..=0.97).contains(&score.coverage()), "{name}");
    }
    let mut pooled = (0, 0);
    for (what, scores) in &tables {
        for (score, name) in scores.iter().zip(names) {
            pooled.0 += score.hits;
            pooled.1 += score.errors.len();
            // The band of head in cooler air is a little wide: 98 to 99 % here and on other seeds.
            // A change that hardly moves a number has a band that is the unit's own share and no
            // more, which the simulated units do not use up.
            let is_small = name.contains("shift") || name.contains("capacity");
            let most = if is_small { 1.0 } else { 0.99 };
            let covered = score.coverage();
            let name = format!("{} {name}", what.key());
            assert!((0.8..=most).contains(&covered), "{name} {covered:.2}");
        }
    }
    let whole = pooled.0 as f64 / pooled.1 as f64;
    println!("all changes: {:.0} % in their bands", 100.0 * whole);
    assert!((0.85..=0.97).contains(&whole));
}

/// After a turn with its answer in the log the next one is foretold better than from one reading.
#[test]
fn a_turn_in_the_log_teaches_the_next() {
    let mut dice = Dice(SEED + 1);
    let (mut plain, mut logged) = (Score::default(), Score::default());
    let next = To {
        turns: -1.0,
        ..AS_IT_IS
    };
    while logged.errors.len() < 200 {
        let truth = drawn(&mut dice);
        let told = read(&truth, &mut dice);
        let turns = -dice.of(&[1.0, 1.5, 2.0]);
        let Some(with_log) = with_log(&truth, &told, turns, &mut dice) else {
            continue;
        };
        let (Some(is), Some(then)) = (truth.point(&AS_IT_IS), truth.point(&next)) else {
            continue;
        };
        let change = truth.superheat_f(&then) - truth.superheat_f(&is);
        for (told, score) in [(&told, &mut plain), (&with_log, &mut logged)] {
            let likeness = fit(told).expect("a fit");
            let forecast = likeness.after_turn(-1.0).expect("a stem");
            let shift = forecast.shift.expect("an answer");
            score.add(&shift.superheat_f, change);
        }
    }
    println!(
        "{:42} {:>4} {:>8} {:>8} {:>8}",
        "a turn out", "n", "median", "90 %", "in band"
    );
    plain.line("from one reading: superheat shift, F");
    logged.line("with a turn in the log: superheat shift, F");
    let median = |score: &mut Score| share_of(&mut score.errors, 0.5);
    let (without, with) = (median(&mut plain), median(&mut logged));
    assert!(with < 0.8 * without, "{with} {without}");
    assert!((0.8..=0.97).contains(&logged.coverage()));
}

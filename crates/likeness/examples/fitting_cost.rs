//! Times of the likeness on this machine: `cargo run --release -p likeness --example fitting_cost`.
#![allow(clippy::disallowed_methods)]

use std::hint::black_box;
use std::time::Instant;

use likeness::{Answered, Measured, Question, Told, answer, fit};

/// An invented reading: 3 tons of R-410A on a warm day, valve set in, a little hot air.
fn told() -> Told {
    let at = |f: f64| Measured { f, within_f: 1.4 };
    Told {
        refrigerant: "R-410A".to_owned(),
        metering: "txv".to_owned(),
        nominal_tons: Some(3.0),
        plate_charge_oz: Some(140.0),
        line_length_ft: None,
        liquid_line_in: None,
        suction_line_in: None,
        superheat_low_f: 8.0,
        superheat_high_f: 12.0,
        subcooling_low_f: 7.0,
        subcooling_high_f: 13.0,
        minimum_superheat_f: 5.0,
        at_service_valve: false,
        local_air_psia: 14.696,
        gauge_zero_psia: 14.696,
        suction_dew: at(40.5),
        suction_line: at(64.0),
        liquid_bubble: at(116.0),
        liquid_line: at(104.5),
        compressor_suction: None,
        liquid_line_end: None,
        condenser_air: Some(at(97.0)),
        open_air: Some(at(93.0)),
        condenser_leaving_air: None,
        return_dry_bulb: Some(at(78.0)),
        return_wet_bulb: Some(at(65.0)),
        supply_dry_bulb: None,
        is_off_chart: false,
        stem_turns: 0.0,
        answered: Vec::new(),
    }
}

fn main() {
    let plain = told();
    let logged = Told {
        stem_turns: -1.0,
        answered: vec![
            Answered {
                stem_turns: 0.0,
                superheat_f: 28.5,
                within_f: 1.5,
            },
            Answered {
                stem_turns: -0.5,
                superheat_f: 26.0,
                within_f: 1.5,
            },
        ],
        ..told()
    };
    println!("{:24} {:>9}", "", "ms");
    for (name, told) in [("one reading", plain), ("with two of the log", logged)] {
        let question = Question {
            told: told.clone(),
            ounces: Some(4.0),
            will_it_fit: true,
        };
        let text = serde_json::to_string(&question).unwrap_or_default();
        let Ok(likeness) = fit(&told) else {
            println!("{name}: no fit");
            continue;
        };
        let rows = [
            ("fit", milliseconds(|| fit(black_box(&told)).is_ok())),
            ("what if", milliseconds(|| !likeness.what_if().1.is_empty())),
            (
                "will it fit",
                milliseconds(|| !likeness.will_it_fit().rows.is_empty()),
            ),
            ("answer, all", milliseconds(|| answer(&text).len() > 2000)),
        ];
        println!("{name}, {} ways", likeness.report().ways);
        for (row, time) in rows {
            println!("  {row:22} {time:9.2}");
        }
    }
}

/// Of one call: the best of many, since other work on the machine only adds.
fn milliseconds(mut call: impl FnMut() -> bool) -> f64 {
    let mut best = f64::INFINITY;
    for _ in 0..40 {
        let start = Instant::now();
        assert!(call(), "a call failed");
        best = best.min(start.elapsed().as_secs_f64() * 1e3);
    }
    best
}

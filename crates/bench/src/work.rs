//! The pieces of work, one row each.

use coach::{Entry, Minutes, Plan, Quarters, advise};
use cycle::{Equalizer, Faults, Metering, Plate, Run, System, Tail, Weather};
use job::{Job, What, demo};
use quantity::TemperatureDifference;
use refrigerant::Refrigerant;
use std::hint::black_box;

/// One piece of work.
#[derive(Clone, Copy)]
pub struct Work {
    /// Its name in the table; one word, so that a line of results splits at blanks.
    pub name: &'static str,
    /// Makes it ready, untimed. Each call of what comes back is one piece.
    ///
    /// # Panics
    /// Either does when the core refuses the work: then there is nothing to time.
    pub ready: fn() -> Box<dyn FnMut()>,
}

/// Everything that is timed.
pub const WORK: [Work; 4] = [
    // The plant at rest: 3 ton, R-410A, TXV, short of charge, stem turned in.
    Work {
        name: "steady-solve",
        ready: steady_solve,
    },
    // A minute of the plant after a quarter turn.
    Work {
        name: "simulated-minute",
        ready: simulated_minute,
    },
    // A full reading, as the page asks for it on every key.
    Work {
        name: "reading-with-findings",
        ready: reading_with_findings,
    },
    // The coach on a log of 500 readings and 20 turns.
    Work {
        name: "advise-500-readings",
        ready: advise_500_readings,
    },
];

/// Three tons by an adjustable valve in the weather of AHRI 210/240, condition A.
fn plant() -> (System, Weather) {
    let plate = Plate::new(Refrigerant::R410A, 3.0, Metering::Txv(Equalizer::External));
    let system = System::build(&plate).expect("a plain plate");
    let weather = Weather::at_sea_level_f(95.0, 80.0, 67.0).expect("a plain day");
    (system, weather)
}

fn steady_solve() -> Box<dyn FnMut()> {
    let (system, weather) = plant();
    let faults = Faults {
        charge: 0.85,
        ..Faults::NONE
    };
    Box::new(move || {
        let point = system.steady(black_box(&weather), &faults, 2.0);
        assert!(black_box(point).is_ok(), "no solution");
    })
}

fn simulated_minute() -> Box<dyn FnMut()> {
    let (system, weather) = plant();
    let run = Run::at_rest(system, weather, Faults::NONE, 2.0, Tail::default());
    let mut run = run.expect("it starts at rest");
    let mut quarter = 1;
    Box::new(move || {
        quarter = -quarter;
        run.turn_quarters(quarter);
        assert!(run.advance(black_box(60.0)).is_ok(), "no solution");
    })
}

fn reading_with_findings() -> Box<dyn FnMut()> {
    let events = demo(0);
    let begin = Job::begin("bench", 0, true);
    let job = events.iter().fold(begin, |job, saved| {
        let applied = job.apply(&saved.event, saved.at_ms);
        applied.expect("the demo fits").0
    });
    let kept = job.log.iter().rev().find_map(|line| match &line.what {
        What::Reading(draft) => Some(draft.clone()),
        _ => None,
    });
    let draft = kept.expect("the demo has readings");
    Box::new(move || {
        let said = job.judge(black_box(&draft));
        assert!(black_box(said).is_some(), "not named");
    })
}

fn advise_500_readings() -> Box<dyn FnMut()> {
    let f = TemperatureDifference::from_f;
    let plan = Plan {
        low: f(8.0),
        high: f(12.0),
        minimum: f(5.0),
        scatter: f(0.8),
        bias: f(0.8),
        head_limit: None,
        opening_end: None,
        closing_end: None,
    };
    let mut log = Vec::new();
    for at in 0..500_u32 {
        let minutes = f64::from(at) / 3.0;
        let turns = f64::from(at / 25) / 4.0;
        // A deterministic scatter of about half a degree.
        let scatter = f64::from((at * 7919) % 101) / 101.0 - 0.5;
        log.push(Entry::Reading {
            at: Minutes::new(minutes),
            superheat: f(25.0 - 2.2 * turns + scatter),
            swing: None,
            condensing: None,
        });
        if at % 25 == 24 {
            log.push(Entry::Turn {
                at: Minutes::new(minutes + 0.1),
                by: Quarters::new(-1),
            });
        }
    }
    Box::new(move || {
        let advice = advise(&plan, black_box(&log), Minutes::new(170.0));
        assert!(black_box(advice).wait.is_some(), "nothing was read");
    })
}

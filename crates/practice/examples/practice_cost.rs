//! Prints what drawing cases and letting time pass costs on this machine: the median of many.
#![allow(clippy::disallowed_methods)] // a clock is what this is for

use practice::{Action, Case, Filter, Place, Session, debrief, good_technician};
use std::time::Instant;

/// Runs it on each and prints the median and the best, ms.
fn timed<T>(what: &str, on: impl Iterator<Item = T>, mut run: impl FnMut(T)) {
    let mut took: Vec<f64> = on
        .map(|it| {
            let begun = Instant::now();
            run(it);
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    took.sort_by(f64::total_cmp);
    let middle = took.get(took.len() / 2).copied().unwrap_or(0.0);
    let best = took.first().copied().unwrap_or(0.0);
    println!("{what}: {middle:.2} ms, best {best:.2} ms");
}

fn main() {
    let mut cases: Vec<Case> = Vec::new();
    timed("a case drawn", 0..100, |seed| {
        cases.extend(Case::draw(seed, &Filter::default()));
    });
    let begun = |case: &Case| {
        let mut session = Session::begin(case.clone());
        for action in [
            Action::HangAirProbes,
            Action::StrapProbes {
                place: Place::Bulb,
                wrapped: true,
            },
            Action::ConnectGauges {
                place: Place::ServiceValve,
            },
        ] {
            // None of these is ever refused at first.
            assert!(session.apply(action).is_ok());
        }
        session
    };
    let sessions: Vec<Session> = cases.iter().map(begun).collect();
    timed(
        "30 minutes with every tool",
        sessions.into_iter(),
        |mut session| session.pass(1800),
    );
    timed("a good technician's visit", cases.iter(), |case| {
        good_technician(&mut Session::begin(case.clone()));
    });
    timed("a debrief", cases.iter(), |case| {
        let mut session = Session::begin(case.clone());
        assert!(session.apply(Action::Leave).is_ok());
        assert!(debrief(&session).is_some());
    });
}

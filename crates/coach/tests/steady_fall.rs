//! A superheat that goes on falling is never called settled, and no further opening is proposed on
//! it: the next thing it would reach is the compressor.

mod plan;

use coach::{Entry, Minutes, Quarters, Wait, advise};
use plan::plan;
use quantity::TemperatureDifference as Difference;

fn log(readings: &[f64]) -> (Vec<Entry>, Minutes) {
    let reading = |at: f64, superheat: f64| Entry::Reading {
        at: Minutes::new(at),
        superheat: Difference::from_f(superheat),
        swing: None,
        condensing: None,
    };
    let mut log = vec![reading(0.0, 20.1), reading(3.0, 19.9), reading(6.0, 20.0)];
    log.push(Entry::Turn {
        at: Minutes::new(7.0),
        by: Quarters::new(-2),
    });
    let after = (1..).map(|step| 7.0 + 4.0 * f64::from(step));
    log.extend(readings.iter().zip(after).map(|(&f, at)| reading(at, f)));
    (log, Minutes::new(7.0 + 4.0 * readings.len() as f64))
}

#[test]
fn steady_fall_is_never_settled() {
    let plan = plan();
    for falling in [[19.0, 16.0, 13.0, 10.5], [19.0, 17.0, 15.0, 13.0]] {
        for known in 3..=falling.len() {
            let (log, now) = log(&falling[..known]);
            let advice = advise(&plan, &log, now);
            assert_ne!(advice.wait, Some(Wait::Settled), "{:?}", &falling[..known]);
            let opens = advice.next.is_some_and(|next| next.get() < 0);
            assert!(!opens, "{:?} proposed {:?}", &falling[..known], advice.next);
        }
    }
}

//! The charge ledger, and what a weight does to the job.

use crate::visit::{MINUTE, Visit, turned, typed, units, weighed};
use diagnosis::{Field, Metering};
use job::{EntryFault, Event, NumberFault, Refused, Request, Stem, Typed, What};
use quantity::{PressureUnit, TemperatureUnit};

#[test]
fn charge_is_the_sum_of_the_weights() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    for (text, sum) in [
        ("8", 8.0),
        ("-3.5", 4.5),
        ("\u{2212}6", -1.5),
        ("0,25", -1.25),
    ] {
        visit.minutes(1);
        visit.does(&weighed(text));
        assert_eq!(visit.job.charge_ounces(), sum);
    }
    visit.does(&Event::TookBack);
    visit.does(&Event::TookBack);
    assert_eq!(visit.job.charge_ounces(), 4.5);
    // 453.592 37 g is 16 oz: NIST SP 811 (2008), B.8.
    let metric = units(PressureUnit::Bar, TemperatureUnit::Celsius);
    visit.does(&Event::Weighed {
        typed: Typed::new("453.59237", metric),
    });
    assert!((visit.job.charge_ounces() - 20.5).abs() < 1e-9);
}

#[test]
fn weight_that_is_none_is_refused() {
    let visit = Visit::looked(Metering::AdjustableTxv);
    for (text, fault) in [
        ("", NumberFault::Blank),
        ("0", NumberFault::Blank),
        ("-0.0", NumberFault::Blank),
        ("half a pound", NumberFault::NotANumber),
        ("1,250", NumberFault::Ambiguous),
    ] {
        assert_eq!(
            visit.is_refused(&weighed(text)),
            Refused::Weight(EntryFault::Number(fault))
        );
    }
    for (text, value) in [("2000.5", 2000.5), ("-2001", -2001.0)] {
        assert_eq!(
            visit.is_refused(&weighed(text)),
            Refused::Weight(EntryFault::OutOfRange {
                value,
                low: -2000.0,
                high: 2000.0
            })
        );
    }
}

#[test]
fn weight_sends_the_job_back_to_superheat() {
    let mut visit = Visit::ready_to_turn(10.0);
    assert!(visit.job.proof(visit.now).holds());
    visit.minutes(1);
    let at_ms = visit.now + 15 * MINUTE;
    assert_eq!(visit.does(&weighed("6")), [Request::RingAt { at_ms }]);
    assert_eq!(
        visit.job.log.last().unwrap().what,
        What::Charge { ounces: 6.0 }
    );
    assert!(visit.job.proof(visit.now).charge_changed_since);
    assert!(!visit.job.proof(visit.now).holds());
    assert!(matches!(visit.stem(), Stem::Waiting(_)));

    visit.minutes(4);
    visit.reads(10.0, 10.0);
    assert!(!visit.job.proof(visit.now).charge_changed_since);
    // One reading is not the proof that it settled there.
    assert!(!visit.job.proof(visit.now).holds());
    visit.waits_it_out(10.0);
    assert!(visit.job.proof(visit.now).holds());
}

#[test]
fn taking_the_weight_back_takes_back_what_it_did() {
    let mut visit = Visit::ready_to_turn(10.0);
    visit.does(&weighed("6"));
    assert_eq!(visit.does(&Event::TookBack), [Request::Silence]);
    assert!(!visit.job.proof(visit.now).charge_changed_since);
    assert!(visit.job.proof(visit.now).holds());
}

#[test]
fn turn_after_a_weight_does_not_hide_it() {
    let mut visit = Visit::ready_to_turn(20.0);
    visit.does(&weighed("6"));
    visit.minutes(5);
    visit.does(&turned(-1));
    assert!(visit.job.proof(visit.now).charge_changed_since);
}

#[test]
fn second_tap_on_keep_measures_nothing() {
    let mut visit = Visit::ready_to_turn(10.0);
    visit.types(10.0, 10.0);
    visit.does(&Event::Entered {
        field: Field::CondenserAir,
        typed: typed("90"),
    });
    visit.does(&Event::KeptReading);
    // The weather stays typed for the next reading, the gauges do not.
    let left: Vec<Field> = visit.job.draft.typed.keys().copied().collect();
    assert_eq!(left, [Field::CondenserAir]);
    visit.does(&weighed("6"));
    assert_eq!(
        visit.is_refused(&Event::KeptReading),
        Refused::NothingEntered
    );
    assert!(visit.job.proof(visit.now).charge_changed_since);
    visit.types(10.0, 10.0);
    visit.does(&Event::KeptReading);
    assert!(!visit.job.proof(visit.now).charge_changed_since);
}

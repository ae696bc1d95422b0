//! The stem stays shut until the checks hold, or somebody writes why they need not.

use crate::visit::{START, Visit, as_found, checked, noted, overrode, turned};
use diagnosis::{ChargeReason, Metering};
use job::{CheckState, Event, Item, Override, PlateField, Refused, Stem, record};
use quantity::Units;

/// An adjustable valve with everything but the checks.
fn unlooked() -> Visit {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    visit.does(&as_found());
    visit.reads_steady(20.0, 10.0);
    visit
}

fn charge(visit: &Visit) -> ChargeReason {
    let kept = visit.job.readings().next_back().unwrap().1;
    visit.job.assess(kept).unwrap().charge
}

#[test]
fn stem_opens_with_the_last_check_and_not_before() {
    let mut visit = unlooked();
    for (done, &item) in Item::ALL.iter().enumerate() {
        assert_eq!(visit.stem(), Stem::Shut(Item::ALL[done..].to_vec()));
        assert_eq!(visit.is_refused(&turned(-2)), Refused::StemShut);
        assert_eq!(visit.does(&checked(item, CheckState::Done)), []);
    }
    assert!(visit.job.stem_open());
    assert!(matches!(visit.stem(), Stem::Turn(by) if by.get() < 0));
}

#[test]
fn one_open_check_shuts_the_stem_whatever_it_is() {
    for &item in Item::ALL {
        for state in [CheckState::NotDone, CheckState::CannotCheck] {
            let mut visit = Visit::ready_to_turn(20.0);
            visit.does(&checked(item, state));
            assert_eq!(visit.stem(), Stem::Shut(vec![item]));
            assert_eq!(visit.is_refused(&turned(-2)), Refused::StemShut);
        }
    }
}

#[test]
fn device_is_asked_only_for_what_it_has() {
    use Item::{
        Airflow, Filter, Ice, IndoorCoil, Mode, OutdoorCoil, OutdoorWarm, Panels, RunTime, Safe,
    };
    let every = [
        Safe,
        Mode,
        RunTime,
        Panels,
        OutdoorWarm,
        Filter,
        Ice,
        Airflow,
        IndoorCoil,
        OutdoorCoil,
    ];
    let with = |more: &[Item]| [&every[..], more].concat();
    for (metering, expected) in [
        (Metering::AdjustableTxv, Item::ALL.to_vec()),
        (
            Metering::FixedTxv,
            with(&[
                Item::BulbPlace,
                Item::BulbContact,
                Item::BulbInsulated,
                Item::Equalizer,
                Item::SolidLiquid,
            ]),
        ),
        (Metering::Electronic, with(&[Item::SolidLiquid])),
        (Metering::FixedOrifice, with(&[])),
    ] {
        let visit = Visit::named(metering);
        assert_eq!(visit.job.open_checks().collect::<Vec<_>>(), expected);
    }
}

#[test]
fn override_needs_words() {
    let mut visit = unlooked();
    for blank in ["", "  ", "\n", "\u{a0}"] {
        assert_eq!(visit.is_refused(&overrode(blank)), Refused::ReasonNeeded);
    }
    assert!(matches!(visit.stem(), Stem::Shut(_)));
    assert_eq!(visit.does(&overrode("Attic locked; owner agrees")), []);
    assert_eq!(
        visit.job.overrides,
        [Override {
            at_ms: visit.now,
            reason: "Attic locked; owner agrees".to_owned(),
            covers: visit.job.open_checks().collect(),
        }]
    );
    assert!(matches!(visit.stem(), Stem::Turn(_)));
    visit.does(&turned(-2));
}

#[test]
fn override_covers_only_what_was_open_when_it_was_written() {
    let mut visit = unlooked();
    let seen = Item::Filter;
    visit.does(&checked(seen, CheckState::Done));
    visit.does(&overrode("Attic locked; owner agrees"));
    assert!(visit.job.stem_open());
    // Found dirty after all: the stem shuts again until that is written for as well.
    visit.does(&checked(seen, CheckState::NotDone));
    assert!(!visit.job.stem_open());
    visit.does(&overrode("No spare filter on the island"));
    assert!(visit.job.stem_open());
    assert_eq!(visit.job.overrides.len(), 2);
}

#[test]
fn override_never_opens_a_job_that_is_turned_away() {
    let mut visit = unlooked();
    visit.does(&checked(Item::Mode, CheckState::NotDone));
    visit.does(&overrode("It heats well enough"));
    assert!(!visit.job.stem_open());
    assert_eq!(visit.is_refused(&turned(-2)), Refused::StemShut);
}

#[test]
fn override_lands_in_the_record_beside_the_open_checks() {
    let mut visit = unlooked();
    visit.does(&checked(Item::Airflow, CheckState::CannotCheck));
    visit.does(&overrode("Attic locked; owner agrees"));
    let at = visit.now;
    let minutes = move |ms: i64| format!("{} min", (ms - START) / 60_000);
    let record = record(&visit.job, Units::default(), at, &minutes);
    let looked = &record.sections[2];
    assert_eq!(looked.heading, "Look first");
    let was = |what: &str| {
        let line = looked.lines.iter().find(|line| line.what == what);
        line.map(|line| line.was.join(" | "))
    };
    assert_eq!(was("Indoor airflow right").as_deref(), Some("Can't check"));
    assert_eq!(was("All panels on").as_deref(), Some("not marked"));
    assert_eq!(
        was("Gate overridden").as_deref(),
        Some("12 min: Attic locked; owner agrees")
    );
}

#[test]
fn override_opens_the_stem_and_not_the_cylinder() {
    let mut visit = unlooked();
    assert_eq!(charge(&visit), ChargeReason::GateOpen);
    visit.does(&overrode("Attic locked; owner agrees"));
    assert!(visit.job.stem_open());
    assert!(!visit.job.setup().unwrap().gate.held);
    assert_eq!(charge(&visit), ChargeReason::GateOpen);
    // Its look-alike: the same readings with the checks done.
    visit.holds_gate();
    assert!(visit.job.setup().unwrap().gate.held);
    assert_ne!(charge(&visit), ChargeReason::GateOpen);
}

#[test]
fn charge_guard_asks_for_machine_and_air_and_the_stem_for_all() {
    let mut visit = Visit::ready_to_turn(20.0);
    visit.does(&checked(Item::Equalizer, CheckState::NotDone));
    assert!(visit.job.setup().unwrap().gate.held);
    visit.does(&checked(Item::BulbContact, CheckState::NotDone));
    let gate = visit.job.setup().unwrap().gate;
    assert!(gate.held && !gate.bulb_seen_right);
    visit.does(&checked(Item::Airflow, CheckState::CannotCheck));
    assert!(!visit.job.setup().unwrap().gate.held);
}

#[test]
fn heating_or_unlocked_inverter_is_turned_away_with_its_reason() {
    for metering in Metering::ALL {
        let mut visit = Visit::named(metering);
        assert_eq!(visit.job.turned_away(), None);
        visit.does(&checked(Item::Mode, CheckState::NotDone));
        let reason = visit.job.turned_away().unwrap();
        assert!(
            reason.contains("heating") && reason.contains("inverter"),
            "{reason}"
        );
        assert!(!visit.job.stem_open());
        // Any other check that fails is mended, not turned away.
        visit.does(&checked(Item::Mode, CheckState::Done));
        visit.does(&checked(Item::Ice, CheckState::NotDone));
        assert_eq!(visit.job.turned_away(), None);
    }
}

#[test]
fn note_of_a_check_is_kept_and_replaced() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    for (state, note) in [
        (CheckState::NotDone, "Loose strap"),
        (CheckState::Done, "Strapped again"),
    ] {
        visit.does(&Event::Checked {
            item: Item::BulbContact,
            state,
            note: note.to_owned(),
        });
        let check = &visit.job.checks[&Item::BulbContact];
        assert_eq!((check.state, check.note.as_str()), (state, note));
    }
}

#[test]
fn caution_travels_with_the_check_that_can_hurt() {
    for item in [Item::Safe, Item::Filter, Item::OutdoorCoil, Item::Stem] {
        assert!(item.row().caution.is_some(), "{item:?}");
    }
}

#[test]
fn checks_wait_for_no_device_to_be_named() {
    let mut visit = Visit::begun();
    assert_eq!(visit.stem(), Stem::None(None));
    assert_eq!(visit.job.open_checks().count(), Item::ALL.len());
    visit.does(&noted(PlateField::Tons, "4"));
    assert_eq!(visit.job.setup(), None);
}

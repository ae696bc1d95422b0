//! Devices without a stem: a fixed orifice is charged by superheat, other valves by subcooling.

use crate::visit::{Visit, entered, noted};
use diagnosis::{Field, Metering, Pedigree};
use job::{Event, PlateField, Proved, Stem};

/// A fixed orifice whose target comes from the weather.
fn orifice(return_wet_bulb: &str, condenser_air: &str, superheat_f: f64) -> Visit {
    let mut visit = Visit::looked(Metering::FixedOrifice);
    for field in [
        PlateField::SuperheatLow,
        PlateField::SuperheatHigh,
        PlateField::SubcoolingLow,
        PlateField::SubcoolingHigh,
    ] {
        visit.does(&noted(field, ""));
    }
    for _ in 0..3 {
        visit.minutes(4);
        visit.types(superheat_f, 9.0);
        visit.does(&entered(Field::ReturnWetBulb, return_wet_bulb));
        visit.does(&entered(Field::CondenserAir, condenser_air));
        visit.does(&Event::KeptReading);
    }
    visit
}

/// (3 x 64 - 80 - 85) / 2 = 13.5 °F; a maker's chart gives 11 °F at the same weather. Tolerance
/// ±5 °F: California RA3.2.2.6.1 step 5.
#[test]
fn target_of_a_fixed_orifice_comes_from_the_weather() {
    let visit = orifice("64", "85", 12.0);
    assert_eq!(visit.stem(), Stem::None(Some(Metering::FixedOrifice)));
    let kept = visit.job.readings().next_back().unwrap().1;
    let derived = visit.job.assess(kept).unwrap().derived;
    assert!(derived.superheat_target_known);
    let target = derived.superheat_target;
    assert!((target.low.f() - 8.5).abs() < 1e-9 && (target.high.f() - 18.5).abs() < 1e-9);
    assert!(target.low.f() < 11.0 && 11.0 < target.high.f());
    assert_eq!(target.pedigree, Pedigree::RuleOfThumb);
    // A formula of common practice is a look, not a pass.
    assert_eq!(
        visit.job.proof(visit.now).superheat,
        Proved::RuleOfThumbOnly
    );
}

/// (3 x 57 - 80 - 105) / 2 is under 5 °F: no test by superheat, California RA3.2.2.6.1 step 3.
#[test]
fn weather_without_a_target_proves_nothing() {
    let visit = orifice("57", "105", 10.0);
    let kept = visit.job.readings().next_back().unwrap().1;
    let said = visit.job.assess(kept).unwrap();
    assert!(!said.derived.superheat_target_known);
    assert_eq!(visit.job.proof(visit.now).superheat, Proved::Outside);
}

#[test]
fn chart_value_of_the_maker_overrides_the_weather() {
    let mut visit = orifice("64", "85", 12.0);
    visit.does(&noted(PlateField::SuperheatLow, "10"));
    visit.does(&noted(PlateField::SuperheatHigh, "15"));
    assert_eq!(visit.job.proof(visit.now).superheat, Proved::Proved);
}

#[test]
fn subcooling_of_a_fixed_orifice_is_looked_at() {
    let proof = |visit: &Visit| visit.job.proof(visit.now).subcooling;
    let mut visit = orifice("64", "85", 12.0);
    assert!(proof(&visit).holds());
    visit.minutes(4);
    visit.reads(12.0, 25.0);
    assert_eq!(proof(&visit), Proved::Outside);
}

#[test]
fn valve_without_a_stem_is_proved_by_steady_readings() {
    for metering in [Metering::FixedTxv, Metering::Electronic] {
        let mut visit = Visit::looked(metering);
        assert_eq!(visit.stem(), Stem::None(Some(metering)));
        visit.reads(10.0, 10.0);
        assert_eq!(visit.job.proof(visit.now).superheat, Proved::NotSettled);
        visit.reads_steady(10.0, 10.0);
        assert!(visit.job.proof(visit.now).holds());
    }
}

#[test]
fn naming_the_device_anew_opens_and_shuts_the_stem() {
    let mut visit = Visit::ready_to_turn(20.0);
    assert!(matches!(visit.stem(), Stem::Turn(_)));
    visit.does(&Event::ChoseMetering {
        metering: Metering::FixedTxv,
    });
    assert_eq!(visit.stem(), Stem::None(Some(Metering::FixedTxv)));
    visit.does(&Event::ChoseMetering {
        metering: Metering::AdjustableTxv,
    });
    assert!(matches!(visit.stem(), Stem::Turn(_)));
}

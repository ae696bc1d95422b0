//! What is proved, what only looks right, and what is not known.

use crate::visit::{Visit, as_found, entered, noted, turned};
use diagnosis::{Field, MeasuringPoint, Metering, Pedigree};
use job::{Event, PlateField, PlateState, Proved};

#[track_caller]
fn check(visit: &Visit, superheat: Proved, subcooling: Proved) {
    let proof = visit.job.proof(visit.now);
    assert_eq!((proof.superheat, proof.subcooling), (superheat, subcooling));
    assert_eq!(
        proof.holds(),
        superheat.holds() && subcooling.holds() && !proof.charge_changed_since
    );
}

fn steady(superheat_f: f64, subcooling_f: f64) -> Visit {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.does(&as_found());
    visit.reads_steady(superheat_f, subcooling_f);
    visit
}

#[test]
fn both_in_band_beyond_the_tools_error_is_proved() {
    let visit = steady(10.0, 10.0);
    check(&visit, Proved::Proved, Proved::Proved);
    assert!(visit.job.proof(visit.now).holds());
}

#[test]
fn loose_tools_leave_it_as_read() {
    let mut visit = steady(9.0, 10.0);
    for field in [
        PlateField::LowLimit,
        PlateField::HighLimit,
        PlateField::Thermometer,
    ] {
        visit.does(&noted(field, ""));
    }
    // By the protocol's own limits superheat is ±2 °F about, and 7 °F is outside 8 to 12 °F.
    check(&visit, Proved::InBandAsRead, Proved::Proved);
    visit.does(&noted(PlateField::SubcoolingLow, "9"));
    visit.does(&noted(PlateField::SubcoolingHigh, "11"));
    check(&visit, Proved::InBandAsRead, Proved::InBandAsRead);
    assert!(visit.job.proof(visit.now).holds());
}

#[test]
fn rule_of_thumb_is_never_a_pass() {
    let mut visit = steady(10.0, 10.0);
    for field in [PlateField::SuperheatLow, PlateField::SubcoolingHigh] {
        visit.does(&noted(field, ""));
    }
    check(&visit, Proved::RuleOfThumbOnly, Proved::RuleOfThumbOnly);
    assert!(!visit.job.proof(visit.now).holds());

    // Typed bands that somebody calls a rule of thumb are no better.
    let mut visit = steady(10.0, 10.0);
    let pedigree = Pedigree::RuleOfThumb;
    visit.does(&Event::ChoseSuperheatPedigree { pedigree });
    check(&visit, Proved::RuleOfThumbOnly, Proved::Proved);
    visit.does(&Event::ChoseSubcoolingPedigree { pedigree });
    check(&visit, Proved::RuleOfThumbOnly, Proved::RuleOfThumbOnly);
    for pedigree in [Pedigree::DataPlate, Pedigree::Maker, Pedigree::Protocol] {
        visit.does(&Event::ChoseSuperheatPedigree { pedigree });
        visit.does(&Event::ChoseSubcoolingPedigree { pedigree });
        check(&visit, Proved::Proved, Proved::Proved);
    }
}

#[test]
fn missing_plate_makes_its_target_a_rule_of_thumb() {
    let mut visit = steady(10.0, 10.0);
    let plate = PlateState::Missing;
    visit.does(&Event::SawPlate { plate });
    // Superheat is by the maker's instructions, subcooling by the plate.
    let setup = visit.job.setup().unwrap();
    assert_eq!(setup.superheat_target.unwrap().pedigree, Pedigree::Maker);
    assert_eq!(
        setup.subcooling_target.unwrap().pedigree,
        Pedigree::RuleOfThumb
    );
    check(&visit, Proved::Proved, Proved::RuleOfThumbOnly);
    let pedigree = Pedigree::DataPlate;
    visit.does(&Event::ChoseSuperheatPedigree { pedigree });
    check(&visit, Proved::RuleOfThumbOnly, Proved::RuleOfThumbOnly);
    let plate = PlateState::Read;
    visit.does(&Event::SawPlate { plate });
    check(&visit, Proved::Proved, Proved::Proved);
}

#[test]
fn outside_is_outside() {
    check(&steady(20.0, 10.0), Proved::Outside, Proved::Proved);
    check(&steady(10.0, 3.0), Proved::Proved, Proved::Outside);
    check(&steady(10.0, 25.0), Proved::Proved, Proved::Outside);
    // An alarm is outside, whatever the band says.
    let mut visit = steady(4.0, 10.0);
    visit.does(&noted(PlateField::SuperheatLow, "2"));
    check(&visit, Proved::Outside, Proved::Proved);
}

#[test]
fn compressor_superheat_in_alarm_is_outside_too() {
    let mut visit = steady(10.0, 10.0);
    visit.minutes(4);
    visit.types(10.0, 10.0);
    // Suction is read at 130 psig: dew of R-410A stands above 44 °F there.
    visit.does(&entered(Field::CompressorSuction, "46"));
    visit.does(&Event::KeptReading);
    check(&visit, Proved::Outside, Proved::Proved);
}

#[test]
fn in_band_and_moving_is_not_settled() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.does(&as_found());
    visit.reads(10.0, 10.0);
    check(&visit, Proved::NotSettled, Proved::Proved);

    let mut visit = steady(10.0, 10.0);
    visit.does(&turned(-1));
    check(&visit, Proved::NotSettled, Proved::Proved);
    // Settled by its readings, and the time is not up.
    visit.reads_steady(9.5, 10.0);
    check(&visit, Proved::NotSettled, Proved::Proved);
    visit.minutes(4);
    check(&visit, Proved::Proved, Proved::Proved);
}

#[test]
fn what_was_not_measured_is_not_proved() {
    check(
        &Visit::looked(Metering::AdjustableTxv),
        Proved::NotMeasured,
        Proved::NotMeasured,
    );
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.does(&entered(Field::LiquidPressure, "330"));
    visit.does(&entered(Field::LiquidLine, "92"));
    visit.does(&Event::KeptReading);
    check(&visit, Proved::NotMeasured, Proved::Proved);
    // Not even the refrigerant.
    let mut visit = Visit::begun();
    visit.types(10.0, 10.0);
    visit.does(&Event::KeptReading);
    check(&visit, Proved::NotMeasured, Proved::NotMeasured);
}

#[test]
fn newest_reading_is_the_one_that_counts() {
    let mut visit = steady(10.0, 10.0);
    visit.minutes(4);
    visit.reads(10.0, 2.0);
    check(&visit, Proved::Proved, Proved::Outside);
    visit.does(&Event::TookBack);
    check(&visit, Proved::Proved, Proved::Proved);
}

#[test]
fn what_is_only_typed_proves_nothing() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.types(10.0, 10.0);
    check(&visit, Proved::NotMeasured, Proved::NotMeasured);
}

#[test]
fn other_point_than_the_target_is_pointed_out() {
    let mut visit = steady(10.0, 10.0);
    let point = MeasuringPoint::ServiceValve;
    visit.does(&Event::ChoseTargetPoint { point });
    let kept = visit.job.readings().next_back().unwrap().1;
    let said = visit.job.assess(kept).unwrap();
    assert!(said.doubts.contains(&diagnosis::Doubt::PointsMixed));
    // Naming the point where it is read names it for the target as well.
    visit.does(&Event::ChosePoint { point });
    assert_eq!(visit.job.choices.target_point, point);
}

//! Sets of readings worked in makers' sheets and trade articles, one test each.
//!
//! None prints every number; what is missing stays blank where it can, and where a saturation has
//! to be chosen (superheat and subcooling alone were printed) the choice is named.

use diagnosis::{Cause, Field, Metering, Pedigree, Setup, Target, Verdict, assess};
use refrigerant::Refrigerant;

mod support;
use support::{Circuit, both_lead, leads, never_adds, place};

/// A maker's sheet for a water-source unit. Refrigerant not stated; the pressures look like R-22.
/// Its own normal: subcooling 10 to 12, superheat 8 to 12, discharge 140 to 150 °F.
///
/// Chosen here: 45 °F evaporating, 105 °F condensing when normal. No air over a water condenser, so
/// those fields stay blank.
fn water_source(
    superheat: f64,
    subcooling: f64,
    discharge: f64,
    evaporating: f64,
) -> diagnosis::Assessment {
    let circuit = Circuit {
        evaporating,
        superheat,
        condensing: 105.0,
        subcooling,
        discharge,
        ..Circuit::sound(Refrigerant::R22, Metering::AdjustableTxv)
    };
    let setup = Setup {
        superheat_target: Some(Target::from_f(8.0, 12.0, Pedigree::Maker)),
        subcooling_target: Some(Target::from_f(10.0, 12.0, Pedigree::Maker)),
        ..circuit.setup()
    };
    let full = circuit.reading();
    let mut reading = diagnosis::Reading::default();
    for field in [
        Field::SuctionPressure,
        Field::SuctionLine,
        Field::LiquidPressure,
        Field::LiquidLine,
        Field::DischargeLine,
    ] {
        reading.set(field, full.get(field));
    }
    assess(&setup, &reading)
}

#[test]
fn water_source_unit_normal() {
    let said = water_source(10.0, 11.0, 145.0, 45.0);
    leads(&said, Cause::NoFault, "10, 11, 145 °F");
    // Nothing speaks against it; that 8 to 12 is held, tools of ±2.6 °F cannot prove.
    let superheat = said.derived.superheat.expect("read");
    assert_eq!(
        superheat.against(&said.derived.superheat_target),
        Verdict::CannotTell
    );
}

#[test]
fn water_source_unit_undercharged() {
    // Superheat 25 to 30, subcooling 6 to 8, discharge over 200 °F.
    let said = water_source(27.0, 7.0, 205.0, 33.0);
    leads(&said, Cause::LowCharge, "27, 7, 205 °F");
}

#[test]
fn water_source_unit_plugged_valve() {
    // Superheat 25 to 30, subcooling 15 to 20, discharge over 200 °F. Plugged, or a block before it:
    // these five numbers do not part the two, and the walk is the next test.
    let said = water_source(27.0, 17.0, 205.0, 33.0);
    both_lead(
        &said,
        [Cause::ValveUnderfeeding, Cause::LiquidRestriction],
        "27, 17, 205 °F",
    );
    assert!(
        said.findings[0]
            .next_test()
            .starts_with("Walk the liquid line")
    );
    never_adds(&said, "27, 17, 205 °F");
}

#[test]
fn water_source_unit_overcharged() {
    // Superheat held 8 to 12, subcooling 20 to 25, discharge cool.
    let said = water_source(10.0, 22.0, 130.0, 45.0);
    leads(&said, Cause::Overcharge, "10, 22, 130 °F");
    never_adds(&said, "10, 22, 130 °F");
}

/// A trade checklist, R-134a, liquid line blocked: condenser split 15, subcooling 15, superheat 40,
/// at the compressor 70, amps low. Evaporating 15 °F is chosen here (a low-pressure evaporator).
#[test]
fn r134a_blocked_liquid_line() {
    let circuit = Circuit {
        evaporating: 15.0,
        superheat: 40.0,
        condensing: 110.0,
        subcooling: 15.0,
        amps: 50.0,
        ..Circuit::sound(Refrigerant::R134a, Metering::AdjustableTxv)
    };
    let full = circuit.reading();
    let dew_f = full.get(Field::SuctionLine).expect("read") - 40.0;
    let mut reading = diagnosis::Reading::default();
    for field in [
        Field::SuctionPressure,
        Field::SuctionLine,
        Field::LiquidPressure,
        Field::LiquidLine,
        Field::CondenserAir,
        Field::Amps,
    ] {
        reading.set(field, full.get(field));
    }
    reading.set(Field::CompressorSuction, Some(dew_f + 70.0));
    let said = assess(&circuit.setup(), &reading);
    let compressor = said.derived.compressor_superheat.expect("read").value.f();
    assert!((compressor - 70.0).abs() < 1e-6);
    both_lead(
        &said,
        [Cause::ValveUnderfeeding, Cause::LiquidRestriction],
        "line not walked",
    );
    never_adds(&said, "line not walked");
    // The walk settles it.
    let liquid = reading.get(Field::LiquidLine).expect("read");
    reading.set(Field::LiquidLineEnd, Some(liquid - 12.0));
    let walked = assess(&circuit.setup(), &reading);
    leads(&walked, Cause::LiquidRestriction, "line walked");
    never_adds(&walked, "line walked");
}

/// A trade article, R-22, drier blocked: superheat 44.7, subcooling 14.4. Evaporating 10 and
/// condensing 105 °F are chosen here; the drier is cold, as the article shows, by 8 °F chosen here.
#[test]
fn r22_blocked_drier() {
    let circuit = Circuit {
        evaporating: 10.0,
        superheat: 44.7,
        condensing: 105.0,
        subcooling: 14.4,
        ..Circuit::sound(Refrigerant::R22, Metering::AdjustableTxv)
    };
    let full = circuit.reading();
    let mut reading = diagnosis::Reading::default();
    for field in [
        Field::SuctionPressure,
        Field::SuctionLine,
        Field::LiquidPressure,
        Field::LiquidLine,
    ] {
        reading.set(field, full.get(field));
    }
    let said = assess(&circuit.setup(), &reading);
    assert!(
        place(&said.findings, Cause::LiquidRestriction) < 2,
        "drier not felt yet"
    );
    never_adds(&said, "drier not felt yet");
    let liquid = reading.get(Field::LiquidLine).expect("read");
    reading.set(Field::DrierIn, Some(liquid));
    reading.set(Field::DrierOut, Some(liquid - 8.0));
    let said = assess(&circuit.setup(), &reading);
    leads(&said, Cause::LiquidRestriction, "drier cold");
    never_adds(&said, "drier cold");
}

/// A trade article's R-410A coil short of air: 90 psig against 121 when normal. 90 psig is 26 °F
/// there; split high and superheat low are the article's words, sizes chosen here.
#[test]
fn r410a_coil_short_of_air() {
    let circuit = Circuit::sound(Refrigerant::R410A, Metering::AdjustableTxv).short_of_air();
    let mut reading = circuit.reading();
    reading.set(Field::SuctionPressure, Some(90.0));
    reading.set(Field::SuctionLine, Some(26.0 + 7.0));
    let said = assess(&circuit.setup(), &reading);
    let saturation = said.derived.suction_saturation.expect("read").value.f();
    // "26 °F" is a whole number on a printed chart, and the article rounds: within a degree and a half.
    assert!((saturation - 26.0).abs() < 1.5, "{saturation}");
    leads(&said, Cause::LowAirflow, "90 psig");
    reading.set(Field::SuctionPressure, Some(121.0));
    let normal = assess(&circuit.setup(), &reading)
        .derived
        .suction_saturation;
    assert!((normal.expect("read").value.f() - 41.5).abs() < 1.5);
}

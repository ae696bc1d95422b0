//! Entries that are kept and questioned: the likely mistake is named, nothing is changed.

use diagnosis::{Doubt, Field, MeasuringPoint, Metering, Pedigree, Reading, Setup, Target, assess};
use refrigerant::Refrigerant;

mod support;
use support::Circuit;

fn sound() -> Circuit {
    Circuit::sound(Refrigerant::R410A, Metering::AdjustableTxv)
}

/// Changes one sound reading and gives back the doubts; the entries stay as they were typed.
fn doubts(change: impl Fn(&mut Reading)) -> Vec<Doubt> {
    let mut reading = sound().reading();
    change(&mut reading);
    let kept = reading.clone();
    let said = assess(&sound().setup(), &reading);
    assert_eq!(reading, kept);
    said.doubts
}

fn keys(doubts: &[Doubt]) -> Vec<&'static str> {
    doubts.iter().map(Doubt::key).collect()
}

fn read(reading: &Reading, field: Field) -> f64 {
    reading.get(field).expect("read")
}

#[test]
fn a_sound_reading_is_not_questioned() {
    assert!(doubts(|_| ()).is_empty());
}

#[test]
fn hoses_swapped() {
    let found = doubts(|reading| {
        let (suction, liquid) = (
            read(reading, Field::SuctionPressure),
            read(reading, Field::LiquidPressure),
        );
        reading.set(Field::SuctionPressure, Some(liquid));
        reading.set(Field::LiquidPressure, Some(suction));
    });
    assert!(found.contains(&Doubt::HosesSwapped), "{found:?}");
    assert!(found.iter().any(Doubt::voids_pressures));
}

#[test]
fn compressor_off() {
    let found = doubts(|reading| {
        reading.set(Field::SuctionPressure, Some(200.0));
        reading.set(Field::LiquidPressure, Some(205.0));
    });
    assert!(found.contains(&Doubt::NotRunning), "{found:?}");
    assert!(found.iter().any(Doubt::voids_pressures));
}

/// 51 °F is 10.6 °C; typed as 10.6 it is far under saturation as °F and right as °C.
#[test]
fn celsius_typed_for_fahrenheit() {
    for field in [
        Field::SuctionLine,
        Field::LiquidLine,
        Field::CondenserAir,
        Field::OpenAir,
        Field::ReturnDryBulb,
    ] {
        let celsius = (read(&sound().reading(), field) - 32.0) / 1.8;
        let found = doubts(|reading| reading.set(field, Some(celsius)));
        let typed = Doubt::CelsiusTyped {
            field,
            value: celsius,
        };
        assert!(found.contains(&typed), "{field:?} {celsius}: {found:?}");
        assert_eq!(typed.field(), Some(field));
    }
}

#[test]
fn pipes_on_the_wrong_side_of_saturation() {
    let found = doubts(|reading| {
        let line = read(reading, Field::SuctionLine);
        reading.set(Field::SuctionLine, Some(line - 14.0));
    });
    assert_eq!(keys(&found), ["suction-line-under-saturation"]);
    // Four under, with tools of ±2, is more than they allow; one under is not.
    for (under, doubted) in [(4.0, true), (1.0, false)] {
        let found = doubts(|reading| {
            let line = read(reading, Field::LiquidLine);
            reading.set(Field::LiquidLine, Some(line + 10.0 + under));
        });
        assert_eq!(
            found.contains(&Doubt::LiquidLineOverSaturation),
            doubted,
            "{under}: {found:?}"
        );
    }
}

#[test]
fn air_that_cannot_be() {
    let found = doubts(|reading| reading.set(Field::ReturnWetBulb, Some(81.0)));
    assert_eq!(keys(&found), ["wet-over-dry"]);
    let found = doubts(|reading| reading.set(Field::OpenAir, Some(101.0)));
    assert_eq!(keys(&found), ["entering-under-open"]);
    let found = doubts(|reading| reading.set(Field::CondenserAir, Some(112.0)));
    assert!(found.contains(&Doubt::LiquidLineUnderAir), "{found:?}");
}

#[test]
fn saturations_that_are_not_air_conditioning() {
    let circuit = |evaporating, condensing| Circuit {
        evaporating,
        condensing,
        ..sound()
    };
    let of = |circuit: Circuit| keys(&assess(&circuit.setup(), &circuit.reading()).doubts);
    assert!(of(circuit(-5.0, 115.0)).contains(&"evaporating-unusual"));
    assert!(of(circuit(70.0, 115.0)).contains(&"evaporating-unusual"));
    assert!(!of(circuit(5.0, 115.0)).contains(&"evaporating-unusual"));
    let hot = Circuit::sound(Refrigerant::R134a, Metering::AdjustableTxv);
    let hot = Circuit {
        condensing: 154.0,
        ..hot
    };
    assert!(of(hot).contains(&"condensing-unusual"));
    assert!(of(circuit(45.0, 55.0)).contains(&"condensing-unusual"));
}

#[test]
fn readings_and_target_at_two_points() {
    let circuit = sound();
    let mixed = Setup {
        target_point: MeasuringPoint::ServiceValve,
        ..circuit.setup()
    };
    assert_eq!(
        keys(&assess(&mixed, &circuit.reading()).doubts),
        ["points-mixed"]
    );
    // Without a target of the job's own there is nothing to mix.
    let none = Setup {
        superheat_target: None,
        ..mixed
    };
    assert!(assess(&none, &circuit.reading()).doubts.is_empty());
    let plate = Some(Target::from_f(8.0, 12.0, Pedigree::DataPlate));
    let same = Setup {
        superheat_target: plate,
        target_point: MeasuringPoint::Bulb,
        ..circuit.setup()
    };
    assert!(assess(&same, &circuit.reading()).doubts.is_empty());
}

/// R-22 standing under an R-134a plate: off the chart, and the refrigerant it would fit is named.
#[test]
fn standing_pressure_of_another_refrigerant() {
    let setup = Setup::new(Refrigerant::R134a, Metering::AdjustableTxv);
    let mut reading = Reading::default();
    support::standing(&mut reading, Refrigerant::R22, 85.0, 0.0);
    let said = assess(&setup, &reading);
    let [Doubt::StandingOffChart { fits }] = said.doubts.as_slice() else {
        panic!("{:?}", said.doubts);
    };
    assert!(fits.contains(&Refrigerant::R22) && !fits.contains(&Refrigerant::R134a));
    assert!(said.doubts[0].says().contains("R-22"));
    support::standing(&mut reading, Refrigerant::R134a, 85.0, 3.0);
    assert!(assess(&setup, &reading).doubts.is_empty());
}

#[test]
fn a_swing_the_wrong_way_round() {
    let swing = |low: f64, high: f64| {
        keys(&doubts(|reading| {
            let psig = read(reading, Field::SuctionPressure);
            reading.set(Field::SuctionLow, Some(psig + low));
            reading.set(Field::SuctionHigh, Some(psig + high));
        }))
    };
    assert_eq!(swing(5.0, -5.0), ["swing-reversed"]);
    assert!(swing(-5.0, 5.0).is_empty());
}

/// Each field, just outside its usual range and inside its hard one: questioned by name.
#[test]
fn every_field_is_questioned_outside_its_usual_range() {
    for &field in Field::ALL {
        let row = field.row();
        for (odd, hard) in [(row.usual.0 - 0.5, row.hard), (row.usual.1 + 0.5, row.hard)] {
            if !(hard.0..=hard.1).contains(&odd) {
                continue;
            }
            // R-134a: its table holds the widest span of the gauges' usual pressures.
            let setup = Setup::new(Refrigerant::R134a, Metering::AdjustableTxv);
            let said = assess(&setup, &Reading::of(&[(field, odd)]));
            let asked = said.doubts.iter().any(|doubt| {
                matches!(doubt, Doubt::Unusual { field: of, value, usual }
                    if *of == field && *value == odd && *usual == row.usual)
            });
            assert!(
                asked || !said.refusals.is_empty() && said.refusals[0].by_table,
                "{field:?} {odd}: {:?}",
                said.doubts
            );
        }
    }
}

#[test]
fn every_doubt_says_what_to_check() {
    let all = [
        Doubt::HosesSwapped,
        Doubt::NotRunning,
        Doubt::SuctionLineUnderSaturation,
        Doubt::LiquidLineOverSaturation,
        Doubt::LiquidLineUnderAir,
        Doubt::WetOverDry,
        Doubt::EnteringUnderOpen,
        Doubt::EvaporatingUnusual,
        Doubt::CondensingUnusual,
        Doubt::PointsMixed,
        Doubt::StandingOffChart { fits: Vec::new() },
        Doubt::SwingReversed,
    ];
    for doubt in all {
        assert!(
            doubt.says().len() > 20 && doubt.says().ends_with(['.', '?']),
            "{}",
            doubt.says()
        );
    }
}

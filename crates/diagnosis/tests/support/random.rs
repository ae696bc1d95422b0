//! Random jobs and readings: circuits near and far from sound, with blanks, and plain nonsense.

use super::{Circuit, standing, tools};
use diagnosis::{
    BulbTest, Field, Gate, Instruments, MeasuringPoint, Metering, Pedigree, Reading, Setup, Target,
};
use proptest::prelude::*;
use refrigerant::Refrigerant;

pub fn any_refrigerant() -> impl Strategy<Value = Refrigerant> {
    prop::sample::select(&Refrigerant::ALL[..])
}

pub fn any_metering() -> impl Strategy<Value = Metering> {
    prop::sample::select(&Metering::ALL[..])
}

pub fn any_tools() -> impl Strategy<Value = Instruments> {
    prop_oneof![
        Just(Instruments::default()),
        (0.0..6.0f64, 0.0..12.0f64, 0.0..3.0f64).prop_map(|(low, high, f)| tools(low, high, f)),
    ]
}

fn any_target(low: f64, high: f64) -> impl Strategy<Value = Option<Target>> {
    prop::option::weighted(
        0.8,
        (
            low..high,
            1.0..8.0f64,
            prop::sample::select(&Pedigree::ALL[..]),
        )
            .prop_map(|(low, width, pedigree)| Target::from_f(low, low + width, pedigree)),
    )
}

pub fn any_setup() -> impl Strategy<Value = Setup> {
    (
        any_refrigerant(),
        any_metering(),
        any_tools(),
        any_target(5.0, 15.0),
        any_target(3.0, 15.0),
        prop::sample::select(vec![Gate::HELD, Gate::HELD, Gate::OPEN]),
        prop::sample::select(&MeasuringPoint::ALL[..]),
    )
        .prop_map(
            |(
                refrigerant,
                metering,
                instruments,
                superheat_target,
                subcooling_target,
                gate,
                point,
            )| Setup {
                instruments,
                superheat_target,
                subcooling_target,
                gate,
                point,
                target_point: point,
                ..Setup::new(refrigerant, metering)
            },
        )
}

/// A circuit that may have anything wrong with it.
fn any_circuit(refrigerant: Refrigerant, metering: Metering) -> impl Strategy<Value = Circuit> {
    let machine = (18.0..62.0f64, -2.0..45.0f64, 92.0..138.0f64, -4.0..35.0f64);
    let air = (70.0..105.0f64, -6.0..20.0f64, 4.0..38.0f64);
    let indoors = (62.0..95.0f64, 2.0..20.0f64, 4.0..32.0f64);
    let rest = (-20.0..40.0f64, 30.0..130.0f64, -1.0..14.0f64);
    (machine, air, indoors, rest).prop_map(move |(machine, air, indoors, rest)| {
        let sound = Circuit::sound(refrigerant, metering);
        Circuit {
            evaporating: machine.0,
            superheat: machine.1,
            condensing: machine.2,
            subcooling: machine.3,
            open_air: air.0,
            entering_air: air.0 + air.1,
            condenser_air_rise: air.2,
            return_dry_bulb: indoors.0,
            return_wet_bulb: indoors.0 - indoors.1,
            air_split: indoors.2,
            discharge: sound.discharge_at(machine.2, rest.0),
            amps: rest.1,
            line_drop: rest.2,
            ..sound
        }
    })
}

/// A job and a reading of its circuit, some fields blank, some extra ones read.
pub fn any_job() -> impl Strategy<Value = (Setup, Reading)> {
    any_setup().prop_flat_map(|setup| {
        (
            any_circuit(setup.refrigerant, setup.metering),
            prop::collection::vec(prop::bool::weighted(0.8), Field::COUNT),
            prop::option::of((60.0..110.0f64, prop_oneof![Just(0.0), -40.0..60.0f64])),
            prop::option::weighted(0.2, 0.0..12.0f64),
            prop::option::weighted(
                0.3,
                prop::sample::select(vec![BulbTest::Rises, BulbTest::Nothing]),
            ),
        )
            .prop_map(move |(circuit, kept, stands, swing, bulb)| {
                let mut reading = circuit.reading();
                for (&field, kept) in Field::ALL.iter().zip(kept) {
                    if !kept {
                        reading.set(field, None);
                    }
                }
                if let Some((air, over)) = stands {
                    standing(&mut reading, setup.refrigerant, air, over);
                }
                if let (Some(swing), Some(psig)) = (swing, reading.get(Field::SuctionPressure)) {
                    reading.set(Field::SuctionLow, Some(psig - swing));
                    reading.set(Field::SuctionHigh, Some(psig + swing));
                }
                reading.bulb_test = bulb;
                (setup, reading)
            })
    })
}

/// Numbers without sense: any field, anything at all.
pub fn any_nonsense() -> impl Strategy<Value = Reading> {
    let anything = prop_oneof![
        4 => -100.0..800.0f64,
        1 => prop::num::f64::ANY,
        1 => Just(0.0),
    ];
    prop::collection::vec(prop::option::of(anything), Field::COUNT).prop_map(|values| {
        let mut reading = Reading::default();
        for (&field, value) in Field::ALL.iter().zip(values) {
            reading.set(field, value);
        }
        reading
    })
}

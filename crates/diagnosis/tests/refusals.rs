//! Bad input for every field: it is refused by name, with its range, and nothing else is lost.

use diagnosis::{Field, Kind, MeasuringPoint, Metering, Reading, Refusal, Setup, assess};
use quantity::PressureDifference;
use refrigerant::Refrigerant;

mod support;
use support::Circuit;

/// A full reading of a sound circuit: every field holds something.
fn full(circuit: &Circuit) -> Reading {
    let mut reading = circuit.reading();
    let suction = reading.get(Field::SuctionPressure).expect("read");
    for (field, value) in [
        (Field::DrierIn, 104.0),
        (Field::DrierOut, 104.0),
        (Field::CompressorSuction, 60.0),
        (Field::CoilPressure, suction + 1.0),
        (Field::SuctionLow, suction - 1.0),
        (Field::SuctionHigh, suction + 1.0),
    ] {
        reading.set(field, Some(value));
    }
    support::standing(&mut reading, circuit.refrigerant, 80.0, 0.0);
    for &field in Field::ALL {
        assert!(reading.get(field).is_some(), "{field:?} is blank");
    }
    reading
}

/// One bad value in one field of a full reading: exactly that entry is refused, and the findings
/// and every number are those of the reading with that entry left blank.
fn refused(circuit: &Circuit, field: Field, value: f64) -> Refusal {
    let (setup, mut reading) = (circuit.setup(), full(circuit));
    reading.set(field, Some(value));
    let said = assess(&setup, &reading);
    assert_eq!(
        said.refusals.len(),
        1,
        "{field:?} {value}: {:?}",
        said.refusals
    );
    assert_eq!(said.refusals[0].field, field);
    assert_eq!(
        said.refusals[0].value.to_bits(),
        value.to_bits(),
        "kept as entered"
    );
    assert_eq!(reading.get(field).map(f64::to_bits), Some(value.to_bits()));
    reading.set(field, None);
    let without = assess(&setup, &reading);
    assert!(without.refusals.is_empty());
    assert_eq!(said.derived, without.derived, "{field:?} {value}");
    assert_eq!(said.findings, without.findings, "{field:?} {value}");
    assert_eq!(said.charge, without.charge, "{field:?} {value}");
    said.refusals[0]
}

#[test]
fn a_full_reading_of_a_sound_circuit_is_refused_and_doubted_nowhere() {
    for refrigerant in Refrigerant::ALL {
        let circuit = Circuit::sound(refrigerant, Metering::AdjustableTxv);
        let said = assess(&circuit.setup(), &full(&circuit));
        assert!(
            said.refusals.is_empty(),
            "{}: {:?}",
            refrigerant.name(),
            said.refusals
        );
        assert!(
            said.doubts.is_empty(),
            "{}: {:?}",
            refrigerant.name(),
            said.doubts
        );
    }
}

#[test]
fn every_field_refuses_what_no_instrument_shows() {
    let circuit = Circuit::sound(Refrigerant::R410A, Metering::AdjustableTxv);
    for &field in Field::ALL {
        let (low, high) = field.row().hard;
        for bad in [
            low - 0.1,
            high + 0.1,
            -1e9,
            1e9,
            f64::INFINITY,
            f64::NEG_INFINITY,
            f64::NAN,
        ] {
            let refusal = refused(&circuit, field, bad);
            assert_eq!((refusal.low, refusal.high), (low, high), "{field:?}");
            assert!(!refusal.by_table, "{field:?}");
        }
    }
}

#[test]
fn every_field_takes_its_own_limits() {
    let circuit = Circuit::sound(Refrigerant::R410A, Metering::AdjustableTxv);
    for &field in Field::ALL {
        if !matches!(field.row().kind, Kind::Temperature | Kind::Percent) {
            continue;
        }
        for edge in [field.row().hard.0, field.row().hard.1] {
            let mut reading = full(&circuit);
            reading.set(field, Some(edge));
            let said = assess(&circuit.setup(), &reading);
            assert!(
                said.refusals.is_empty(),
                "{field:?} {edge}: {:?}",
                said.refusals
            );
        }
    }
}

/// Within the instrument's scale and outside the refrigerant's table: refused with the table's
/// limits, as the gauge shows them. Just inside is taken.
#[test]
fn every_pressure_field_refuses_what_is_off_the_table() {
    for refrigerant in Refrigerant::ALL {
        let circuit = Circuit::sound(refrigerant, Metering::AdjustableTxv);
        for &field in Field::ALL {
            let line = match field.row().kind {
                Kind::LowPressure => refrigerant.dew(),
                Kind::HighPressure => refrigerant.bubble(),
                _ => continue,
            };
            let limits = line.limits();
            let (low, high) = (
                support::psig(limits.lowest_pressure),
                support::psig(limits.highest_pressure),
            );
            for (bad, good) in [(low - 0.01, low + 0.01), (high + 0.01, high - 0.01)] {
                let (hard_low, hard_high) = field.row().hard;
                if !(hard_low..=hard_high).contains(&bad) {
                    continue;
                }
                let refusal = refused(&circuit, field, bad);
                assert!(refusal.by_table, "{} {field:?}", refrigerant.name());
                assert!((refusal.low - low).abs() < 1e-6 && (refusal.high - high).abs() < 1e-6);
                let said = assess(&circuit.setup(), &Reading::of(&[(field, good)]));
                assert!(
                    said.refusals.is_empty(),
                    "{} {field:?} {good}",
                    refrigerant.name()
                );
            }
        }
    }
}

/// The line loss is added after the door: what it would push off the table is refused at the door.
#[test]
fn line_loss_counts_at_the_door() {
    let refrigerant = Refrigerant::R134a;
    let highest = support::psig(refrigerant.dew().limits().highest_pressure);
    let setup = Setup {
        line_loss: PressureDifference::from_psi(5.0),
        ..Setup::new(refrigerant, Metering::AdjustableTxv)
    };
    let read = Reading::of(&[(Field::SuctionPressure, highest - 2.0)]);
    let said = assess(&setup, &read);
    assert_eq!(said.refusals.len(), 1);
    assert!(said.refusals[0].by_table);
    let nearer = Reading::of(&[(Field::SuctionPressure, highest - 5.1)]);
    let said = assess(&setup, &nearer);
    assert!(said.refusals.is_empty() && said.derived.suction_saturation.is_some());
    assert_eq!(setup.point, MeasuringPoint::Bulb);
}

#[test]
fn nothing_read_is_an_answer_too() {
    let said = assess(
        &Setup::new(Refrigerant::R22, Metering::AdjustableTxv),
        &Reading::default(),
    );
    assert!(said.refusals.is_empty() && said.doubts.is_empty() && said.alarm.is_none());
    let sum: f64 = said.findings.iter().map(|finding| finding.weight).sum();
    assert!((sum - 1.0).abs() < 1e-12);
}

#[test]
fn every_field_bad_at_once_is_every_field_refused() {
    let mut reading = Reading::default();
    for &field in Field::ALL {
        reading.set(field, Some(f64::NAN));
    }
    let said = assess(
        &Setup::new(Refrigerant::R22, Metering::AdjustableTxv),
        &reading,
    );
    let refused: Vec<Field> = said.refusals.iter().map(|refusal| refusal.field).collect();
    assert_eq!(refused, Field::ALL);
    let sum: f64 = said.findings.iter().map(|finding| finding.weight).sum();
    assert!((sum - 1.0).abs() < 1e-12);
}

/// The rows themselves: keys apart and ending in their unit, usual inside hard, words present.
#[test]
fn every_row_is_whole() {
    for &field in Field::ALL {
        let row = field.row();
        assert_eq!(Field::from_key(row.key), Some(field));
        let unit = match row.kind {
            Kind::LowPressure | Kind::HighPressure => "_psig",
            Kind::Temperature => "_f",
            Kind::Percent => "_percent",
        };
        assert!(row.key.ends_with(unit), "{}", row.key);
        assert!(
            row.hard.0 <= row.usual.0 && row.usual.0 < row.usual.1 && row.usual.1 <= row.hard.1,
            "{}",
            row.key
        );
        assert!(!row.label.is_empty() && !row.hint.is_empty() && !row.remedy.is_empty());
    }
}

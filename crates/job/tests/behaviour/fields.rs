//! Every number that can be typed: inside its range, outside, blank, and no number at all.

use crate::visit::{ALL_UNITS, Visit, entered, noted, typed};
use diagnosis::{BulbTest, Field, Metering};
use job::{EntryFault, Event, Measure, NumberFault, PlateField, Request, Typed, read_number};
use quantity::{PressureUnit, TemperatureUnit, Units};

/// The two limits that a message names, read back from its words.
fn limits_in(message: &str, measure: Measure, units: Units) -> (f64, f64) {
    let (low, rest) = message
        .strip_prefix("Outside ")
        .and_then(|rest| rest.split_once(" to "))
        .unwrap();
    let high = rest
        .strip_suffix(". Check the number and its unit.")
        .and_then(|rest| rest.strip_suffix(measure.sign(units)))
        .unwrap_or_else(|| panic!("{message:?} has no {}", measure.sign(units)));
    (
        measure.read(read_number(low).unwrap(), units),
        measure.read(read_number(high.trim()).unwrap(), units),
    )
}

/// What rounding for the eye may take off a limit, in the key unit: half of the last digit shown,
/// a tenth, in the coarsest unit (metres for an altitude, a hundredth of a bar for a pressure).
fn rounding(measure: Measure) -> f64 {
    match measure {
        Measure::Altitude => 1.65,
        Measure::Minutes => 0.5,
        Measure::Gauge | Measure::PressureDifference | Measure::Barometer => 0.08,
        _ => 0.1,
    }
}

#[track_caller]
fn names_its_limits(fault: EntryFault, measure: Measure, range: (f64, f64)) {
    assert!(matches!(fault, EntryFault::OutOfRange { low, high, .. } if (low, high) == range));
    for units in ALL_UNITS {
        let (low, high) = limits_in(&fault.says(measure, units), measure, units);
        let near = rounding(measure);
        assert!((low - range.0).abs() <= near, "{low} is not {}", range.0);
        assert!((high - range.1).abs() <= near, "{high} is not {}", range.1);
    }
}

fn remembers(field: PlateField, text: &str) -> Vec<Request> {
    if field.row().remembered {
        vec![Request::Remember {
            field,
            typed: typed(text),
        }]
    } else {
        Vec::new()
    }
}

#[test]
fn every_plate_number_is_taken_inside_its_range() {
    for &field in PlateField::ALL {
        let (low, high) = field.row().range;
        for number in [low, (low + high) / 2.0, high] {
            let mut visit = Visit::begun();
            let text = number.to_string();
            let asked = visit.does(&noted(field, &text));
            assert_eq!(asked, remembers(field, &text));
            assert_eq!(visit.job.plate[&field].text, text);
            assert_eq!(visit.job.number(field), Some(number));
            assert_eq!(visit.job.fault(field), None);
        }
    }
}

#[test]
fn every_plate_number_outside_its_range_is_kept_named_and_not_used() {
    for &field in PlateField::ALL {
        let row = field.row();
        for number in [row.range.0 - 1.0, row.range.1 + 1.0] {
            let mut visit = Visit::begun();
            let text = number.to_string();
            visit.does(&noted(field, &text));
            assert_eq!(visit.job.plate[&field].text, text);
            assert_eq!(visit.job.number(field), None, "{}", row.key);
            names_its_limits(visit.job.fault(field).unwrap(), row.measure, row.range);
        }
    }
}

#[test]
fn every_plate_number_is_cleared_by_a_blank() {
    for &field in PlateField::ALL {
        let mut visit = Visit::begun();
        let (low, _) = field.row().range;
        visit.does(&noted(field, &low.to_string()));
        let asked = visit.does(&noted(field, "  "));
        assert_eq!(asked, remembers(field, "  "));
        assert!(!visit.job.plate.contains_key(&field));
        assert_eq!(visit.job.number(field), field.row().usual);
        assert_eq!(visit.job.fault(field), None);
    }
}

#[test]
fn every_plate_number_that_is_none_is_kept_and_named() {
    for &field in PlateField::ALL {
        let text = "about 9";
        let mut visit = Visit::begun();
        visit.does(&noted(field, text));
        assert_eq!(visit.job.plate[&field].text, text);
        assert_eq!(visit.job.number(field), None);
        let fault = EntryFault::Number(NumberFault::NotANumber);
        assert_eq!(visit.job.fault(field), Some(fault));
    }
}

/// "1,234" is one and a bit or one thousand and more: asked back unless the range knows.
#[test]
fn comma_before_three_digits_is_read_where_only_one_reading_is_possible() {
    let ambiguous = Err(EntryFault::Number(NumberFault::Ambiguous));
    for (field, text, read) in [
        (PlateField::Altitude, "1,500", ambiguous),
        (PlateField::SuperheatHigh, "8,125", Ok(8.125)),
        (PlateField::HighFullScale, "1,500", Ok(1500.0)),
    ] {
        let mut visit = Visit::begun();
        visit.does(&noted(field, text));
        assert_eq!(visit.job.number(field), read.ok(), "{text}");
        assert_eq!(visit.job.fault(field), read.err(), "{text}");
    }
}

#[test]
fn usual_values_are_those_of_the_trade() {
    for (field, usual) in [
        // Charging charts stop at 5 °F: California RA3.2.2.6.1 step 3.
        (PlateField::MinimumSuperheat, 5.0),
        // Two unit makers' allowance to a service port, about 2 psi.
        (PlateField::LineLoss, 2.0),
        // Sources say 2 to 30 minutes; 15 is the protocol's run time.
        (PlateField::Wait, 15.0),
        (PlateField::Altitude, 0.0),
        // California RA3.2.2.2 (2013): suction ±3.5 psi, liquid ±7.0 psi.
        (PlateField::LowLimit, 3.5),
        (PlateField::HighLimit, 7.0),
    ] {
        assert_eq!(Visit::begun().job.number(field), Some(usual), "{field:?}");
    }
}

#[test]
fn band_that_stands_on_its_head_is_named_and_not_used() {
    for (low, high) in [
        (PlateField::SuperheatLow, PlateField::SuperheatHigh),
        (PlateField::SubcoolingLow, PlateField::SubcoolingHigh),
    ] {
        let mut visit = Visit::named(Metering::AdjustableTxv);
        visit.does(&noted(low, "12"));
        visit.does(&noted(high, "8"));
        let fault = visit.job.fault(high).unwrap();
        assert_eq!(
            fault.says(high.row().measure, Units::default()),
            format!(
                "Outside 12.0 to {:.1} °F. Check the number and its unit.",
                high.row().range.1
            )
        );
        assert_eq!(visit.job.fault(low), None);
        let setup = visit.job.setup().unwrap();
        let target = if low == PlateField::SuperheatLow {
            setup.superheat_target
        } else {
            setup.subcooling_target
        };
        assert_eq!(target, None);
        // Its look-alike: a band of one number is a band.
        visit.does(&noted(high, "12"));
        assert_eq!(visit.job.fault(high), None);
    }
}

#[test]
fn every_reading_is_taken_inside_its_range() {
    for &field in Field::ALL {
        let (low, high) = field.row().hard;
        for number in [low, (low + high) / 2.0, high] {
            let mut visit = Visit::begun();
            assert_eq!(visit.does(&entered(field, &number.to_string())), []);
            assert_eq!(visit.job.draft.fault(field), None);
            assert_eq!(visit.job.draft.reading().get(field), Some(number));
        }
    }
}

#[test]
fn every_reading_outside_its_range_is_kept_named_and_refused_by_name() {
    for &field in Field::ALL {
        let row = field.row();
        let measure = Measure::from(row.kind);
        for number in [row.hard.0 - 1.0, row.hard.1 + 1.0] {
            let mut visit = Visit::named(Metering::AdjustableTxv);
            visit.does(&entered(field, &number.to_string()));
            names_its_limits(visit.job.draft.fault(field).unwrap(), measure, row.hard);
            let said = visit.job.assess(&visit.job.draft).unwrap();
            let refused: Vec<Field> = said.refusals.iter().map(|refusal| refusal.field).collect();
            assert_eq!(refused, [field]);
            // It is kept in the log as it was typed.
            visit.does(&Event::KeptReading);
            let (_, kept) = visit.job.readings().next().unwrap();
            assert_eq!(kept.typed[&field].text, number.to_string());
        }
    }
}

#[test]
fn every_reading_is_cleared_by_a_blank_and_keeps_what_is_no_number() {
    for &field in Field::ALL {
        let mut visit = Visit::begun();
        visit.does(&entered(field, "12a"));
        assert_eq!(
            visit.job.draft.fault(field),
            Some(EntryFault::Number(NumberFault::NotANumber))
        );
        assert_eq!(visit.job.draft.reading().get(field), None);
        assert_eq!(visit.job.draft.typed[&field].text, "12a");
        visit.does(&entered(field, "\u{a0}"));
        assert!(visit.job.draft.is_empty());
        assert_eq!(visit.job.draft.fault(field), None);
        assert_eq!(
            visit.is_refused(&Event::KeptReading),
            job::Refused::NothingEntered
        );
    }
}

#[test]
fn message_is_in_the_units_shown() {
    let metric = Units {
        temperature: TemperatureUnit::Celsius,
        pressure: PressureUnit::Bar,
    };
    let mut visit = Visit::begun();
    visit.does(&entered(Field::SuctionPressure, "690"));
    let fault = visit.job.draft.fault(Field::SuctionPressure).unwrap();
    assert_eq!(
        fault.says(Measure::Gauge, Units::default()),
        "Outside -14.7 to 450.0 psig. Check the number and its unit."
    );
    assert_eq!(
        fault.says(Measure::Gauge, metric),
        "Outside -1.01 to 31.03 bar (gauge). Check the number and its unit."
    );
    // 60 °F of difference is 33.3 K; as a temperature it would be 15.6 °C.
    visit.does(&Event::Noted {
        field: PlateField::SuperheatHigh,
        typed: Typed::new("40", metric),
    });
    let fault = visit.job.fault(PlateField::SuperheatHigh).unwrap();
    assert_eq!(
        fault.says(Measure::Difference, metric),
        "Outside 0.0 to 33.3 K. Check the number and its unit."
    );
}

#[test]
fn warm_hand_on_the_bulb_is_part_of_the_reading() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    for answer in [Some(BulbTest::Nothing), Some(BulbTest::Rises), None] {
        assert_eq!(visit.does(&Event::WarmedBulb { answer }), []);
        assert_eq!(visit.job.draft.reading().bulb_test, answer);
        assert_eq!(visit.job.draft.is_empty(), answer.is_none());
    }
    // It was seen once: it is not carried to the next reading.
    let answer = Some(BulbTest::Rises);
    visit.does(&Event::WarmedBulb { answer });
    visit.does(&Event::KeptReading);
    assert_eq!(visit.job.readings().next().unwrap().1.bulb_test, answer);
    assert!(visit.job.draft.is_empty());
}

#[test]
fn four_main_values_are_all_needed() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    visit.types(10.0, 10.0);
    assert!(visit.job.draft.has_main_four());
    visit.does(&entered(Field::LiquidLine, "9 or so"));
    assert!(!visit.job.draft.has_main_four());
    visit.does(&entered(Field::LiquidLine, "900"));
    assert!(!visit.job.draft.has_main_four());
    visit.does(&entered(Field::LiquidLine, "90"));
    assert!(visit.job.draft.has_main_four());
    assert_eq!(visit.does(&Event::ClearedReading), []);
    assert!(visit.job.draft.is_empty());
}

//! Entries keep their letters and their units; other units are only a way to see them.

use crate::visit::{ALL_UNITS, START, Visit, units};
use diagnosis::{Field, Metering};
use job::{Event, Measure, PlateField, Typed, csv, record};
use quantity::{PressureUnit, TemperatureUnit, Units};

const KPA_C: Units = units(PressureUnit::Kilopascal, TemperatureUnit::Celsius);
const BAR_C: Units = units(PressureUnit::Bar, TemperatureUnit::Celsius);
const PSI_F: Units = units(PressureUnit::Psi, TemperatureUnit::Fahrenheit);

#[track_caller]
fn check(measure: Measure, text: &str, shown: Units, expected: f64, within: f64) {
    let value = Typed::new(text, shown).value(measure).unwrap();
    assert!(
        (value - expected).abs() <= within,
        "{text} {}: {value}, not {expected}",
        measure.sign(shown)
    );
}

/// Factors: NIST SP 811 (2008), B.8: 1 psi = 6.894 757 kPa, 1 bar = 100 kPa, 1 ft = 0.3048 m
/// exactly, 16 oz = 453.592 37 g
/// exactly; t_F = 1.8 t_C + 32, 1 K = 1.8 °F of difference. Each tolerance is
/// the last digit of the factor.
#[test]
fn every_unit_reaches_the_same_number() {
    check(Measure::Gauge, "120", PSI_F, 120.0, 0.0);
    check(Measure::Gauge, "827.37084", KPA_C, 120.0, 1e-5);
    check(Measure::Gauge, "8.2737084", BAR_C, 120.0, 1e-5);
    check(Measure::Gauge, "0", KPA_C, 0.0, 0.0);
    check(Measure::PressureDifference, "13,789514", KPA_C, 2.0, 1e-6);
    check(Measure::Barometer, "101.325", KPA_C, 14.69595, 1e-5);
    check(Measure::Barometer, "1.01325", BAR_C, 14.69595, 1e-5);
    check(Measure::Temperature, "50", KPA_C, 122.0, 1e-9);
    check(Measure::Temperature, "-40", KPA_C, -40.0, 1e-9);
    check(Measure::Temperature, "0", BAR_C, 32.0, 1e-9);
    check(Measure::Altitude, "304.8", KPA_C, 1000.0, 1e-9);
    check(Measure::Mass, "453.59237", KPA_C, 16.0, 1e-6);
    check(Measure::Percent, "1", KPA_C, 1.0, 0.0);
    check(Measure::Tons, "4", KPA_C, 4.0, 0.0);
    check(Measure::Minutes, "15", KPA_C, 15.0, 0.0);
}

#[test]
fn difference_is_never_converted_as_a_temperature() {
    check(Measure::Difference, "10", KPA_C, 18.0, 1e-9);
    check(Measure::Difference, "0", KPA_C, 0.0, 0.0);
    check(Measure::Difference, "18", PSI_F, 18.0, 0.0);
    assert_eq!(Measure::Difference.says(18.0, KPA_C), "10.0 K");
    assert_eq!(Measure::Difference.says(0.0, KPA_C), "0.0 K");
    assert_eq!(Measure::Temperature.says(32.0, KPA_C), "0.0 °C");

    let mut visit = Visit::named(Metering::AdjustableTxv);
    for (field, text) in [
        (PlateField::SuperheatLow, "5"),
        (PlateField::SuperheatHigh, "8"),
        (PlateField::MinimumSuperheat, "3"),
    ] {
        visit.does(&Event::Noted {
            field,
            typed: Typed::new(text, KPA_C),
        });
    }
    let setup = visit.job.setup().unwrap();
    let target = setup.superheat_target.unwrap();
    assert!((target.low.f() - 9.0).abs() < 1e-9);
    assert!((target.high.f() - 14.4).abs() < 1e-9);
    assert!((setup.minimum_superheat.f() - 5.4).abs() < 1e-9);
}

#[test]
fn reading_typed_in_metric_units_means_the_same() {
    let mut us = Visit::named(Metering::AdjustableTxv);
    let mut metric = Visit::named(Metering::AdjustableTxv);
    for (field, text, metric_text) in [
        (Field::SuctionPressure, "120", "827,370875"),
        (Field::SuctionLine, "50", "10"),
        (Field::LiquidPressure, "350", "2413,165052"),
        (Field::LiquidLine, "95", "35"),
    ] {
        us.does(&Event::Entered {
            field,
            typed: Typed::new(text, PSI_F),
        });
        metric.does(&Event::Entered {
            field,
            typed: Typed::new(metric_text, KPA_C),
        });
    }
    let read = |visit: &Visit| visit.job.assess(&visit.job.draft).unwrap().derived;
    let (us, metric) = (read(&us), read(&metric));
    for (a, b) in [
        (us.superheat, metric.superheat),
        (us.subcooling, metric.subcooling),
    ] {
        assert!((a.unwrap().value.f() - b.unwrap().value.f()).abs() < 1e-6);
    }
}

/// What the page shows in one pair of units: every entry and the whole record.
fn page(visit: &Visit, shown: Units) -> Vec<String> {
    let reading = visit.job.draft.typed.iter();
    let reading = reading.map(|(field, typed)| typed.shown(Measure::from(field.row().kind), shown));
    let plate = visit.job.plate.iter();
    let plate = plate.map(|(field, typed)| typed.shown(field.row().measure, shown));
    let words = record(&visit.job, shown, visit.now, &|at| at.to_string());
    let words = words.sections.into_iter().flat_map(|section| section.lines);
    let words = words.flat_map(|line| line.was);
    reading.chain(plate).chain(words).collect()
}

#[test]
fn switching_units_a_hundred_times_changes_nothing_that_is_kept() {
    let mut visit = Visit::ready_to_turn(16.0);
    visit.types(16.0, 10.0);
    visit.does(&Event::Entered {
        field: Field::SuctionPressure,
        typed: Typed::new("8,27", BAR_C),
    });
    let stored = visit.stored();
    let table = csv(&visit.job, &|at| at.to_string());
    let pages = ALL_UNITS.map(|shown| page(&visit, shown));
    for round in 0..100 {
        // As when the page is drawn from what was stored, in the units of the moment.
        visit.job = visit.reopened();
        let turn = round % ALL_UNITS.len();
        assert_eq!(page(&visit, ALL_UNITS[turn]), pages[turn]);
    }
    assert_eq!(visit.stored(), stored);
    assert_eq!(csv(&visit.job, &|at| at.to_string()), table);
    assert_ne!(pages[0], pages[4]);
}

#[test]
fn own_units_show_the_letters_and_others_the_number() {
    let bar = Typed::new("8,27", BAR_C);
    assert_eq!(bar.shown(Measure::Gauge, BAR_C), "8,27");
    assert_eq!(bar.shown(Measure::Gauge, KPA_C), "827.0");
    assert_eq!(bar.shown(Measure::Gauge, PSI_F), "119.9");
    // The thermometer's unit is no matter to a pressure, nor the gauge's to a temperature.
    let mixed = units(PressureUnit::Bar, TemperatureUnit::Fahrenheit);
    assert_eq!(bar.shown(Measure::Gauge, mixed), "8,27");
    let warm = Typed::new("10.04", KPA_C);
    assert_eq!(warm.shown(Measure::Temperature, BAR_C), "10.04");
    assert_eq!(warm.shown(Measure::Temperature, PSI_F), "50.1");
    // What is no number is shown as it is, everywhere.
    assert_eq!(Typed::new("abc", PSI_F).shown(Measure::Gauge, BAR_C), "abc");
}

#[test]
fn stored_entry_holds_letters_and_units() {
    for (units, key) in ALL_UNITS
        .into_iter()
        .zip(["psi-f", "kpa-f", "bar-f", "psi-c", "kpa-c", "bar-c"])
    {
        let typed = Typed::new(" \u{2212}4,50", units);
        let stored = serde_json::to_string(&typed).unwrap();
        assert_eq!(
            stored,
            format!("{{\"text\":\" \u{2212}4,50\",\"units\":\"{key}\"}}")
        );
        assert_eq!(serde_json::from_str::<Typed>(&stored).unwrap(), typed);
    }
    let strange = serde_json::from_str::<Typed>(r#"{"text":"1","units":"inch-f"}"#);
    assert!(strange.unwrap_err().to_string().contains("inch-f"));
}

#[test]
fn record_shows_what_was_typed_in_any_units() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    visit.types(10.0, 10.0);
    visit.does(&Event::KeptReading);
    let metric = record(&visit.job, KPA_C, START, &|_| "now".to_owned());
    let all: Vec<String> = metric
        .sections
        .iter()
        .flat_map(|section| &section.lines)
        .map(|line| format!("{}: {}", line.what, line.was.join(" | ")))
        .collect();
    let text = all.join("\n");
    assert!(
        text.contains("Suction pressure: 896.3 kPa (gauge)"),
        "{text}"
    );
    // 8 to 12 °F of difference.
    assert!(text.contains("Superheat target: 4.4 to 6.7 K"), "{text}");
    assert!(!text.contains("°F"), "{text}");
}

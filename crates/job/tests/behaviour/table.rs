//! The readings as a table of comma-separated values: every number comes back, no cell runs.

use crate::demo;
use crate::visit::{Visit, entered, turned, units};
use diagnosis::{Field, Metering};
use job::{Event, Typed, csv};
use quantity::{PressureUnit, TemperatureUnit};

fn iso(ms: i64) -> String {
    format!("1970-01-01T00:00:00Z+{ms}ms")
}

/// The table back from its text.
fn table(text: &str) -> (Vec<String>, Vec<csv::StringRecord>) {
    let mut reader = ::csv::Reader::from_reader(text.as_bytes());
    let header = reader.headers().unwrap().iter().map(String::from).collect();
    (header, reader.records().map(Result::unwrap).collect())
}

#[test]
fn table_gives_back_every_number() {
    let (job, _) = demo::opened();
    let text = csv(&job, &iso);
    let (header, rows) = table(&text);
    assert_eq!(rows.len(), job.readings().count());
    let column = |name: &str| header.iter().position(|of| of == name).unwrap();
    for (row, (at, draft)) in rows.iter().zip(job.readings()) {
        assert_eq!(row[column("time")], iso(at));
        for &field in Field::ALL {
            let cell = &row[column(field.row().key)];
            let number = draft.reading().get(field);
            assert_eq!(cell.parse().ok(), number, "{}", field.row().key);
        }
        let derived = job.assess(draft).unwrap().derived;
        for (name, banded) in [
            ("superheat", derived.superheat),
            ("subcooling", derived.subcooling),
        ] {
            let banded = banded.unwrap();
            let of = |suffix: &str| {
                row[column(&format!("{name}{suffix}"))]
                    .parse::<f64>()
                    .unwrap()
            };
            // Two decimals.
            assert!((of("_f") - banded.value.f()).abs() <= 0.005 + 1e-9);
            assert!((of("_band_f") - banded.half_width.f()).abs() <= 0.005 + 1e-9);
        }
    }
    let turns: Vec<&str> = rows
        .iter()
        .map(|row| &row[column("stem_turns_from_as_found")])
        .collect();
    assert_eq!(turns, ["0", "0", "0", "-1", "-1", "-1", "-2", "-2", "-2"]);
}

#[test]
fn table_names_its_units() {
    let (header, rows) = table(&csv(&Visit::begun().job, &iso));
    assert_eq!(rows.len(), 0);
    for name in &header {
        let known = ["_psig", "_psi", "_f", "_percent"]
            .iter()
            .any(|unit| name.ends_with(unit));
        assert!(
            known || ["time", "stem_turns_from_as_found"].contains(&name.as_str()),
            "{name}"
        );
    }
    assert_eq!(header.len(), 2 + Field::ALL.len() + 4);
}

#[test]
fn table_is_in_its_own_units_whatever_was_typed() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    let metric = units(PressureUnit::Bar, TemperatureUnit::Celsius);
    for (field, text) in [
        (Field::SuctionPressure, "8,2737084"),
        (Field::SuctionLine, "10"),
    ] {
        visit.does(&Event::Entered {
            field,
            typed: Typed::new(text, metric),
        });
    }
    visit.does(&Event::KeptReading);
    let (header, rows) = table(&csv(&visit.job, &iso));
    let cell = |name: &str| {
        let column = header.iter().position(|of| of == name).unwrap();
        rows[0][column].parse::<f64>().unwrap()
    };
    assert!((cell("suction_pressure_psig") - 120.0).abs() < 1e-5);
    assert!((cell("suction_line_temp_f") - 50.0).abs() < 1e-9);
}

#[test]
fn spreadsheet_runs_no_cell_as_a_formula() {
    for text in [
        "=1+1", "+1+1", "-1+1", "@SUM(A1)", "=\"a,b\"", "\t=1", "=1\r\n2",
    ] {
        let mut visit = Visit::named(Metering::AdjustableTxv);
        visit.does(&entered(Field::SuctionLine, text));
        visit.does(&Event::KeptReading);
        let (header, rows) = table(&csv(&visit.job, &iso));
        let column = header
            .iter()
            .position(|of| of == "suction_line_temp_f")
            .unwrap();
        assert_eq!(rows[0][column], format!("'{text}"));
    }
    // Its look-alike: a number under zero stays a number.
    let mut visit = Visit::named(Metering::AdjustableTxv);
    visit.does(&entered(Field::SuctionPressure, "\u{2212}4,5"));
    visit.does(&Event::KeptReading);
    let (_, rows) = table(&csv(&visit.job, &iso));
    assert_eq!(&rows[0][2], "-4.5");
}

#[test]
fn table_leaves_out_what_was_taken_back() {
    let mut visit = Visit::ready_to_turn(20.0);
    visit.does(&turned(-2));
    visit.does(&Event::TookBack);
    visit.minutes(4);
    visit.reads(19.0, 10.0);
    visit.reads(18.0, 10.0);
    visit.does(&Event::TookBack);
    let (_, rows) = table(&csv(&visit.job, &iso));
    assert_eq!(rows.len(), 4);
    assert!(rows.iter().all(|row| &row[1] == "0"));
}

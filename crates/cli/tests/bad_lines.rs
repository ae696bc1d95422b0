//! Lines that are bad: each says which field, what stood there and what may; the others still run.

use diagnosis::{Field, Kind};
use job::PlateField;
use refrigerant::Refrigerant;
use serde_json::{Value, json};

mod support;
use support::{evaluate, good, run, with};

/// A bad line between two good ones: the error names the field, the good ones are answered.
fn refused(line: Value, field: &str) -> Value {
    let plain = Value::Object(good());
    let ran = evaluate(&[plain.clone(), line.clone(), plain]);
    assert_eq!(ran.status, Some(2), "{line}");
    assert!(ran.lines[0]["superheat_f"].is_number() && ran.lines[0] == ran.lines[2]);
    let told = support::object(ran.lines[1].clone());
    assert_eq!(
        told.keys().collect::<Vec<_>>(),
        ["error"],
        "nothing beside the error"
    );
    let error = &told["error"];
    assert_eq!(error["field"], field, "{line}: {error}");
    assert_eq!(error["line"], 2);
    let words = |key: &str| error[key].as_str().unwrap_or_default();
    assert!(words("message").contains(field) && words("message").ends_with('.'));
    assert!(words("remedy").len() > 10, "{error}");
    error.clone()
}

#[test]
fn every_number_outside_its_limits() {
    for &field in Field::ALL {
        let row = field.row();
        for bad in [row.hard.0 - 0.5, row.hard.1 + 0.5, -1e12, 1e12] {
            let error = refused(with(row.key, json!(bad)), row.key);
            assert_eq!(error["value"], json!(bad));
            assert_eq!(error["range"], json!([row.hard.0, row.hard.1]));
            assert_eq!(error["remedy"], row.remedy);
        }
    }
}

#[test]
fn every_number_that_is_none() {
    for &field in Field::ALL {
        let key = field.row().key;
        for bad in [json!("52"), json!(true), json!([52]), json!({})] {
            let error = refused(with(key, bad.clone()), key);
            assert_eq!(error["value"], bad);
            assert!(error["range"].is_array());
        }
    }
}

/// Inside the gauge's scale, outside the refrigerant's table: the range is the table's.
#[test]
fn every_pressure_outside_the_table() {
    for &field in Field::ALL {
        let row = field.row();
        let limits = match row.kind {
            Kind::LowPressure => Refrigerant::R134a.dew().limits(),
            Kind::HighPressure => Refrigerant::R134a.bubble().limits(),
            Kind::Temperature | Kind::Percent => continue,
        };
        let highest = limits.highest_pressure.psia() - 14.695_949;
        let mut line = good();
        line.insert("refrigerant".into(), json!("R-134a"));
        line.insert("suction_pressure_psig".into(), json!(40.0));
        line.insert("liquid_pressure_psig".into(), json!(150.0));
        line.insert(row.key.into(), json!(highest + 5.0));
        let error = refused(Value::Object(line), row.key);
        let upper = error["range"][1].as_f64().expect("a number");
        assert!((upper - highest).abs() < 0.1, "{upper} {highest}");
        assert!(
            error["message"]
                .as_str()
                .is_some_and(|words| words.contains("R-134a"))
        );
    }
}

#[test]
fn every_part_of_the_job() {
    for (key, bad) in [
        ("refrigerant", json!("R-9999")),
        ("refrigerant", json!(22)),
        ("altitude_ft", json!(40_000)),
        ("altitude_ft", json!("5280 ft")),
        ("barometer_psia", json!(29.92)),
        ("nominal_tons", json!(0)),
        ("nominal_tons", json!(500)),
        ("plate_charge_oz", json!(0)),
        ("gauge_reference", json!("gauge")),
        ("measuring_point", json!("roof")),
        ("target_point", json!(1)),
        ("line_loss_psi", json!(-1)),
        ("line_loss_psi", json!(60)),
        ("gauge_at_service_valve", json!("roof")),
        ("minimum_superheat_f", json!(-5)),
        ("minimum_superheat_f", json!(90)),
        ("metering", json!("piston")),
        ("superheat_target_f", json!([12, 8])),
        ("superheat_target_f", json!([8, 60.5])),
        ("superheat_target_f", json!(10)),
        ("superheat_target_f", json!([8, 10, 12])),
        ("subcooling_target_f", json!(["7", "13"])),
        ("subcooling_target_f", json!([-3, 13])),
        ("subcooling_target_f", json!([7, 40.5])),
        ("target_pedigree", json!("my mate")),
        ("gate_held", json!("yes")),
        ("instruments", json!(3.5)),
        ("bulb_answer", json!("maybe")),
    ] {
        let error = refused(with(key, bad.clone()), key);
        assert_eq!(error["value"], bad, "{key}");
        assert!(!error["range"].is_null(), "{key}");
    }
    for (part, bad) in [
        ("low_psi", 51.0),
        ("high_psi", -1.0),
        ("temperature_f", 21.0),
    ] {
        let error = refused(with("instruments", json!({ part: bad })), part);
        assert_eq!(error["value"], json!(bad));
    }
}

/// Page and command line take the same numbers about the job: the limits are the page's rows.
#[test]
fn limits_about_the_job_are_the_pages() {
    for field in [
        PlateField::Tons,
        PlateField::MinimumSuperheat,
        PlateField::LineLoss,
        PlateField::Altitude,
        PlateField::Barometer,
    ] {
        let row = field.row();
        for (end, beyond) in [(row.range.0, -0.125), (row.range.1, 0.125)] {
            let error = refused(with(row.key, json!(end + beyond)), row.key);
            assert_eq!(error["range"], json!([row.range.0, row.range.1]));
            let ran = evaluate(&[with(row.key, json!(end))]);
            let field = &ran.lines[0]["error"]["field"];
            assert_ne!(field, row.key, "{end} is inside");
        }
    }
}

#[test]
fn every_key_that_must_be_there() {
    for key in good().keys() {
        let mut line = good();
        line.remove(key);
        let error = refused(Value::Object(line), key);
        assert_eq!(error["value"], Value::Null);
        assert!(!error["range"].is_null());
        refused(with(key, Value::Null), key);
    }
}

#[test]
fn lines_that_are_no_object() {
    let line = Value::Object(good());
    let bad = [
        "{\"refrigerant\": ",
        "[1, 2]",
        "52",
        "null",
        "readings",
        "{\"suction_pressure_psig\": 1e999}",
    ];
    for text in bad {
        let ran = run(
            &["evaluate"],
            format!("{line}\n{text}\n{line}\n").as_bytes(),
        );
        assert_eq!(ran.status, Some(2), "{text}");
        assert_eq!(ran.lines.len(), 3, "{text}");
        assert!(ran.lines[0]["superheat_f"].is_number() && ran.lines[0] == ran.lines[2]);
        let error = &ran.lines[1]["error"];
        assert_eq!(
            (&error["field"], &error["line"]),
            (&Value::Null, &json!(2)),
            "{text}"
        );
        assert!(
            error["message"]
                .as_str()
                .is_some_and(|words| words.contains("JSON object"))
        );
    }
    // Not even text.
    let ran = run(&["evaluate"], &[0xff, 0xfe, b'\n']);
    assert_eq!((ran.status, ran.lines.len()), (Some(2), 1));
}

/// The line number counts every line, blank ones too, so that an editor finds it.
#[test]
fn line_numbers_are_the_files() {
    let good = Value::Object(good());
    let ran = run(&["evaluate"], format!("\n{good}\n\n{{}}\n").as_bytes());
    assert_eq!(ran.lines[1]["error"]["line"], 4);
}

#[test]
fn a_long_stack_runs_through_with_its_bad_ones_in_place() {
    let lines: Vec<Value> = (0..2000)
        .map(|at| match at % 10 {
            0 => with("suction_pressure_psig", json!(9999)),
            _ => Value::Object(good()),
        })
        .collect();
    let ran = evaluate(&lines);
    assert_eq!(ran.status, Some(2));
    for (at, told) in ran.lines.iter().enumerate() {
        assert_eq!(told.get("error").is_some(), at % 10 == 0, "{at}");
    }
}

//! Logs with bad lines: each says which field, what stood there and what may; the rest goes on.

use diagnosis::{Field, Metering};
use serde_json::{Value, json};

mod support;
use support::{about, coach, good, object, run};

/// A bad line in a log of good ones: told with its field, and no trace of it in what follows.
fn refused(line: Value, field: &str) -> Value {
    let before = json!({"t_min": 0, "superheat_f": 20.0});
    let after = json!({"t_min": 9, "superheat_f": 20.2});
    let ran = coach(&[about(), before.clone(), line.clone(), after.clone()]);
    assert_eq!(ran.status, Some(2), "{line}");
    let clean = coach(&[about(), before, after]);
    assert_eq!(clean.status, Some(0), "{}", clean.stdout);
    assert_eq!(ran.lines[1], clean.lines[1]);
    assert_eq!(ran.lines[3], clean.lines[2], "{line} left something behind");
    let told = object(ran.lines[2].clone());
    assert_eq!(told.keys().collect::<Vec<_>>(), ["error"]);
    let error = &told["error"];
    assert_eq!(error["field"], field, "{line}: {error}");
    assert_eq!(error["line"], 3);
    assert!(!error["range"].is_null(), "{error}");
    let words = |key: &str| error[key].as_str().unwrap_or_default();
    assert!(
        words("message").contains(field) && words("message").ends_with('.'),
        "{error}"
    );
    assert!(words("remedy").len() > 10, "{error}");
    error.clone()
}

fn with(key: &str, value: Value) -> Value {
    let mut line = json!({"t_min": 3});
    line[key] = value;
    line
}

#[test]
fn every_turn_that_is_none() {
    for bad in [
        json!(0.3),
        json!(-0.1),
        json!(0),
        json!(20.25),
        json!(-400),
        json!(1e300),
        json!("-0.5"),
        json!([1]),
        json!(true),
    ] {
        let error = refused(with("turn", bad.clone()), "turn");
        assert_eq!(error["value"], bad);
        assert_eq!(error["range"], json!([-20.0, 20.0]));
    }
}

#[test]
fn every_other_event_that_is_none() {
    for (key, bad) in [
        ("stem_end", json!("left")),
        ("stem_end", json!(1)),
        ("disturbed", json!(false)),
        ("disturbed", json!("yes")),
    ] {
        assert_eq!(refused(with(key, bad.clone()), key)["value"], bad);
    }
}

#[test]
fn every_time_that_is_none() {
    for bad in [json!(-1), json!(20_000), json!("3"), json!(null)] {
        let line = json!({"t_min": bad, "superheat_f": 20.0});
        assert_eq!(refused(line, "t_min")["value"], bad);
    }
    refused(json!({"superheat_f": 20.0}), "t_min");
    refused(json!({"turn": -0.5}), "t_min");
}

#[test]
fn every_superheat_that_is_none() {
    for (key, range) in [
        ("superheat_f", [-40.0, 150.0]),
        ("superheat_band_f", [0.0, 20.0]),
    ] {
        for bad in [
            json!(range[0] - 0.5),
            json!(range[1] + 0.5),
            json!("20"),
            json!({}),
        ] {
            let mut line = json!({"t_min": 3, "superheat_f": 20.0});
            line[key] = bad.clone();
            let error = refused(line, key);
            assert_eq!((&error["value"], &error["range"]), (&bad, &json!(range)));
        }
    }
}

#[test]
fn every_reading_outside_its_limits() {
    for &field in Field::ALL {
        let row = field.row();
        for bad in [row.hard.0 - 0.5, row.hard.1 + 0.5] {
            for stated in [false, true] {
                let mut line = good();
                line.insert("t_min".into(), json!(3));
                if stated {
                    line.insert("superheat_f".into(), json!(20.0));
                }
                line.insert(row.key.into(), json!(bad));
                let error = refused(Value::Object(line), row.key);
                assert_eq!(error["range"], json!([row.hard.0, row.hard.1]));
                assert_eq!(error["remedy"], row.remedy);
            }
        }
    }
}

/// Inside the gauge's scale, outside the refrigerant's table.
#[test]
fn a_pressure_outside_the_table() {
    let mut line = good();
    line.insert("t_min".into(), json!(3));
    line.insert("refrigerant".into(), json!("R-134a"));
    line.insert("suction_pressure_psig".into(), json!(449));
    let error = refused(Value::Object(line), "suction_pressure_psig");
    assert!(
        error["message"]
            .as_str()
            .is_some_and(|words| words.contains("R-134a"))
    );
}

#[test]
fn a_line_without_what_it_takes() {
    refused(json!({"t_min": 3}), "superheat_f");
    refused(
        json!({"t_min": 3, "liquid_pressure_psig": 340}),
        "superheat_f",
    );
    refused(
        json!({"t_min": 3, "suction_pressure_psig": 118}),
        "suction_line_temp_f",
    );
    refused(
        json!({"t_min": 3, "suction_line_temp_f": 52}),
        "suction_pressure_psig",
    );
    // Without a word about the job, pressures take what `evaluate` takes.
    for key in ["refrigerant", "altitude_ft"] {
        let mut line = good();
        line.insert("t_min".into(), json!(0));
        line.remove(key);
        let ran = coach(&[Value::Object(line)]);
        assert_eq!(ran.lines[0]["error"]["field"], key);
    }
}

#[test]
fn two_things_on_one_line() {
    let turn = json!({"t_min": 3, "turn": -0.5, "superheat_f": 20.0});
    assert_eq!(refused(turn, "turn")["value"], json!(-0.5));
    refused(
        json!({"t_min": 3, "turn": -0.5, "suction_pressure_psig": 118}),
        "turn",
    );
    refused(json!({"t_min": 3, "turn": -0.5, "disturbed": true}), "turn");
    refused(
        json!({"t_min": 3, "stem_end": "opening", "superheat_f": 9}),
        "stem_end",
    );
}

#[test]
fn a_job_that_is_none_or_comes_late() {
    refused(about(), "job");
    for (bad, field) in [
        (json!("R-22"), "job"),
        (json!({"refrigerant": "R-9999"}), "refrigerant"),
        (json!({"superheat_target_f": [12, 8]}), "superheat_target_f"),
        (json!({"superheat_target_f": [8, 61]}), "superheat_target_f"),
        (
            json!({"subcooling_target_f": [8, 41]}),
            "subcooling_target_f",
        ),
        (json!({"minimum_superheat_f": 31}), "minimum_superheat_f"),
        (json!({"nominal_tons": 0}), "nominal_tons"),
        (json!({"metering": "piston"}), "metering"),
        (json!({"head_limit_psig": 20}), "head_limit_psig"),
        (
            json!({"gauge_at_service_valve": "yes"}),
            "gauge_at_service_valve",
        ),
        (json!({"instruments": 3}), "instruments"),
    ] {
        let ran = coach(&[
            json!({"job": bad}),
            json!({"t_min": 0, "superheat_f": 20.0}),
        ]);
        assert_eq!(ran.status, Some(2), "{bad}");
        let error = &ran.lines[0]["error"];
        assert_eq!(
            (&error["field"], &error["line"]),
            (&json!(field), &json!(1))
        );
        assert!(!error["range"].is_null(), "{error}");
        assert_eq!(ran.lines[1]["wait"], "drifting", "the log goes on");
    }
    let ran = coach(&[json!({"job": {"refrigerant": "R-22", "tons": 3}, "note": 1})]);
    assert_eq!(ran.lines[0]["ignored_fields"], json!(["tons", "note"]));
}

#[test]
fn a_device_without_a_stem_was_not_turned() {
    for metering in Metering::ALL {
        let job = json!({"job": {"metering": metering.key()}});
        for line in [
            json!({"t_min": 1, "turn": 0.5}),
            json!({"t_min": 1, "stem_end": "closing"}),
        ] {
            let ran = coach(&[job.clone(), line]);
            let told = &ran.lines[1];
            assert_eq!(
                told.get("error").is_some(),
                metering != Metering::AdjustableTxv,
                "{told}"
            );
        }
    }
}

#[test]
fn lines_that_are_no_object() {
    for text in ["{\"t_min\": ", "[1, 2]", "52", "null", "readings"] {
        let good = json!({"t_min": 0, "superheat_f": 20.0});
        let ran = run(&["coach"], format!("{good}\n{text}\n\n{good}\n").as_bytes());
        assert_eq!((ran.status, ran.lines.len()), (Some(2), 3), "{text}");
        assert_eq!(ran.lines[1]["error"]["line"], 2);
        assert_eq!(ran.lines[2]["wait"], "drifting");
    }
}

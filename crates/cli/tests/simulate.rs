//! Scenarios in, readings over time out.

use quantity::{AbsolutePressure, Temperature};
use refrigerant::Refrigerant;
use serde_json::{Value, json};

mod support;
use support::{Ran, run};

fn simulate(scenario: &Value) -> Ran {
    run(&["simulate"], scenario.to_string().as_bytes())
}

fn number(line: &Value, key: &str) -> f64 {
    line[key]
        .as_f64()
        .unwrap_or_else(|| panic!("{key} in {line}"))
}

fn valve() -> Value {
    json!({ "refrigerant": "R-410A", "nominal_tons": 3 })
}

/// Every field named in the task, on each line; readings that agree with each other by the tables.
#[test]
fn lines_carry_readings_that_agree() {
    for place in ["bulb", "service-valve"] {
        let ran = simulate(&json!({
            "system": valve(), "duration_s": 120, "interval_s": 60, "measuring_point": place,
        }));
        assert_eq!(
            (ran.status, ran.lines.len()),
            (Some(0), 3),
            "{}",
            ran.stdout
        );
        for (line, t_s) in ran.lines.iter().zip([0.0, 60.0, 120.0]) {
            assert_eq!(number(line, "t_s"), t_s);
            let absolute = |key| AbsolutePressure::from_psia(number(line, key) + 14.6959);
            let dew = Refrigerant::R410A
                .dew()
                .temperature(absolute("suction_pressure_psig"))
                .expect("in the table");
            let superheat = Temperature::from_f(number(line, "suction_line_temp_f")) - dew;
            assert!(
                (superheat.f() - number(line, "superheat_f")).abs() < 0.03,
                "{line}"
            );
            let bubble = Refrigerant::R410A
                .bubble()
                .temperature(absolute("liquid_pressure_psig"))
                .expect("in the table");
            let subcooling = bubble - Temperature::from_f(number(line, "liquid_line_temp_f"));
            assert!(
                (subcooling.f() - number(line, "subcooling_f")).abs() < 0.03,
                "{line}"
            );
            // 3 tons of 12 000 Btu/h; AHRI 210/240 condition A is the default.
            assert!((number(line, "capacity_btu_h") - 36_000.0).abs() < 100.0);
            let both = number(line, "mass_flow_lb_h") * number(line, "power_w");
            assert!(both > 0.0 && number(line, "stem_turns") == 0.0);
        }
    }
}

/// A turn out lowers superheat by about what a turn is worth, and the ledger shows it. The line at
/// the time of an event still shows what was before it.
#[test]
fn an_event_turns_the_stem() {
    let ran = simulate(&json!({
        "system": valve(), "stem_turns": 4, "duration_s": 3600, "interval_s": 600,
        "events": [{ "t_s": 600, "turn": -1.5 }],
    }));
    let superheat: Vec<f64> = ran
        .lines
        .iter()
        .map(|line| number(line, "superheat_f"))
        .collect();
    assert!((superheat[1] - superheat[0]).abs() < 0.05, "{superheat:?}");
    let change = superheat[6] - superheat[0];
    assert!((change + 4.5).abs() < 0.7, "{change}");
    assert_eq!(number(&ran.lines[1], "stem_turns"), 4.0);
    assert_eq!(number(&ran.lines[2], "stem_turns"), 2.5);
}

/// Ounces in, subcooling up; and weather and faults change on the way.
#[test]
fn events_change_charge_weather_and_faults() {
    let ran = simulate(&json!({
        "system": { "refrigerant": "r22", "nominal_tons": 4, "metering": "orifice" },
        "faults": { "low-charge": 0.08 },
        "duration_s": 5400, "interval_s": 1800,
        "events": [
            { "t_s": 0, "charge_oz": 12 },
            { "t_s": 1800, "conditions": { "outdoor_f": 85 } },
            { "t_s": 3600, "faults": { "hot-air-recirculation": 0.2 } },
        ],
    }));
    assert_eq!(ran.status, Some(0), "{}", ran.stdout);
    let all = |key| {
        ran.lines
            .iter()
            .map(|line| number(line, key))
            .collect::<Vec<_>>()
    };
    let (subcooling, head) = (all("subcooling_f"), all("liquid_pressure_psig"));
    assert!(subcooling[1] > subcooling[0] + 3.0, "{subcooling:?}");
    assert!(
        head[2] < head[1] - 20.0 && head[3] > head[2] + 8.0,
        "{head:?}"
    );
    let air = all("condenser_air_f");
    assert!((air[2] - 85.0).abs() < 0.01 && air[3] > 87.0, "{air:?}");
}

#[test]
fn what_cannot_be_is_refused_with_its_field() {
    let base = json!({ "system": valve(), "duration_s": 60 });
    let with = |key: &str, value: Value| {
        let mut scenario = base.clone();
        scenario[key] = value;
        scenario
    };
    let cases = [
        (
            with(
                "system",
                json!({ "refrigerant": "R-999", "nominal_tons": 3 }),
            ),
            "refrigerant",
        ),
        (
            with(
                "system",
                json!({ "refrigerant": "R-22", "nominal_tons": 90 }),
            ),
            "capacity",
        ),
        (
            with("faults", json!({ "wrong-refrigerant": 1 })),
            "wrong-refrigerant",
        ),
        (with("faults", json!({ "low-charge": 0.9 })), "low-charge"),
        (
            with("conditions", json!({ "return_wet_bulb_f": 90 })),
            "conditions",
        ),
        (with("events", json!([{ "t_s": 9, "turn": 0.3 }])), "turn"),
        (with("events", json!([{ "t_s": 90 }])), "t_s"),
        (with("interval_s", json!(0)), "interval_s"),
        (with("colour", json!("red")), "scenario"),
        (json!({ "system": valve() }), "scenario"),
    ];
    for (scenario, field) in cases {
        let ran = simulate(&scenario);
        let error = &ran.lines.last().expect("a line")["error"];
        assert_eq!(ran.status, Some(2), "{scenario}");
        assert!(
            error["field"]
                .as_str()
                .is_some_and(|name| name.contains(field)),
            "{error}"
        );
        assert!(
            error["message"]
                .as_str()
                .is_some_and(|words| words.len() > 10),
            "{error}"
        );
    }
}

/// Head beyond the model ends the lines with the reason; those before it stand.
#[test]
fn a_plant_that_leaves_the_model_says_so() {
    let ran = simulate(&json!({
        "system": { "refrigerant": "R-22", "nominal_tons": 3 }, "duration_s": 1800,
        "events": [{ "t_s": 60, "faults": { "condenser-fouled": 0.7, "hot-air-recirculation": 0.4 } }],
    }));
    assert_eq!(ran.status, Some(2));
    let (last, before) = ran.lines.split_last().expect("lines");
    assert!(
        last["error"]["message"]
            .as_str()
            .is_some_and(|words| words.contains("high-pressure"))
    );
    assert!(before.len() > 2 && before.iter().all(|line| line["superheat_f"].is_number()));
}

#[test]
fn help_names_every_fault_and_field() {
    let help = run(&["--help"], b"").stdout;
    let ran = simulate(&json!({ "system": valve(), "duration_s": 0 }));
    let fields = ran.lines[0].as_object().expect("an object");
    let unknown = simulate(&json!({ "system": valve(), "duration_s": 0, "faults": { "x": 0 } }));
    let faults = unknown.lines[0]["error"]["range"]
        .as_array()
        .expect("the names")
        .clone();
    assert!(faults.len() >= 15);
    let faults = faults.iter().filter_map(Value::as_str);
    for name in faults.chain(fields.keys().map(String::as_str)) {
        assert!(help.contains(name), "--help does not name {name}");
    }
}

//! Runs the program itself and reads what it wrote.
#![allow(dead_code, reason = "each test file uses its own part")]

use serde_json::{Map, Value, json};
use std::io::Write;
use std::process::{Command, Stdio};

/// What one run left behind.
pub struct Ran {
    pub status: Option<i32>,
    pub lines: Vec<Value>,
    pub stdout: String,
    pub stderr: String,
}

pub fn run(arguments: &[&str], input: &[u8]) -> Ran {
    let mut child = Command::new(env!("CARGO_BIN_EXE_evenfeed-cli"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("piped");
    let input = input.to_vec();
    // Written from the side: a long answer would otherwise wait for us while we wait for it.
    let writer = std::thread::spawn(move || stdin.write_all(&input));
    let output = child.wait_with_output().expect("the program ends");
    // A program that does not read its input closes the pipe: no matter.
    let _ = writer.join().expect("the writer ends");
    let stdout = String::from_utf8(output.stdout).expect("UTF-8");
    let lines = stdout
        .lines()
        .filter_map(|line| serde_json::from_str(line).ok());
    Ran {
        status: output.status.code(),
        lines: lines.collect(),
        stderr: String::from_utf8(output.stderr).expect("UTF-8"),
        stdout,
    }
}

/// Evaluates objects, one a line.
pub fn evaluate(objects: &[Value]) -> Ran {
    let text: String = objects.iter().map(|object| format!("{object}\n")).collect();
    let ran = run(&["evaluate"], text.as_bytes());
    assert_eq!(ran.lines.len(), objects.len(), "{}", ran.stdout);
    ran
}

/// A plain good line: R-410A at sea level.
pub fn good() -> Map<String, Value> {
    object(json!({
        "refrigerant": "R-410A", "altitude_ft": 0,
        "suction_pressure_psig": 121.0, "suction_line_temp_f": 52.0,
        "liquid_pressure_psig": 340.0, "liquid_line_temp_f": 95.0,
    }))
}

/// Every key there is, with a sound value.
pub fn full() -> Map<String, Value> {
    let mut full = good();
    full.extend(object(json!({
        "nominal_tons": 3.0, "plate_charge_oz": 120, "condenser_air_f": 86.0, "open_air_f": 86.0,
        "return_dry_bulb_f": 78.0, "return_wet_bulb_f": 65.0, "supply_dry_bulb_f": 58.0,
        "condenser_leaving_air_f": 104.0, "drier_in_f": 95.0, "drier_out_f": 94.8,
        "liquid_line_end_f": 94.0, "standing_pressure_psig": 236.0, "standing_air_f": 80.0,
        "discharge_temp_f": 155.0, "compressor_suction_temp_f": 56.0, "coil_pressure_psig": 122.0,
        "suction_pressure_low_psig": 120.0, "suction_pressure_high_psig": 122.0,
        "amps_percent": 82.0, "barometer_psia": 14.696, "gauge_reference": "vented",
        "measuring_point": "bulb", "target_point": "bulb", "line_loss_psi": 0.0,
        "gauge_at_service_valve": false,
        "minimum_superheat_f": 5.0, "metering": "txv", "superheat_target_f": [8, 12],
        "subcooling_target_f": [7, 13], "target_pedigree": "data-plate", "gate_held": true,
        "instruments": { "low_psi": 1.0, "high_psi": 2.0, "temperature_f": 0.5 },
        "bulb_answer": "rises",
    })));
    full
}

pub fn object(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        other => panic!("{other} is no object"),
    }
}

/// A good line with one key changed.
pub fn with(key: &str, value: Value) -> Value {
    let mut line = good();
    line.insert(key.to_owned(), value);
    Value::Object(line)
}

/// A job's log through the coach, one object a line.
pub fn coach(objects: &[Value]) -> Ran {
    let text: String = objects.iter().map(|object| format!("{object}\n")).collect();
    let ran = run(&["coach"], text.as_bytes());
    assert_eq!(ran.lines.len(), objects.len(), "{}", ran.stdout);
    ran
}

/// What each line of the coach carries, in order.
pub const COACH_KEYS: [&str; 12] = [
    "t_min",
    "wait",
    "settled_superheat_f",
    "settled_superheat_band_f",
    "gain_f_per_turn",
    "gain_band_f",
    "next_turn",
    "expected_superheat_f",
    "expected_band_f",
    "minutes_to_settle",
    "stop",
    "why",
];

/// The coach's line about a job with every key there is.
pub fn about() -> Value {
    json!({"job": {
        "refrigerant": "R-410A", "altitude_ft": 0, "metering": "txv", "nominal_tons": 3,
        "superheat_target_f": [8, 12], "subcooling_target_f": [7, 13],
        "target_pedigree": "data-plate", "minimum_superheat_f": 5, "head_limit_psig": 550,
        "instruments": {"low_psi": 1.0, "high_psi": 2.0, "temperature_f": 0.5},
        "measuring_point": "bulb", "target_point": "bulb", "gauge_reference": "vented",
        "gauge_at_service_valve": false, "line_loss_psi": 0, "barometer_psia": 14.696,
        "gate_held": true, "plate_charge_oz": 120,
    }})
}

/// The answer to the last line of a run without a bad one.
pub fn last(ran: &Ran) -> Value {
    assert_eq!(ran.status, Some(0), "{}", ran.stdout);
    ran.lines.last().expect("a line").clone()
}

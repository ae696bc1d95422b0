//! Whole visits through the coach: the page's demo job, the filed cases, and simulated valves.

use coach::Quarters;
use job::{Draft, Job, What};
use serde_json::{Value, json};
use std::path::Path;

mod support;
use support::{coach, last, run};

/// The page's own demo job, line for line through the command line, comes to the page's advice.
#[test]
fn page_and_command_line_say_the_same() {
    let start = 1_700_000_000_000;
    let job = demo(start);
    let minutes = |at_ms: i64| (at_ms - job.created_ms) as f64 / 60_000.0;
    let mut lines = vec![json!({"job": {
        "refrigerant": "R-22", "metering": "txv", "nominal_tons": 4, "altitude_ft": 20,
        "superheat_target_f": [8, 12], "subcooling_target_f": [7, 13], "target_pedigree": "maker",
        "head_limit_psig": 380, "gauge_at_service_valve": true,
        "instruments": {"low_psi": 1, "high_psi": 2, "temperature_f": 0.5},
    }})];
    lines.extend(job.log.iter().map(|line| {
        let mut said = match &line.what {
            What::Reading(draft) => reading(draft),
            What::Turn { by, .. } => json!({"turn": by.turns()}),
            What::Charge { .. } | What::Change { .. } => json!({"disturbed": true}),
            What::End(end) => json!({"stem_end": job::stem_end_key(*end)}),
        };
        said["t_min"] = json!(minutes(line.at_ms));
        said
    }));
    assert!(lines.len() > 10);
    let told = last(&coach(&lines));
    let newest = job.log.last().expect("a line").at_ms;
    let page = job.stem(newest).advice.expect("named");
    assert_eq!(told["wait"], json!(page.wait.map(coach::Wait::key)));
    assert_eq!(told["stop"], json!(page.stop.map(coach::Stop::key)));
    assert_eq!(told["next_turn"], json!(page.next.map(Quarters::turns)));
    let settled = page.settled.expect("the demo has settled");
    let near = |key: &str, page: f64| {
        let line = told[key].as_f64().expect("a number");
        assert!((line - page).abs() < 1e-4, "{key}: {line} {page}");
    };
    near("settled_superheat_f", settled.value.f());
    near("settled_superheat_band_f", settled.half_width.f());
    near("gain_f_per_turn", page.gain.value.f());
    near("gain_band_f", page.gain.half_width.f());
}

fn demo(now_ms: i64) -> Job {
    let events = job::demo(now_ms);
    let begin = Job::begin("demo", events.first().expect("an event").at_ms, true);
    events.iter().fold(begin, |job, saved| {
        job.apply(&saved.event, saved.at_ms).expect("it fits").0
    })
}

fn reading(draft: &Draft) -> Value {
    let entries = draft.reading();
    Value::Object(
        entries
            .entries()
            .map(|(field, value)| (field.row().key.to_owned(), json!(value)))
            .collect(),
    )
}

/// Whole visits in `tests/cases/coach`. A line may hold what it must come to under `expect`; a
/// turn there is a range, so that a better coach need not make the very same step.
#[test]
fn every_visit_comes_to_what_it_expects() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/cases/coach");
    let mut lines = 0;
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("readable").path();
        let text = std::fs::read_to_string(&path).expect("readable");
        let ran = run(&["coach"], text.as_bytes());
        assert_eq!(ran.status, Some(0), "{}: {}", path.display(), ran.stdout);
        for (line, told) in text.lines().zip(&ran.lines) {
            let given: Value = serde_json::from_str(line).expect("JSON");
            let Some(expect) = given.get("expect") else {
                continue;
            };
            let case = format!("{}: {line}\n{told}", path.display());
            assert_eq!(told["wait"], expect["wait"], "{case}");
            assert_eq!(told["stop"], expect["stop"], "{case}");
            match expect["next_turn"].as_array() {
                None => assert!(told["next_turn"].is_null(), "{case}"),
                Some(range) => {
                    let end = |at: usize| range[at].as_f64().expect("a number");
                    let turn = told["next_turn"].as_f64().expect("a turn");
                    assert!((end(0)..=end(1)).contains(&turn), "{case}");
                }
            }
            lines += 1;
        }
    }
    assert!(lines >= 8, "{lines} lines");
}

/// The plant of `simulate` set by nothing but the coach: read every minute, turn as told, until it
/// says that the target is met. The stem then stands in the band and superheat was never under
/// its minimum.
#[test]
fn the_coach_sets_the_simulated_valve() {
    for (refrigerant, turned) in [("R-410A", 5.0), ("R-22", 4.0)] {
        let mut events: Vec<Value> = Vec::new();
        let mut log = vec![json!({"job": {
            "refrigerant": refrigerant, "metering": "txv", "altitude_ft": 0,
            "superheat_target_f": [8, 12], "minimum_superheat_f": 5,
            "instruments": {"low_psi": 1, "high_psi": 2, "temperature_f": 0.5},
        }})];
        let mut plant = Vec::new();
        let mut minute = 0;
        let stop = loop {
            assert!(
                minute < 150,
                "{refrigerant}: not set in {minute} minutes: {events:?}"
            );
            if minute >= plant.len() {
                plant = simulated(refrigerant, turned, &events, minute as u32 + 30);
            }
            let mut line = plant[minute].clone();
            line["t_min"] = json!(minute);
            log.push(pick(&line));
            let told = last(&coach(&log));
            if !told["stop"].is_null() {
                break told["stop"].clone();
            }
            if let Some(turn) = told["next_turn"].as_f64() {
                events.push(json!({"t_s": 60 * minute + 1, "turn": turn}));
                log.push(json!({"t_min": minute as f64 + 1.0 / 60.0, "turn": turn}));
                plant.truncate(minute + 1);
            }
            minute += 1;
        };
        assert_eq!(stop, "at-target", "{refrigerant}");
        assert!(events.len() >= 2, "{refrigerant}: {events:?}");
        let after = simulated(refrigerant, turned, &events, minute as u32 + 60);
        let superheat = |line: &Value| line["superheat_f"].as_f64().expect("a number");
        let settled = superheat(after.last().expect("lines"));
        assert!((7.0..13.0).contains(&settled), "{refrigerant}: {settled}");
        let least = after.iter().map(superheat).fold(f64::INFINITY, f64::min);
        assert!(least > 5.0, "{refrigerant}: {least}");
    }
}

/// A line a minute of a 3 ton system whose stem was turned in before.
fn simulated(refrigerant: &str, turned: f64, events: &[Value], minutes: u32) -> Vec<Value> {
    let scenario = json!({
        "system": {"refrigerant": refrigerant, "nominal_tons": 3},
        "stem_turns": turned, "events": events, "duration_s": 60 * minutes, "interval_s": 60,
    });
    let ran = run(&["simulate"], scenario.to_string().as_bytes());
    assert_eq!(ran.status, Some(0), "{}", ran.stdout);
    ran.lines
}

/// What a technician reads of it.
fn pick(line: &Value) -> Value {
    let keys = [
        "t_min",
        "suction_pressure_psig",
        "suction_line_temp_f",
        "liquid_pressure_psig",
        "liquid_line_temp_f",
    ];
    Value::Object(
        keys.iter()
            .map(|key| ((*key).to_owned(), line[key].clone()))
            .collect(),
    )
}

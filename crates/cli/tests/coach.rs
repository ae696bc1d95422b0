//! Logs that are good: what comes back is what the core says of the log so far.

use coach::{Entry, Minutes, Plan, Quarters, advise};
use diagnosis::{Field, Metering, Reading, Setup, check, derive};
use quantity::TemperatureDifference;
use refrigerant::Refrigerant;
use serde_json::{Value, json};

mod support;
use support::{COACH_KEYS, about, coach, evaluate, good, last, object, run};

/// Readings a minute and a half apart that have settled.
fn settled_at(superheat: f64) -> Vec<Value> {
    [0.0, 0.3, -0.2, 0.1, -0.1, 0.2, 0.0]
        .iter()
        .enumerate()
        .map(|(at, off)| json!({"t_min": 1.5 * at as f64, "superheat_f": superheat + off}))
        .collect()
}

/// The same number in another line: the text edge rounds to 0.0001, and what goes through it twice
/// may differ by more than that once the coach has worked on it.
fn near(one: &Value, other: &Value) {
    assert_eq!(one["wait"], other["wait"], "{one}\n{other}");
    assert_eq!(one["stop"], other["stop"], "{one}\n{other}");
    for key in COACH_KEYS {
        match (one[key].as_f64(), other[key].as_f64()) {
            (Some(a), Some(b)) => assert!((a - b).abs() < 2e-3, "{key}: {a} {b}"),
            (a, b) => assert_eq!(a, b, "{key}: {one}\n{other}"),
        }
    }
}

/// Each line against the core, which is asked here without the crate that stands between.
#[test]
fn each_line_says_what_the_core_says_of_the_log_so_far() {
    let mut lines = vec![about()];
    let mut log = Vec::new();
    let f = TemperatureDifference::from_f;
    let plan = Plan {
        low: f(8.0),
        high: f(12.0),
        minimum: f(5.0),
        // The estimators' default; see `coach::Plan`.
        scatter: f(0.8),
        bias: f(1.25),
        head_limit: None,
        opening_end: None,
        closing_end: None,
    };
    let mut told = Vec::new();
    for (at, superheat) in [31.5, 31.2, 31.6, 31.4, 31.5, 29.9, 29.2, 29.0, 28.9, 29.0]
        .into_iter()
        .enumerate()
    {
        let t_min = 2.0 * at as f64;
        let at = Minutes::new(t_min);
        if t_min == 10.0 {
            let turned = Minutes::new(9.0);
            lines.push(json!({"t_min": 9, "turn": -1}));
            log.push(Entry::Turn {
                at: turned,
                by: Quarters::new(-4),
            });
            told.push(advise(&plan, &log, turned));
        }
        lines.push(json!({"t_min": t_min, "superheat_f": superheat, "superheat_band_f": 1.25}));
        log.push(Entry::Reading {
            at,
            superheat: f(superheat),
            swing: None,
            condensing: None,
        });
        told.push(advise(&plan, &log, at));
    }
    let ran = coach(&lines);
    assert_eq!(ran.status, Some(0), "{}", ran.stdout);
    let same = |told: &Value, core: Option<f64>| match core {
        None => assert!(told.is_null(), "{told}"),
        Some(core) => assert!((told.as_f64().expect("a number") - core).abs() < 1e-4),
    };
    let mut turns = 0;
    for ((given, line), advice) in lines.iter().zip(&ran.lines).skip(1).zip(&told) {
        same(&line["t_min"], given["t_min"].as_f64());
        let keys: Vec<String> = object(line.clone()).keys().cloned().collect();
        assert_eq!(keys, COACH_KEYS);
        assert_eq!(line["wait"], json!(advice.wait.map(coach::Wait::key)));
        assert_eq!(line["stop"], json!(advice.stop.map(coach::Stop::key)));
        let value = |of: Option<coach::Estimate>| of.map(|of| of.value.f());
        let band = |of: Option<coach::Estimate>| of.map(|of| of.half_width.f());
        same(&line["settled_superheat_f"], value(advice.settled));
        same(&line["settled_superheat_band_f"], band(advice.settled));
        same(&line["gain_f_per_turn"], Some(advice.gain.value.f()));
        same(&line["gain_band_f"], Some(advice.gain.half_width.f()));
        same(&line["next_turn"], advice.next.map(Quarters::turns));
        same(&line["expected_superheat_f"], value(advice.expected));
        same(&line["expected_band_f"], band(advice.expected));
        same(&line["minutes_to_settle"], advice.minutes_to_settle);
        let why: Vec<String> = advice
            .why
            .iter()
            .map(|why| why.says(quantity::TemperatureUnit::Fahrenheit))
            .collect();
        assert_eq!(line["why"], json!(why));
        turns += u32::from(advice.next.is_some());
    }
    assert!(turns >= 2, "the log led to no turn");
}

/// The line about the job is answered like any other: nothing is known yet but what valves do.
#[test]
fn nothing_is_known_before_the_first_reading() {
    let ran = coach(&[about()]);
    let told = last(&ran);
    for key in COACH_KEYS {
        let known = ["gain_f_per_turn", "gain_band_f", "why"].contains(&key);
        assert_eq!(told[key].is_null(), !known, "{key}");
    }
    assert!(told.get("ignored_fields").is_none(), "{told}");
    let nothing = run(&["coach"], b"");
    assert_eq!((nothing.status, nothing.stdout.as_str()), (Some(0), ""));
}

#[test]
fn a_log_of_nothing_but_superheat_is_enough() {
    let told = last(&coach(&settled_at(30.0)));
    assert_eq!(told["wait"], "settled");
    assert!((told["settled_superheat_f"].as_f64().expect("settled") - 30.0).abs() < 1.0);
    let next = told["next_turn"].as_f64().expect("a turn");
    assert!(
        (-1.0..0.0).contains(&next),
        "too high: open, at most one turn first: {next}"
    );
    // The default tools on R-410A: 2.1 °F in `evaluate`; it stands in the settled band.
    let band = told["settled_superheat_band_f"].as_f64().expect("a band");
    assert!((2.0..3.0).contains(&band), "{band}");
}

/// A full reading is the superheat that `evaluate` derives from it, with its band.
#[test]
fn a_full_reading_counts_as_what_evaluate_makes_of_it() {
    let full: Vec<Value> = [52.0, 52.6, 51.8, 52.2, 52.0]
        .iter()
        .map(|line_f| {
            let mut line = good();
            line.insert("suction_line_temp_f".into(), json!(line_f));
            Value::Object(line)
        })
        .collect();
    let meant = evaluate(&full);
    let timed = |at: usize, mut line: Value| {
        line["t_min"] = json!(2.0 * at as f64);
        line
    };
    let readings: Vec<Value> = full
        .into_iter()
        .enumerate()
        .map(|(at, line)| timed(at, line))
        .collect();
    let stated: Vec<Value> = meant
        .lines
        .iter()
        .enumerate()
        .map(|(at, told)| {
            let (value, band) = (&told["superheat_f"], &told["superheat_band_f"]);
            timed(at, json!({"superheat_f": value, "superheat_band_f": band}))
        })
        .collect();
    let (readings, stated) = (coach(&readings), coach(&stated));
    assert_eq!(readings.status, Some(0), "{}", readings.stdout);
    for (one, other) in readings.lines.iter().zip(&stated.lines) {
        near(one, other);
        assert!(one.get("ignored_fields").is_none(), "{one}");
    }
    assert_eq!(readings.lines[4]["wait"], "settled");
}

/// The tools' error of a stated superheat follows from the tools, at the pressure beside it.
#[test]
fn a_stated_superheat_has_the_error_of_the_tools() {
    let plain = Setup::new(Refrigerant::R22, Metering::AdjustableTxv);
    let dew = |psig: f64| {
        let at = plain
            .gauge
            .absolute(quantity::GaugePressure::from_psig(psig), plain.local_air);
        Refrigerant::R22
            .dew()
            .temperature(at)
            .expect("in the table")
    };
    let band = |psig: f64| {
        let line = dew(psig) + TemperatureDifference::from_f(10.0);
        let reading = Reading::of(&[
            (Field::SuctionPressure, psig),
            (Field::SuctionLine, line.f()),
        ]);
        let derived = derive(&check(&plain, &reading).0);
        derived.superheat.expect("read").half_width.f()
    };
    // R-22 evaporates at 40 °F under 68.6 psig (ASHRAE Handbook - Fundamentals 2017, chapter 30).
    for (psig, beside) in [(68.6, false), (40.0, true)] {
        let with = |line: Value| -> Value {
            let mut line = object(line);
            line.insert("superheat_band_f".into(), json!(band(psig)));
            Value::Object(line)
        };
        let lines = |banded: bool| -> Vec<Value> {
            let job = json!({"job": {"refrigerant": "R-22"}});
            let readings = settled_at(10.0).into_iter().map(|mut line| {
                if beside {
                    line["suction_pressure_psig"] = json!(psig);
                }
                if banded { with(line) } else { line }
            });
            std::iter::once(job).chain(readings).collect()
        };
        near(&last(&coach(&lines(false))), &last(&coach(&lines(true))));
    }
    assert!(band(40.0) > band(68.6) + 0.5, "the two cases differ");
}

/// The needle's low and high, beside a superheat as beside gauges and pipes.
#[test]
fn a_swinging_needle_is_taken_with_either_kind_of_reading() {
    let needle = |line: &mut Value| {
        line["suction_pressure_low_psig"] = json!(111.0);
        line["suction_pressure_high_psig"] = json!(131.0);
    };
    let mut full = vec![about()];
    let mut stated = vec![about()];
    let mut quiet = vec![about()];
    for at in 0..5 {
        let mut line = good();
        line.insert("t_min".into(), json!(at));
        let mut line = Value::Object(line);
        needle(&mut line);
        full.push(line);
        let derived = evaluate(&[Value::Object(good())]).lines[0].clone();
        let mut line = json!({"t_min": at, "superheat_f": derived["superheat_f"]});
        quiet.push(line.clone());
        needle(&mut line);
        stated.push(line);
    }
    let (full, stated) = (coach(&full), coach(&stated));
    near(&last(&full), &last(&stated));
    assert_eq!(last(&stated)["wait"], "hunting");
    assert_eq!(last(&stated)["stop"], "hunting");
    assert_ne!(last(&coach(&quiet))["wait"], "hunting");
}

/// Head over the plate's limit, as the page says it.
#[test]
fn head_is_judged_by_the_jobs_limit() {
    let mut line = good();
    line.insert("t_min".into(), json!(0));
    for (limit, stop) in [(339.0, json!("high-head")), (360.0, Value::Null)] {
        line.insert("head_limit_psig".into(), json!(limit));
        let told = last(&coach(&[Value::Object(line.clone())]));
        assert_eq!(told["stop"], stop, "{limit}");
        assert!(told.get("ignored_fields").is_none(), "{told}");
    }
}

/// Keys about the job may stand on a reading as in `evaluate`; they hold from there on.
#[test]
fn a_reading_may_carry_the_keys_about_the_job() {
    let mut lines = settled_at(14.0);
    let above = last(&coach(&lines));
    assert!(above["next_turn"].as_f64().expect("a turn") < 0.0);
    lines[0]["superheat_target_f"] = json!([12, 16]);
    assert_eq!(last(&coach(&lines))["stop"], "at-target");
    lines[6]["superheat_target_f"] = json!([18, 22]);
    assert!(last(&coach(&lines))["next_turn"].as_f64().expect("a turn") > 0.0);
}

/// Lines in any order come to the same; each is answered at the newest time so far.
#[test]
fn order_does_not_matter_in_the_end() {
    let mut lines = settled_at(30.0);
    lines.push(json!({"t_min": 9.5, "turn": -1}));
    for (t_min, superheat) in [(12.0, 28.4), (14.0, 28.1), (16.0, 27.9), (18.0, 28.0)] {
        lines.push(json!({"t_min": t_min, "superheat_f": superheat}));
    }
    let forward = last(&coach(&lines));
    assert!(forward["settled_superheat_f"].is_number(), "{forward}");
    lines.reverse();
    let mut backward = last(&coach(&lines));
    assert_eq!(backward["t_min"], 0.0);
    backward["t_min"] = forward["t_min"].clone();
    assert_eq!(forward, backward);
}

#[test]
fn events_are_taken() {
    let settled = settled_at(30.0);
    let after = |event: Value| {
        let mut lines = settled.clone();
        lines.push(event);
        last(&coach(&lines))
    };
    assert_eq!(
        after(json!({"t_min": 10, "turn": -0.5}))["wait"],
        "drifting"
    );
    assert_eq!(
        after(json!({"t_min": 10, "disturbed": true}))["wait"],
        "drifting"
    );
    let opening = after(json!({"t_min": 10, "stem_end": "opening"}));
    assert_eq!(
        (&opening["next_turn"], &opening["stop"]),
        (&Value::Null, &json!("not-reachable"))
    );
    let closing = after(json!({"t_min": 10, "stem_end": "closing"}));
    assert!(closing["next_turn"].as_f64().expect("open") < 0.0);
    assert_eq!(
        after(json!({"t_min": 10, "turn": -0.5, "turned_by": null, "stem_end": null}))["ignored_fields"],
        json!(["turned_by"])
    );
}

/// Liquid waits for nothing, and the way out is clockwise.
#[test]
fn low_superheat_stops_at_once() {
    let told = last(&coach(&[about(), json!({"t_min": 0, "superheat_f": 2.0})]));
    assert_eq!(told["stop"], "below-minimum");
    assert!(told["next_turn"].as_f64().expect("a turn") > 0.0);
}

/// A device without a stem: where superheat settles is told, a turn is not.
#[test]
fn a_device_without_a_stem_gets_no_turn() {
    for metering in ["txv-fixed", "eev", "orifice"] {
        let job = json!({"job": {"refrigerant": "R-22", "metering": metering}});
        let lines: Vec<Value> = std::iter::once(job).chain(settled_at(20.0)).collect();
        let told = last(&coach(&lines));
        assert_eq!(told["wait"], "settled");
        assert!(told["settled_superheat_f"].is_number());
        for key in [
            "next_turn",
            "gain_f_per_turn",
            "gain_band_f",
            "expected_superheat_f",
        ] {
            assert!(told[key].is_null(), "{metering} {key}");
        }
        let low = json!({"t_min": 20, "superheat_f": 1.0});
        let flooded = last(&coach(&[lines, vec![low]].concat()));
        assert_eq!(
            (&flooded["stop"], &flooded["next_turn"]),
            (&json!("below-minimum"), &Value::Null)
        );
        for told in [told, flooded] {
            let why = told["why"].to_string();
            assert!(
                why.contains("no stem") && !why.contains("clockwise"),
                "{why}"
            );
        }
    }
}

/// Without a refrigerant a pressure is no temperature: told back, the superheat still counts.
#[test]
fn pressures_without_a_refrigerant_are_told_back() {
    let mut lines = settled_at(30.0);
    let plain = last(&coach(&lines));
    lines[6]["liquid_pressure_psig"] = json!(340);
    lines[6]["suction_line_temp_f"] = json!(60);
    let mut told = object(last(&coach(&lines)));
    let unused = told.remove("ignored_fields");
    assert_eq!(unused, Some(json!(["liquid_pressure_psig"])));
    assert_eq!(Value::Object(told), plain);
}

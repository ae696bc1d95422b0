//! The practice bench from the command line: the same debrief as the core's, and every bad line told.

use practice::{Action, Case, Session, good_technician, lessons, run_script};
use serde_json::{Value, json};

mod support;
use support::{Ran, run};

/// Whatever comes first: gauges, thermometers, a wait, a call.
const SCRIPT: &str = r#"{"do": "look", "spot": "filter"}

{"do": "connect-gauges", "place": "service-valve"}
{"at_s": 600, "do": "strap-probes", "place": "bulb", "wrapped": true}
{"do": "wait", "seconds": 300}
{"do": "call", "causes": ["no-fault"]}
"#;

fn bench(case: &str, script: &str) -> Ran {
    run(
        &["bench", "--case", case, "--script", "-"],
        script.as_bytes(),
    )
}

/// A script's debrief, and that the core says the same.
fn check(case: &str, script: &str) -> Value {
    let ran = bench(case, script);
    assert_eq!(ran.status, Some(0), "{}", ran.stdout);
    let core = run_script(case, script).expect("a good script");
    let core = serde_json::to_string(&core).expect("plain");
    assert_eq!(ran.stdout, format!("{core}\n"));
    ran.lines.into_iter().next().expect("one object")
}

/// What is told of a script's one bad line: its number, its field, and a word of the message.
fn bad(script: &str, line: Option<usize>, field: Option<&str>, word: &str) -> Value {
    let ran = bench("bench=3;lesson=wait-for-it", script);
    assert_eq!(ran.status, Some(2), "{script}");
    let [told] = ran.lines.as_slice() else {
        panic!("not one line: {}", ran.stdout);
    };
    let error = &told["error"];
    assert_eq!(error["line"], json!(line), "{error}");
    assert_eq!(error["field"], json!(field), "{error}");
    let message = error["message"].as_str().expect("a message");
    assert!(message.contains(word), "{message}");
    assert!(error["remedy"].as_str().is_some_and(|it| !it.is_empty()));
    error.clone()
}

#[test]
fn a_script_gives_the_debrief_of_the_core() {
    let debrief = check("bench=41", SCRIPT);
    assert_eq!(debrief["address"], "bench=41");
    assert_eq!(debrief["path"]["called"], json!(["no-fault"]));
    // 600 s until the thermometers, 4 min for them, 5 min of waiting: by hand.
    assert_eq!(debrief["path"]["minutes"], json!(19.0));
}

#[test]
fn a_seed_and_its_case_are_one() {
    let by_seed = run(
        &["bench", "--seed", "41", "--script", "-"],
        SCRIPT.as_bytes(),
    );
    assert_eq!(by_seed.status, Some(0));
    assert_eq!(by_seed.stdout, bench("bench=41", SCRIPT).stdout);
    let both = [
        "bench", "--seed", "41", "--case", "bench=41", "--script", "-",
    ];
    assert_eq!(run(&both, SCRIPT.as_bytes()).stdout, by_seed.stdout);
    let other = [
        "bench", "--seed", "42", "--case", "bench=41", "--script", "-",
    ];
    assert_eq!(run(&other, SCRIPT.as_bytes()).status, Some(2));
}

#[test]
fn a_script_may_be_a_file() {
    let file = std::env::temp_dir().join(format!("evenfeed-bench-{}.jsonl", std::process::id()));
    std::fs::write(&file, SCRIPT).expect("a file");
    let path = file.to_string_lossy();
    let ran = run(&["bench", "--seed", "41", "--script", &path], b"");
    std::fs::remove_file(&file).expect("it was there");
    assert_eq!(ran.status, Some(0));
    assert_eq!(ran.stdout, bench("bench=41", SCRIPT).stdout);
    let gone = run(&["bench", "--seed", "41", "--script", &path], b"");
    assert_eq!(gone.status, Some(1));
}

/// The scripted technician's own steps, written down and run again, in every lesson of the house.
#[test]
fn the_steps_of_a_session_are_a_script() {
    for lesson in lessons() {
        let mut session = Session::begin(Case::of_lesson(lesson).expect("a lesson of the house"));
        good_technician(&mut session);
        let script: String = session
            .steps()
            .iter()
            .map(|step| serde_json::to_string(step).expect("plain") + "\n")
            .collect();
        let debrief = check(&session.case().address(), &script);
        let own = practice::debrief(&session).expect("it is over");
        assert_eq!(
            debrief,
            serde_json::to_value(own).expect("plain"),
            "{}",
            lesson.key
        );
    }
}

#[test]
fn a_line_that_is_no_action_is_told_with_its_field() {
    bad("nonsense", Some(1), None, "not a JSON object");
    bad("\n\n[1]", Some(3), None, "not a JSON object");
    bad("{}", Some(1), Some("do"), "missing");
    bad(r#"{"do": "dance"}"#, Some(1), Some("do"), "no action");
    bad(r#"{"do": 3}"#, Some(1), Some("do"), "no action");
    bad(r#"{"do": "look"}"#, Some(1), Some("spot"), "missing");
    let told = bad(
        r#"{"do": "look", "spot": "roof"}"#,
        Some(1),
        Some("spot"),
        "roof",
    );
    assert!(
        told["range"]
            .as_array()
            .is_some_and(|it| it.contains(&json!("stem-cap")))
    );
    assert_eq!(told["value"], "roof");
    bad(
        r#"{"do": "leave", "spot": "roof"}"#,
        Some(1),
        Some("spot"),
        "means nothing",
    );
    bad(
        r#"{"do": "strap-probes", "place": "bulb", "wrapped": "yes"}"#,
        Some(1),
        Some("wrapped"),
        "boolean",
    );
    bad(
        r#"{"do": "turn-stem", "quarters": 0.5}"#,
        Some(1),
        Some("quarters"),
        "0.5",
    );
    bad(
        r#"{"do": "call", "causes": ["gremlins"]}"#,
        Some(1),
        Some("causes"),
        "gremlins",
    );
    bad(
        r#"{"do": "leave", "at_s": -1}"#,
        Some(1),
        Some("at_s"),
        "whole number",
    );
    bad(
        r#"{"do": "leave", "at_s": 1.5}"#,
        Some(1),
        Some("at_s"),
        "whole number",
    );
}

#[test]
fn what_the_bench_refuses_is_told_with_its_line() {
    let then = |line: &str| format!("{{\"do\": \"look\", \"spot\": \"filter\"}}\n{line}");
    let refused = |line: &str, field: &str, word: &str| {
        bad(&then(line), Some(2), Some(field), word);
    };
    refused(
        r#"{"do": "turn-stem", "quarters": 9}"#,
        "quarters",
        "9 quarter turns",
    );
    refused(
        r#"{"do": "turn-stem", "quarters": 0}"#,
        "quarters",
        "0 quarter turns",
    );
    refused(r#"{"do": "start-again"}"#, "do", "nothing to start");
    refused(r#"{"do": "watch-needle"}"#, "do", "gauges");
    refused(r#"{"do": "wait", "seconds": 14401}"#, "seconds", "4 hours");
    refused(
        r#"{"do": "call", "causes": ["no-fault", "no-fault"]}"#,
        "causes",
        "once",
    );
    refused(r#"{"at_s": 60, "do": "leave"}"#, "at_s", "120 s already");
    let gauges = r#"{"do": "connect-gauges", "place": "bulb"}"#;
    let weigh = |line: &str| format!("{gauges}\n{line}");
    let heavy = weigh(r#"{"do": "add-charge", "ounces": 65}"#);
    bad(&heavy, Some(2), Some("ounces"), "65 oz");
    let most = weigh(
        &r#"{"do": "take-charge", "ounces": 64}
"#
        .repeat(3),
    );
    let told = bad(&most, Some(3), Some("ounces"), "its charge");
    assert_eq!(told["range"], json!([0, 64]));
    bad(
        "{\"do\": \"leave\"}\n{\"do\": \"leave\"}",
        Some(2),
        Some("do"),
        "over",
    );
}

#[test]
fn devices_without_stem_or_bulb_refuse_what_needs_them() {
    for (line, word) in [
        (r#"{"do": "turn-stem", "quarters": 1}"#, "stem"),
        (r#"{"do": "warm-bulb"}"#, "bulb"),
    ] {
        let gauges = r#"{"do": "connect-gauges", "place": "bulb"}"#;
        let ran = bench("bench=5;metering=orifice", &format!("{gauges}\n{line}"));
        assert_eq!(ran.status, Some(2));
        let message = ran.lines[0]["error"]["message"].to_string();
        assert!(message.contains(word), "{message}");
    }
}

#[test]
fn a_case_that_is_none_is_told_without_a_line() {
    for (case, word) in [
        ("bunch=1", "begin with bench="),
        ("bench=one", "whole number"),
        ("bench=1;colour=blue", "no part"),
        ("bench=1;tons=4", "7.5"),
        ("bench=1;lesson=none", "read-superheat"),
    ] {
        let ran = bench(case, "");
        assert_eq!(ran.status, Some(2));
        let error = &ran.lines[0]["error"];
        assert_eq!(error["line"], Value::Null);
        assert_eq!(error["field"], "case");
        assert_eq!(error["value"], case);
        assert!(error["message"].to_string().contains(word), "{error}");
    }
}

#[test]
fn a_command_that_makes_no_sense_gets_the_help() {
    for words in [
        &["bench"][..],
        &["bench", "--seed", "1"],
        &["bench", "--script", "-"],
        &["bench", "--seed", "1", "--script"],
        &["bench", "--seed", "1", "--seed", "2", "--script", "-"],
        &["bench", "--seed", "1", "--script", "-", "--loud"],
    ] {
        let ran = run(words, b"");
        assert_eq!(ran.status, Some(2), "{words:?}");
        assert!(ran.stdout.is_empty() && ran.stderr.contains("BENCH"));
    }
}

#[test]
fn help_names_every_action_and_field_and_lesson_part() {
    let help = run(&["--help"], b"").stdout;
    let words: Vec<&str> = help
        .split(|letter: char| !(letter.is_ascii_alphanumeric() || matches!(letter, '_' | '-')))
        .collect();
    let named = |word: &str| assert!(words.contains(&word), "--help does not name {word}");
    for action in Action::samples() {
        named(action.row().key);
        let fields = serde_json::to_value(&action).expect("plain");
        support::object(fields)
            .keys()
            .for_each(|field| named(field));
    }
    practice::Spot::ALL
        .iter()
        .for_each(|spot| named(spot.key()));
    practice::Difficulty::ALL
        .iter()
        .for_each(|it| named(it.key()));
    let debrief = serde_json::to_value(run_script("bench=41", "").expect("a case")).expect("plain");
    for key in [
        "troubles",
        "right",
        "path",
        "good_path",
        "tool_says",
        "scores",
        "points",
        "out_of",
        "lesson_says",
    ] {
        named(key);
        assert!(debrief.get(key).is_some(), "{key}");
    }
}

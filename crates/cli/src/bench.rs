//! A script of actions on the practice bench; the debrief as one JSON object. No rule of its own.

use crate::fault::Fault;
use practice::{Action, Refused, ScriptError, Spot, run_script};
use serde_json::{Map, Value, json};
use std::fs;
use std::io::{self, Read, Write};

/// What follows `bench` on the command line.
pub struct Asked {
    case: String,
    script: String,
}

impl Asked {
    /// Reads the words after `bench`; `None` where they make no sense.
    pub fn read(words: &[String]) -> Option<Self> {
        let (mut seed, mut case, mut script) = (None, None, None);
        let mut words = words.iter();
        while let Some(word) = words.next() {
            let place = match word.as_str() {
                "--seed" => &mut seed,
                "--case" => &mut case,
                "--script" => &mut script,
                _ => return None,
            };
            if place.replace(words.next()?.clone()).is_some() {
                return None;
            }
        }
        let case = match (seed, case) {
            (Some(seed), None) => format!("bench={seed}"),
            (None, Some(case)) => case,
            // Both: the number must be the case's own.
            (Some(seed), Some(case)) => number(&case)
                .is_none_or(|own| own == seed)
                .then_some(case)?,
            (None, None) => return None,
        };
        Some(Self {
            case,
            script: script?,
        })
    }
}

/// The number in an address, if it looks like one.
fn number(case: &str) -> Option<&str> {
    case.trim_start_matches('#')
        .strip_prefix("bench=")?
        .split(';')
        .next()
}

/// Writes the debrief, or what is wrong; gives back whether there was a debrief.
pub fn run(asked: &Asked, given: &mut impl Read, out: &mut impl Write) -> io::Result<bool> {
    let mut script = String::new();
    if asked.script == "-" {
        given.read_to_string(&mut script)?;
    } else {
        script = fs::read_to_string(&asked.script)?;
    }
    match run_script(&asked.case, &script) {
        Ok(debrief) => {
            serde_json::to_writer(&mut *out, &debrief)?;
            writeln!(out)?;
            Ok(true)
        }
        Err(error) => {
            let told = told(&error, &asked.case, &script);
            writeln!(out, "{}", json!({ "error": told }))?;
            Ok(false)
        }
    }
}

fn told(error: &ScriptError, case: &str, script: &str) -> Value {
    let text = |line: usize| script.lines().nth(line - 1).unwrap_or_default();
    let value = |line: usize, field: &str| {
        let object: Option<Value> = serde_json::from_str(text(line)).ok();
        object
            .and_then(|it| it.get(field).cloned())
            .unwrap_or(Value::Null)
    };
    let (line, fault) = match error {
        ScriptError::Case(why) => (
            None,
            Fault::new(
                Some("case"),
                &json!(case),
                Value::Null,
                why.to_string(),
                "Give --seed a whole number, or --case an address as in --help.",
            ),
        ),
        ScriptError::Line { line, says } => (Some(*line), unread(text(*line), says)),
        ScriptError::Past { line, now_s } => (
            Some(*line),
            Fault::new(
                Some("at_s"),
                &value(*line, "at_s"),
                json!([now_s, LATEST_S]),
                format!("It is {now_s} s already."),
                "Leave at_s out, or give a later one.",
            ),
        ),
        ScriptError::Refused { line, why } => {
            let field = blamed(why);
            let fault = Fault::new(
                Some(field),
                &value(*line, field),
                range(field),
                why.to_string(),
                "Leave this line out, or do first what it needs.",
            );
            (Some(*line), fault)
        }
    };
    fault.told(line)
}

/// The last second of a visit: a day.
const LATEST_S: u32 = 86_400;

/// The field of an action that a refusal speaks of.
const fn blamed(why: &Refused) -> &'static str {
    match why {
        Refused::Step { .. } => "quarters",
        Refused::Weight { .. } | Refused::Charge => "ounces",
        Refused::TooLong => "seconds",
        Refused::Call => "causes",
        _ => "do",
    }
}

/// What may stand in a field of an action.
fn range(field: &str) -> Value {
    match field {
        "do" => json!(
            Action::samples()
                .iter()
                .map(|it| it.row().key)
                .collect::<Vec<_>>()
        ),
        "spot" => json!(Spot::ALL.map(Spot::key)),
        "place" => json!(["bulb", "service-valve"]),
        "wrapped" => json!([true, false]),
        "quarters" => json!([-8, 8]),
        "ounces" => json!([0, 64]),
        "seconds" => json!([0, 14_400]),
        "at_s" => json!([0, LATEST_S]),
        "causes" => json!(
            diagnosis::Cause::ALL
                .iter()
                .map(|it| it.key())
                .collect::<Vec<_>>()
        ),
        _ => Value::Null,
    }
}

const REMEDY: &str = "See --help for every action and its fields.";

/// What is wrong with a line that is no action.
fn unread(text: &str, says: &str) -> Fault {
    let line: Map<String, Value> = match serde_json::from_str(text) {
        Ok(line) => line,
        Err(error) => return Fault::not_json(&error.to_string()),
    };
    let wrong = |field: &str, message: String| {
        let value = line.get(field).unwrap_or(&Value::Null);
        Fault::new(Some(field), value, range(field), message, REMEDY)
    };
    let Some(key) = line.get("do") else {
        return Fault::missing("do", range("do"), REMEDY);
    };
    if line
        .get("at_s")
        .is_some_and(|at_s| serde_json::from_value::<u32>(at_s.clone()).is_err())
    {
        return wrong(
            "at_s",
            "at_s is a whole number of seconds since arrival.".to_owned(),
        );
    }
    let sample = Action::samples()
        .into_iter()
        .find(|it| json!(it.row().key) == *key);
    let Some(Ok(Value::Object(sample))) = sample.map(serde_json::to_value) else {
        return wrong("do", format!("{key} is no action."));
    };
    for (field, value) in &line {
        if field == "at_s" {
            continue;
        }
        if !sample.contains_key(field) {
            return wrong(field, format!("{field} means nothing with {key}."));
        }
        // The one field that a sound action cannot bear.
        let mut tried = sample.clone();
        tried.insert(field.clone(), value.clone());
        if let Err(error) = serde_json::from_value::<Action>(Value::Object(tried)) {
            return wrong(field, format!("{field}: {error}."));
        }
    }
    match sample.keys().find(|field| !line.contains_key(*field)) {
        Some(field) => Fault::missing(field, range(field), REMEDY),
        None => Fault::new(None, &Value::Null, Value::Null, says.to_owned(), REMEDY),
    }
}

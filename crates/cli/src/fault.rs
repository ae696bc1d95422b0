//! What is wrong with a line, as it is told.

use diagnosis::{Refusal, Setup};
use serde_json::{Value, json};

/// What is wrong with a line; only the line's number is still blank.
#[derive(Debug)]
pub struct Fault(Value);

impl Fault {
    /// A field, what stood there, what may stand there, and what to do.
    pub fn new(
        field: Option<&str>,
        value: &Value,
        range: Value,
        message: String,
        remedy: &str,
    ) -> Self {
        Self(json!({
            "line": null,
            "field": field,
            "value": value,
            "range": range,
            "message": message,
            "remedy": remedy,
        }))
    }

    /// The line is not a JSON object.
    pub fn not_json(why: &str) -> Self {
        Self::new(
            None,
            &Value::Null,
            Value::Null,
            format!("This line is not a JSON object: {why}."),
            "Write one object on each line; see --help.",
        )
    }

    /// A field that has to be there is not.
    pub fn missing(field: &str, range: Value, remedy: &str) -> Self {
        Self::new(
            Some(field),
            &Value::Null,
            range,
            format!("{field} is missing."),
            remedy,
        )
    }

    /// A number that the core turned away.
    pub fn refused(refusal: &Refusal, setup: &Setup) -> Self {
        let row = refusal.field.row();
        let range = [round(refusal.low), round(refusal.high)];
        let why = if refusal.by_table {
            format!(
                "the saturation table of {} with this gauge and air",
                setup.refrigerant.name()
            )
        } else {
            "what such an instrument can show".to_owned()
        };
        Self::new(
            Some(row.key),
            &json!(refusal.value),
            json!(range),
            format!(
                "{} {} is outside {} to {}, {why}.",
                row.key, refusal.value, range[0], range[1]
            ),
            row.remedy,
        )
    }

    /// As JSON, with the line's number from 1; without one where no line is to blame.
    pub fn told(mut self, line: impl Into<Option<usize>>) -> Value {
        self.0["line"] = json!(line.into());
        self.0
    }
}

fn round(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}

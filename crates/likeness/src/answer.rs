//! Text in, text out: what a background worker is asked and answers.

use serde::{Deserialize, Serialize};

use crate::error::FitError;
use crate::fit::fit;
use crate::outlook::Outlook;
use crate::reach::WillItFit;
use crate::report::Report;
use crate::told::Told;
use crate::what_if::Forecast;

/// What is asked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Question {
    /// What was told of the system.
    pub told: Told,
    /// Ounces to add, or below zero to recover, whose effect is asked for.
    #[serde(default)]
    pub ounces: Option<f64>,
    /// Whether the valve fits over the range of weather is asked for too.
    #[serde(default)]
    pub will_it_fit: bool,
}

/// What is answered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// What was fitted, and how well. When `poor`, nothing else is answered.
    pub likeness: Report,
    /// What the fitted systems would read now.
    pub now: Option<Outlook>,
    /// What changes would do.
    pub what_if: Vec<Forecast>,
    /// What the ounces would do.
    pub after_charge: Option<Forecast>,
    /// Why the ounces have no answer.
    pub no_ounces: Option<String>,
    /// Whether the valve fits.
    pub will_it_fit: Option<WillItFit>,
}

/// Why there is no answer, as [`answer`] writes it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Failure {
    /// As in [`FitError::key`], or `not-a-question`, `not-an-answer`.
    pub key: String,
    /// For a person.
    pub says: String,
}

#[derive(Serialize, Deserialize)]
struct Failed {
    error: Failure,
}

/// Reads what [`answer`] wrote.
///
/// # Errors
/// The [`Failure`] that was written; `not-an-answer` for any other text.
///
/// # Example
/// ```
/// let said = likeness::answer("What would a turn do?");
/// assert_eq!(likeness::read(&said).unwrap_err().key, "not-a-question");
/// assert_eq!(likeness::read("nothing").unwrap_err().key, "not-an-answer");
/// ```
pub fn read(answer: &str) -> Result<Answer, Failure> {
    serde_json::from_str(answer).map_err(|error| {
        serde_json::from_str::<Failed>(answer).map_or_else(
            |_| Failure {
                key: "not-an-answer".to_owned(),
                says: error.to_string(),
            },
            |failed| failed.error,
        )
    })
}

/// Answers a [`Question`] as JSON with an [`Answer`] as JSON, or `{"error":{"key":..,"says":..}}`.
/// Never panics.
pub fn answer(question: &str) -> String {
    let said = match serde_json::from_str::<Question>(question) {
        Err(error) => failed("not-a-question", error.to_string()),
        Ok(question) => match answered(&question) {
            Ok(answer) => serde_json::to_string(&answer),
            Err(error) => failed(error.key(), error.to_string()),
        },
    };
    // Nothing in these types fails to serialise; were one to, the reader still gets an error.
    said.unwrap_or_else(|_| r#"{"error":{"key":"not-serialised","says":""}}"#.to_owned())
}

fn failed(key: &str, says: String) -> Result<String, serde_json::Error> {
    let key = key.to_owned();
    serde_json::to_string(&Failed {
        error: Failure { key, says },
    })
}

/// The same without text.
///
/// # Errors
/// As [`fit`].
pub fn answered(question: &Question) -> Result<Answer, FitError> {
    let likeness = fit(&question.told)?;
    let report = likeness.report();
    if report.poor {
        return Ok(Answer {
            likeness: report,
            now: None,
            what_if: Vec::new(),
            after_charge: None,
            no_ounces: None,
            will_it_fit: None,
        });
    }
    let (now, what_if) = likeness.what_if();
    let (after_charge, no_ounces) = match question.ounces.map(|oz| likeness.after_charge(oz)) {
        None => (None, None),
        Some(Ok(forecast)) => (Some(forecast), None),
        Some(Err(why)) => (None, Some(why.to_string())),
    };
    Ok(Answer {
        will_it_fit: question.will_it_fit.then(|| likeness.will_it_fit()),
        likeness: report,
        now,
        what_if,
        after_charge,
        no_ounces,
    })
}

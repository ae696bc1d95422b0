//! What is said of a system like this one while there is no answer, and numbers of an answer in the
//! person's unit.

use crate::desk::Likened;
use diagnosis::Field;
use leptos::prelude::*;
use likeness::{Answer, Band};
use quantity::{TemperatureDifference, Units, tenth};
use std::sync::Arc;

/// The answer, if there is one that means anything; else the words to say instead.
pub(crate) fn answer_or_words(likened: &Likened) -> Result<Arc<Answer>, String> {
    Err(match likened {
        Likened::Said(answer) if !answer.likeness.poor => return Ok(answer.clone()),
        Likened::Said(_) => {
            "No system of this kind reads like that, so nothing is foretold. Another refrigerant than named, gas that does not condense, a slip of the pen or a fault outside the model does this: check those first.".to_owned()
        }
        Likened::NotRead => "Keep a reading first.".to_owned(),
        Likened::Lacking(fields) => format!("Still to be read: {}.", wanted(fields)),
        Likened::Working => "Working it out\u{2026}".to_owned(),
        Likened::Failed(says) => format!("No answer for this reading. {says}"),
        Likened::NotAvailable => {
            "Not to be had in this browser: it runs no background work. Everything else stands without it.".to_owned()
        }
    })
}

/// The same in a few words, for the line that folds it.
pub(crate) fn in_brief(likened: &Likened) -> &'static str {
    match likened {
        Likened::Said(_) => "no system reads like this",
        Likened::NotRead => "nothing read yet",
        Likened::Lacking(_) => "readings are missing",
        Likened::Working => "working it out\u{2026}",
        Likened::Failed(_) => "no answer",
        Likened::NotAvailable => "not available here",
    }
}

/// Names of fields; of open and entering air either will do.
fn wanted(fields: &[Field]) -> String {
    let either = [Field::CondenserAir, Field::OpenAir];
    let mut names: Vec<String> = fields
        .iter()
        .filter(|field| !either.contains(field))
        .map(|field| field.row().label.to_owned())
        .collect();
    if fields.contains(&Field::OpenAir) {
        let [entering, open] = either.map(|field| field.row().label);
        names.push(format!("{open}, or {entering}"));
    }
    names.join("; ")
}

/// Digits of a difference that is given in °F.
pub(crate) fn digits(difference_f: f64, units: Units) -> String {
    let difference = TemperatureDifference::from_f(difference_f);
    tenth(units.temperature.show_difference(difference))
}

/// A band of differences that is given in °F: `12.2 to 16.0`.
pub(crate) fn band(band_f: &Band, units: Units) -> String {
    let (low, high) = (digits(band_f.low, units), digits(band_f.high, units));
    format!("{low} to {high}")
}

/// Whether the screen is a wide one, where nothing need be folded.
pub(crate) fn is_wide() -> bool {
    const WIDE_PX: f64 = 1000.0;
    let width = window().inner_width().ok().and_then(|width| width.as_f64());
    width.is_some_and(|width| width >= WIDE_PX)
}

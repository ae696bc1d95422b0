//! The screens of the bench as trees of words: what a page shows without knowing anything of it.
//!
//! Where to start: [`Bench`](crate::Bench) asks for a sheet; `pick`, `plant` and `after` write one
//! each. A tree is JSON: `[tag, {attributes}, child, ...]`, a child being a text or a tree. Attributes
//! beside those of HTML and SVG:
//!
//! - `data-ask`: what a tap asks of the page, as JSON; see [`Ask`].
//! - `data-live`: a key; the text is renewed as time goes by, see [`live`].
//! - `data-fold`: a key; the page keeps what was open.
//!
//! The trees stand here, and not in the page, because a page that never opens the bench should not
//! load them: here they come with the worker.

mod after;
mod pick;
mod plant;
mod timeline;
mod units;

pub(crate) use after::after;
pub(crate) use pick::{address, pick};
pub(crate) use plant::{live, plant};
pub(crate) use units::Shown;

use serde::Serialize;
use serde_json::{Map, Value};

/// What a tap asks. Fields that a person fills are named; the page puts their values in.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Ask {
    /// Begin the case of this address.
    Begin(String),
    /// Begin the case of the fields.
    BeginAsked,
    /// Do this.
    Do(crate::Action),
    /// Call what is ticked in the field `causes`.
    Call,
    /// Turn the stem by the field `quarters`.
    Turn,
    /// Weigh in the field `weight-in`.
    WeighIn,
    /// Weigh out the field `weight-out`.
    WeighOut,
    /// Let the plant's clock go by so many seconds a second.
    Pace(u32),
    /// Let time go to the end of the wait.
    Skip,
    /// Take what the tools show into the job.
    TakeReading,
    /// Show what can be picked.
    Pick,
    /// Hand the attempt over as a file.
    HandOver,
}

/// A tree.
pub(crate) fn el(tag: &str, attributes: &[(&str, &str)], children: Vec<Value>) -> Value {
    let attributes: Map<String, Value> = attributes
        .iter()
        .map(|(name, value)| ((*name).to_owned(), Value::from(*value)))
        .collect();
    let mut all = vec![Value::from(tag), Value::Object(attributes)];
    all.extend(children);
    Value::Array(all)
}

/// A tree with nothing but words in it.
pub(crate) fn words(tag: &str, class: &str, text: &str) -> Value {
    let attributes = [("class", class)];
    let attributes: &[_] = if class.is_empty() { &[] } else { &attributes };
    el(tag, attributes, vec![text.into()])
}

/// A button.
pub(crate) fn button(class: &str, ask: &Ask, children: Vec<Value>) -> Value {
    // These types are always written.
    let ask = serde_json::to_string(ask).unwrap_or_default();
    el(
        "button",
        &[("type", "button"), ("class", class), ("data-ask", &ask)],
        children,
    )
}

/// Something folded, with a key by which the page remembers whether it is open.
pub(crate) fn fold(key: &str, open: bool, heading: &str, children: Vec<Value>) -> Value {
    let mut all = vec![words("summary", "", heading)];
    all.extend(children);
    let mut attributes = vec![("class", "more"), ("data-fold", key)];
    if open {
        attributes.push(("open", ""));
    }
    el("details", &attributes, all)
}

/// A table: caption if any, heads of the columns, rows whose first cell is their head.
pub(crate) fn table(caption: &str, heads: &[&str], rows: Vec<Vec<String>>) -> Value {
    let head = heads
        .iter()
        .map(|head| el("th", &[("scope", "col")], vec![(*head).into()]));
    let body = rows.into_iter().map(|row| {
        let cells = row
            .into_iter()
            .enumerate()
            .map(|(place, text)| match place {
                0 => el("th", &[("scope", "row")], vec![text.into()]),
                _ => el("td", &[], vec![text.into()]),
            });
        el("tr", &[], cells.collect())
    });
    let mut parts = Vec::new();
    if !caption.is_empty() {
        parts.push(words("caption", "", caption));
    }
    parts.push(el("thead", &[], vec![el("tr", &[], head.collect())]));
    parts.push(el("tbody", &[], body.collect()));
    el("table", &[("class", "plain")], parts)
}

/// A moment of the plant's clock, from arrival.
pub(crate) fn moment(at_s: u32) -> String {
    let (minutes, seconds) = (at_s / 60, at_s % 60);
    if minutes >= 60 {
        format!("{} h {:02} min", minutes / 60, minutes % 60)
    } else {
        format!("{minutes} min {seconds:02} s")
    }
}

/// Points or money: whole numbers without a tail.
pub(crate) fn plain(number: f64) -> String {
    quantity::tenth(number).trim_end_matches(".0").to_owned()
}

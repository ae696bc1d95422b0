//! What if: what changes would do to a system that reads like this one.

use crate::desk::{Likened, desk};
use crate::parts::likened::{answer_or_words, band, digits, in_brief, is_wide};
use crate::parts::{Cell, table};
use leptos::prelude::*;
use likeness::{Answer, Band, Forecast};
use quantity::Units;

/// The strip. Its caution stands wherever its numbers do.
#[component]
pub(super) fn WhatIf(
    /// A step of charge that the guard allows, in ounces and in words.
    #[prop(into)]
    step: Signal<Option<(f64, String)>>,
) -> impl IntoView {
    let desk = desk();
    let headline = Memo::new(move |_| {
        let units = desk.units.get();
        desk.likened.with(|likened| headline(likened, units))
    });
    view! {
        <p class="spoken" role="status">
            {move || format!("What if: {}", headline.get())}
        </p>
        <details class="more what-if" open=is_wide()>
            <summary>
                <span>
                    "What if " <span class="count">{headline}</span>
                </span>
            </summary>
            {move || {
                let units = desk.units.get();
                desk.likened
                    .with(|likened| match answer_or_words(likened) {
                        Ok(answer) => step.with(|step| changes(&answer, step.as_ref(), units)),
                        Err(words) => view! { <p>{words}</p> }.into_any(),
                    })
            }}
            <p class="caution">
                "A model's guess, to think with: the data plate and the maker's instructions rule. Opening the stem raises head pressure. Nothing here is a reason to add or to recover refrigerant."
            </p>
        </details>
    }
}

/// What the folded line tells: what a turn towards the band would do; without a stem, the first
/// change that has an answer.
fn headline(likened: &Likened, units: Units) -> String {
    let Ok(answer) = answer_or_words(likened) else {
        return in_brief(likened).to_owned();
    };
    let told = |wanted: &str| {
        let forecasts = answer.what_if.iter().filter(|one| one.then.is_some());
        let mut found = forecasts.filter(|one| wanted.is_empty() || one.what == wanted);
        found.next()
    };
    let opens = answer.what_if.iter().find(|one| one.what == OPENED);
    let towards = match opens.map(|one| one.floods || one.below_minimum) {
        Some(true) => CLOSED,
        _ => OPENED,
    };
    let Some((found, now)) = told(towards).or_else(|| told("")).zip(answer.now.as_ref()) else {
        return "the model has no answer".to_owned();
    };
    let then = found.then.as_ref();
    format!(
        "{}: superheat {} {}",
        words(&found.what, units).to_lowercase(),
        then.map_or(String::new(), |then| {
            moved(&now.superheat_f, &then.superheat_f, units)
        }),
        units.temperature.difference_sign(),
    )
}

/// As in `condenser-air-cooler-10-f`.
const COOLER_F: f64 = 10.0;
const OPENED: &str = "stem-out-one-turn";
const CLOSED: &str = "stem-in-one-turn";

/// A change by its name in files, in words.
fn words(what: &str, units: Units) -> String {
    let cooler = || {
        let sign = units.temperature.difference_sign();
        let by = digits(COOLER_F, units);
        format!("Condenser air {} {sign} cooler", by.trim_end_matches(".0"))
    };
    match what {
        OPENED => "Stem 1 turn open".to_owned(),
        CLOSED => "Stem 1 turn closed".to_owned(),
        "charge-up-tenth" => "Charge 10 % more".to_owned(),
        "charge-down-tenth" => "Charge 10 % less".to_owned(),
        "indoor-air-up-fifth" => "Indoor air 20 % more".to_owned(),
        "condenser-air-cooler-10-f" => cooler(),
        "condenser-in-open-air" => "No hot air drawn in".to_owned(),
        other => other.replace('-', " "),
    }
}

/// `19.4 → 14.1`.
fn moved(now: &Band, then: &Band, units: Units) -> String {
    let (now, then) = (digits(now.middle, units), digits(then.middle, units));
    format!("{now} \u{2192} {then}")
}

/// The changes as a table.
fn changes(answer: &Answer, step: Option<&(f64, String)>, units: Units) -> AnyView {
    let sign = units.temperature.difference_sign();
    let stepped = step.zip(answer.after_charge.as_ref());
    let stepped = stepped.map(|((_, says), forecast)| (format!("Charge: {says}"), forecast));
    let rows = (answer.what_if.iter())
        .map(|forecast| (words(&forecast.what, units), forecast))
        .chain(stepped)
        .map(|(what, forecast)| (what, cells(forecast, answer, units)))
        .collect();
    let heads = vec![
        "If".to_owned(),
        format!("Superheat, {sign}"),
        format!("Subcooling, {sign}"),
    ];
    let ways = match answer.likeness.ways {
        0 | 1 => "",
        _ => "More than one kind of system reads like this: the bands hold them all.",
    };
    view! {
        {table(heads, rows)}
        <p class="small">
            "Now \u{2192} then, settled; below it, where nine systems in ten that read like this would stand. "
            {ways}
        </p>
    }
    .into_any()
}

/// Superheat and subcooling, now and then.
fn cells(forecast: &Forecast, answer: &Answer, units: Units) -> Vec<Cell> {
    let Some((now, then)) = answer.now.as_ref().zip(forecast.then.as_ref()) else {
        return ["The model has no answer", ""]
            .map(|says| Cell::plain(says.to_owned()))
            .to_vec();
    };
    let cell = |now: &Band, then: &Band| Cell::banded(moved(now, then, units), band(then, units));
    let warning = match (forecast.floods, forecast.below_minimum) {
        (true, _) => "floods back",
        (false, true) => "may go under the minimum",
        (false, false) => "",
    };
    let superheat = Cell {
        warning,
        ..cell(&now.superheat_f, &then.superheat_f)
    };
    vec![superheat, cell(&now.subcooling_f, &then.subcooling_f)]
}

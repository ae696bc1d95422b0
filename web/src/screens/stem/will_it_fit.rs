//! Will it fit: whether this valve can hold its target over the range of weather.

use crate::desk::desk;
use crate::parts::likened::{answer_or_words, band, digits};
use crate::parts::{Cell, table};
use crate::screens::slice::slice;
use diagnosis::Metering;
use leptos::prelude::*;
use likeness::{Reach, Weathered, WillItFit};
use quantity::{Temperature, TemperatureDifference, Units};
use wasm_bindgen::JsCast;
use web_sys::Element;

/// The folded part. The background is asked when it is opened.
#[component]
pub(super) fn Fit() -> impl IntoView {
    let desk = desk();
    let open = RwSignal::new(false);
    let metering = Memo::new(move |_| slice(desk, |job| job.choices.metering).flatten());
    let asks = move || open.get() && metering.get().is_some_and(has_answer);
    desk.likens(asks, || None, true);
    let toggled = move |event: leptos::ev::Event| {
        let part = event
            .target()
            .and_then(|part| part.dyn_into::<Element>().ok());
        open.set(part.is_some_and(|part| part.has_attribute("open")));
    };
    let says = move || {
        if !metering.get().is_some_and(has_answer) {
            let words = metering
                .get()
                .map_or("Name the metering device on Job first.", no_stem);
            return view! { <p>{words}</p> }.into_any();
        }
        let units = desk.units.get();
        desk.likened.with(|likened| match answer_or_words(likened) {
            Err(words) => view! { <p>{words}</p> }.into_any(),
            Ok(answer) => match answer.will_it_fit.clone() {
                Some(fit) => view! { <Verdict fit=fit units=units /> }.into_any(),
                None => view! { <p>"Not asked yet."</p> }.into_any(),
            },
        })
    };
    view! {
        <details class="more will-it-fit" on:toggle=toggled>
            <summary>"Will it fit"</summary>
            <div role="status">{says}</div>
        </details>
    }
}

/// Whether the valve gives way: without that there is nothing to ask.
const fn has_answer(metering: Metering) -> bool {
    matches!(metering, Metering::AdjustableTxv | Metering::Electronic)
}

const fn no_stem(metering: Metering) -> &'static str {
    match metering {
        Metering::FixedOrifice => {
            "An orifice has no stem: its superheat goes with charge and weather. Whether its size is right stands on its label and on the plate."
        }
        _ => {
            "This valve has no stem: its superheat is what its maker set. Its size stands on its label."
        }
    }
}

#[component]
fn Verdict(fit: WillItFit, units: Units) -> impl IntoView {
    let target = format!(
        "{} to {}",
        digits(fit.target_low_f, units),
        units.difference(TemperatureDifference::from_f(fit.target_high_f))
    );
    let unsure = (!fit.sure).then_some(" Not sure: systems that read like this differ.");
    let sign = units.temperature.difference_sign();
    let rows = fit.rows.iter().map(|row| weather(row, units)).collect();
    let heads = vec![
        format!("Air, {}", units.temperature.sign()),
        "Load, %".to_owned(),
        format!("As it stands, {sign}"),
        format!("Lowest, {sign}"),
    ];
    let without: Vec<_> = fit
        .without
        .iter()
        .map(|(outdoor_f, _)| {
            let at = units.temperature(Temperature::from_f(*outdoor_f));
            view! { <p class="small">{format!("At {at} outdoors the model has no answer.")}</p> }
        })
        .collect();
    view! {
        <p>
            <strong>{reach(fit.reach, &target)}</strong>
            {unsure}
        </p>
        <div class="weather">{table(heads, rows)}</div>
        {without}
        <p class="small">
            "Air: outdoors. Load: what the coil takes, of what the valve can pass. Superheat as the stem stands, and the lowest with the stem all the way out. Under each, where nine systems in ten that read like this would stand."
        </p>
        <p class="caution">
            "A model's guess: the valve's capacity table and the plate rule. Never open a stem to its end to try it: head pressure rises and liquid may come back."
        </p>
    }
}

fn weather(row: &Weathered, units: Units) -> (String, Vec<Cell>) {
    let outdoors = units.temperature.show(Temperature::from_f(row.outdoor_f));
    let share = |part: f64| format!("{:.0}", part * 100.0);
    let load = &row.feed_share;
    let load = Cell::banded(
        share(load.middle),
        format!("{} to {}", share(load.low), share(load.high)),
    );
    let [stands, lowest] = [&row.superheat_f, &row.lowest_superheat_f]
        .map(|of| Cell::banded(digits(of.middle, units), band(of, units)));
    (format!("{outdoors:.0}"), vec![load, stands, lowest])
}

fn reach(reach: Reach, target: &str) -> String {
    match reach {
        Reach::Holds => format!("It can hold {target} in all this weather."),
        Reach::TooSmall => {
            format!("Too small here: even all the way open it stays above {target}.")
        }
        Reach::TooLarge => format!("Too large here: even all the way in it stays below {target}."),
        Reach::SomeWeather => format!("It can hold {target} in some of this weather, not in all."),
        Reach::CannotTell => "The model cannot tell.".to_owned(),
        Reach::NoStem => "No stem: its superheat is what it is.".to_owned(),
    }
}

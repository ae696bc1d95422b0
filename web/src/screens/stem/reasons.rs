//! Why the coach says what it says, in words.

use crate::desk::desk;
use coach::{Advice, Estimate, Why};
use leptos::prelude::*;
use quantity::Units;

/// Why, in words.
#[component]
pub(super) fn Reasons(advice: Memo<Option<Advice>>) -> impl IntoView {
    let desk = desk();
    let lines = move || {
        let units: Units = desk.units.get();
        advice.get().map_or(Vec::new(), |advice| {
            advice
                .why
                .iter()
                .map(|why: &Why| why.says(units.temperature))
                .collect::<Vec<_>>()
        })
    };
    let learned = move || {
        let units = desk.units.get();
        advice.get().map(|advice| {
            let by = units.difference(advice.gain.half_width);
            let gain = units.difference(advice.gain.value);
            if advice.gain_learned {
                format!("This valve: {gain} ±{by} a turn, by its own answers.")
            } else {
                format!("Valves in general: {gain} ±{by} a turn. This one has not answered yet.")
            }
        })
    };
    let scored = move || {
        let units = desk.units.get();
        let scored = advice.get()?.scored?;
        Some(format!(
            "The last turn that settled: foretold {}, came {}.",
            within(&scored.foretold, units),
            within(&scored.came, units),
        ))
    };
    view! {
        <Show when=move || !lines().is_empty()>
            <div class="reasons">
                <h2>"Why"</h2>
                <ul>
                    {move || lines().into_iter().map(|says| view! { <li>{says}</li> }).collect_view()}
                    {move || scored().map(|says| view! { <li>{says}</li> })}
                    {move || learned().map(|says| view! { <li>{says}</li> })}
                </ul>
            </div>
        </Show>
    }
}

/// A number with its band: `14.2 ±2.1 °F`.
pub(super) fn within(estimate: &Estimate, units: Units) -> String {
    let value = units.temperature.show_difference(estimate.value);
    format!(
        "{} ±{}",
        quantity::tenth(value),
        units.difference(estimate.half_width)
    )
}

//! What was weighed in or out, and what else was changed: both send the job back to superheat.

use super::slice::{slice, slice_now};
use crate::desk::desk;
use crate::parts::NumberField;
use job::{Disturbance, Event, Measure, Slip, Typed};
use leptos::prelude::*;

/// The charge ledger and the other changes.
#[component]
pub(super) fn Weigh() -> impl IntoView {
    let desk = desk();
    let text = RwSignal::new(slice_now(desk, |job| job.slip(Slip::Weight)).unwrap_or_default());
    let measure = Measure::Mass;
    let sum = move || {
        let units = desk.units.get();
        slice(desk, |job| job.charge_says(units)).unwrap_or_default()
    };
    let weigh = move |sign: &str| {
        let typed = text.get_untracked();
        let typed = typed.trim().trim_start_matches(['-', '\u{2212}', '+']);
        let typed = Typed::new(&format!("{sign}{typed}"), desk.units.get_untracked());
        if desk.happens(Event::Weighed { typed }) {
            text.set(String::new());
        }
    };
    let changes = Disturbance::ALL
        .into_iter()
        .map(|what| {
            view! {
                <button
                    type="button"
                    on:click=move |_| {
                        desk.happens(Event::Changed { what, note: String::new() });
                    }
                >
                    {what.says()}
                </button>
            }
        })
        .collect_view();
    view! {
        <details class="more">
            <summary>{move || format!("Charge ledger: {}", sum())}</summary>
            <p class="caution">
                "By weight, in small amounts, into and out of rated cylinders only (80 % full at most). Never vent. After any change of charge: back to superheat."
            </p>
            <NumberField
                label="Weight"
                id="weight"
                unit=Signal::derive(move || measure.sign(desk.units.get()).to_owned())
                value=text
                on_type=move |typed| text.set(typed)
                on_keep=move |()| {
                    if let Some(text) = text.try_get_untracked()
                        && slice_now(desk, |job| job.slip(Slip::Weight) != text) == Some(true)
                    {
                        desk.happens(Event::Jotted { slip: Slip::Weight, text });
                    }
                }
                fault=Signal::derive(|| None::<String>)
                below_zero=Signal::derive(|| false)
                hint="What the scale says went in or came out"
            />
            <div class="row">
                <button type="button" on:click=move |_| weigh("")>
                    "Added"
                </button>
                <button type="button" on:click=move |_| weigh("-")>
                    "Recovered"
                </button>
            </div>
        </details>
        <details class="more">
            <summary>"Something else was changed"</summary>
            <p>"Then the system settles afresh, and the wait starts again."</p>
            <div class="row">{changes}</div>
        </details>
    }
}

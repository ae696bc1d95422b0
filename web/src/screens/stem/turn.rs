//! A turn of the stem: what is proposed, what was done, the button that writes it down.

use super::reasons::within;
use crate::desk::desk;
use coach::{Advice, End, Stop};
use job::{Event, Stem, turns, turns_brief};
use leptos::prelude::*;
use quantity::Units;

/// The turn that a state proposes; none is 0.
pub(super) fn proposed(state: &Stem) -> i32 {
    match state {
        Stem::Turn(by) => by.get(),
        // Clockwise is the safe way.
        Stem::Stopped(Stop::BelowMinimum) => 1,
        _ => 0,
    }
}

/// Choose how far the stem was turned; the button that writes it down is the screen's main one.
#[component]
pub(super) fn TurnPicker(
    proposed: i32,
    quarters: RwSignal<i32>,
    /// What the coach expects of the proposed turn.
    #[prop(optional)]
    advice: Option<Memo<Option<Advice>>>,
) -> impl IntoView {
    let desk = desk();
    let step = move |by: i32| {
        quarters.update(|quarters| *quarters = (*quarters + by).clamp(-8, 8));
    };
    let changed = move || proposed != 0 && quarters.get() != proposed;
    // Of another turn nothing is foretold.
    let expected = move || {
        if changed() {
            return None;
        }
        advice?.with(|advice| expected(advice.as_ref()?, desk.units.get()))
    };
    view! {
        <div class="turn">
            <p class="small">
                {move || match (proposed, changed()) {
                    (0, _) => "Turned".to_owned(),
                    (_, false) => "Proposed turn".to_owned(),
                    (_, true) => format!("Proposed was {}", turns_brief(proposed)),
                }}
            </p>
            <p class="big-name" aria-live="polite">
                {move || turns(quarters.get())}
            </p>
            {move || expected().map(|says| view! { <p class="expected">{says}</p> })}
            <div class="row">
                <button type="button" on:click=move |_| step(-1)>
                    "1/4 more open"
                </button>
                <button type="button" on:click=move |_| step(1)>
                    "1/4 more closed"
                </button>
            </div>
            <p class="small">
                "Slowly: half a turn in half a minute. Never force it."
            </p>
            <details>
                <summary>"It stopped turning"</summary>
                <div class="row">
                    <button
                        type="button"
                        on:click=move |_| {
                            desk.happens(Event::MetEnd { end: End::Opening });
                        }
                    >
                        "It ends, opening"
                    </button>
                    <button
                        type="button"
                        on:click=move |_| {
                            desk.happens(Event::MetEnd { end: End::Closing });
                        }
                    >
                        "It ends, closing"
                    </button>
                </div>
            </details>
        </div>
    }
}

/// `Expected 14.2 ±2.1 °F, about 6 min`.
fn expected(advice: &Advice, units: Units) -> Option<String> {
    let (Some(expected), Some(_)) = (advice.expected, advice.next) else {
        return None;
    };
    let after = advice
        .minutes_to_settle
        .map_or(String::new(), |minutes| format!(", about {minutes:.0} min"));
    Some(format!("Expected {}{after}", within(&expected, units)))
}

/// Writes a turn down.
#[component]
pub(super) fn TurnedButton(quarters: RwSignal<i32>) -> impl IntoView {
    let desk = desk();
    view! {
        <button
            type="button"
            class="primary"
            disabled=move || quarters.get() == 0
            on:click=move |_| {
                desk.happens(Event::Turned { quarters: quarters.get_untracked() });
            }
        >
            {move || match quarters.get() {
                0 => "I turned it".to_owned(),
                quarters => format!("I turned it {}", turns_brief(quarters)),
            }}
        </button>
    }
}

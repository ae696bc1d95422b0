//! The one big thing to do next.

use super::turn::TurnedButton;
use crate::desk::desk;
use crate::parts::Go;
use crate::screens::slice::slice_now;
use coach::Stop;
use job::{Event, Screen, Slip, Stem};
use leptos::prelude::*;

/// The button.
#[component]
pub(super) fn Action(state: Stem, quarters: RwSignal<i32>) -> impl IntoView {
    let (words, to) = match state {
        Stem::None(None) => ("Go to Job", Screen::Job),
        Stem::None(Some(_)) | Stem::Stopped(Stop::AtTarget) => ("Next: Proof", Screen::Proof),
        Stem::Shut(_) => ("Go to Look first", Screen::LookFirst),
        Stem::Turn(_) | Stem::Stopped(Stop::BelowMinimum) => {
            return view! { <TurnedButton quarters=quarters /> }.into_any();
        }
        Stem::RecordAsFound => return view! { <WrittenDown /> }.into_any(),
        Stem::ReadFirst | Stem::Waiting(_) | Stem::Measure | Stem::Stopped(_) => {
            ("Take a reading", Screen::Reading)
        }
    };
    view! { <Go words=words to=to /> }.into_any()
}

/// The as-found position was written down.
#[component]
fn WrittenDown() -> impl IntoView {
    let desk = desk();
    view! {
        <button
            type="button"
            class="primary"
            on:click=move |_| {
                let note = slice_now(desk, |job| job.slip(Slip::AsFound)).unwrap_or_default();
                desk.happens(Event::RecordedAsFound { note });
            }
        >
            "As found is written down"
        </button>
    }
}

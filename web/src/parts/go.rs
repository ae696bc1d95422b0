//! The main button that leads to another screen of the job.

use crate::desk::desk;
use job::Screen;
use leptos::prelude::*;

/// The button.
#[component]
pub(crate) fn Go(
    /// What it says.
    words: &'static str,
    /// Where it leads.
    to: Screen,
    /// Whether it can be tapped; it can when nothing is said.
    #[prop(default = true.into(), into)]
    open: Signal<bool>,
) -> impl IntoView {
    let desk = desk();
    view! {
        <button
            type="button"
            class="primary"
            disabled=move || !open.get()
            on:click=move |_| desk.go_to(to)
        >
            {words}
        </button>
    }
}

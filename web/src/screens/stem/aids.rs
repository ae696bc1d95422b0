//! What helps through a wait.

use crate::desk::desk;
use crate::outside::wake::WakeState;
use leptos::prelude::*;

/// Aids for the wait.
#[component]
pub(super) fn Aids() -> impl IntoView {
    let desk = desk();
    let on = move || desk.wake.get() == WakeState::On;
    view! {
        <div class="row">
            <button type="button" aria-pressed=move || on().to_string() on:click=move |_| desk.keep_awake(!on())>
                {move || match desk.wake.get() {
                    WakeState::On => "Screen stays on",
                    WakeState::Off => "Keep the screen on",
                    WakeState::Refused => "Screen on: refused; tap again",
                    WakeState::NotAvailable => "Screen on: not available here",
                }}
            </button>
        </div>
    }
}

//! The wait: its ring, what the readings since say, and a turn made too early.

use super::turn::{TurnPicker, TurnedButton};
use crate::desk::desk;
use crate::outside::clock;
use crate::parts::Ring;
use crate::screens::slice::slice;
use diagnosis::Metering;
use job::Wait;
use leptos::prelude::*;

/// The card of a wait.
#[component]
pub(super) fn Waiting(wait: Wait, quarters: RwSignal<i32>) -> impl IntoView {
    let desk = desk();
    let verdict = move || match (wait.verdict, wait.time_up(desk.now_ms.get())) {
        (None, false) => "Not read since",
        (None, true) => "Time is up, not settled: not read since",
        (Some(coach::Wait::Hunting), _) => "Hunting",
        (Some(coach::Wait::Settled), _) => "Steady so far",
        (Some(coach::Wait::Drifting), false) => "Drifting",
        (Some(coach::Wait::Drifting), true) => "Time is up, not settled: drifting",
    };
    view! {
        <div class="state waiting">
            <Ring wait=wait now_ms=desk.now_ms />
            <div>
                <p class="big-name" role="status">
                    {verdict}
                </p>
                <Show when=move || desk.now_ms.get() < wait.ready_ms>
                    <p class="until">
                        {format!("Wait until about {}", clock::local_time(wait.ready_ms))}
                    </p>
                </Show>
                <p>
                    "Time up is not settled. Take a reading every few minutes; three that agree say more than the clock."
                </p>
                <p class="small">
                    {format!(
                        "Began {}. The wait goes on while the screen is locked; a page cannot ring then, so set the phone's own alarm too.",
                        clock::local_time(wait.since_ms),
                    )}
                </p>
                <Show when=move || slice(desk, |job| job.choices.metering) == Some(Some(Metering::AdjustableTxv))>
                    <details>
                        <summary>"I turned it again"</summary>
                        <p class="caution">
                            "Turning before it has settled hides what the last turn did. If it was turned, write it down."
                        </p>
                        <TurnPicker proposed=0 quarters=quarters />
                        <TurnedButton quarters=quarters />
                    </details>
                </Show>
            </div>
        </div>
    }
}

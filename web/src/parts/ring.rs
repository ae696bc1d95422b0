//! The wait as a ring that fills, with the clock time it ends. Painted from the stored start.

use crate::outside::clock;
use job::Wait;
use leptos::prelude::*;

const RADIUS: f64 = 52.0;

/// The ring.
#[component]
pub(crate) fn Ring(
    /// The wait.
    wait: Wait,
    /// The clock.
    #[prop(into)]
    now_ms: Signal<i64>,
) -> impl IntoView {
    let around = 2.0 * std::f64::consts::PI * RADIUS;
    let share = move || {
        let whole = (wait.until_ms - wait.since_ms).max(1) as f64;
        ((now_ms.get() - wait.since_ms) as f64 / whole).clamp(0.0, 1.0)
    };
    let left = move || {
        let seconds = (wait.until_ms - now_ms.get()) / 1000;
        if seconds > 0 {
            format!("{}:{:02}", seconds / 60, seconds % 60)
        } else {
            format!("+{}:{:02}", -seconds / 60, -seconds % 60)
        }
    };
    let ends = clock::local_time(wait.until_ms);
    view! {
        <div class="ring" role="timer" aria-live="off">
            <svg viewBox="0 0 120 120" aria-hidden="true" focusable="false">
                <circle class="ring-back" cx="60" cy="60" r=RADIUS />
                <circle
                    class="ring-front"
                    cx="60"
                    cy="60"
                    r=RADIUS
                    stroke-dasharray=around
                    stroke-dashoffset=move || around * (1.0 - share())
                    transform="rotate(-90 60 60)"
                />
                <text x="60" y="67" text-anchor="middle" class="ring-left">
                    {left}
                </text>
            </svg>
            <p>
                {move || {
                    if wait.time_up(now_ms.get()) {
                        format!("Time was up at {ends}")
                    } else {
                        format!("Time up at {ends}")
                    }
                }}
            </p>
        </div>
    }
}

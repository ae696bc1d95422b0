//! What was done.

use crate::desk::desk;
use crate::outside::clock;
use crate::screens::slice::slice;
use job::{Event, What};
use leptos::prelude::*;

/// What was done, newest first.
#[component]
pub(super) fn LogList() -> impl IntoView {
    let desk = desk();
    let lines = move || {
        slice(desk, |job| {
            job.log
                .iter()
                .rev()
                .map(|line| {
                    let units = desk.units.get();
                    (
                        clock::local_time(line.at_ms),
                        job::words(job, line, units),
                        line.struck,
                        matches!(line.what, What::Turn { .. }),
                    )
                })
                .collect::<Vec<_>>()
        })
        .unwrap_or_default()
    };
    let any = move || slice(desk, |job| job.log.iter().any(|line| !line.struck)).unwrap_or(false);
    view! {
        <details class="more">
            <summary>"Log"</summary>
            <ul class="log">
                {move || {
                    lines()
                        .into_iter()
                        .map(|(at, says, struck, turn)| {
                            view! {
                                <li class:struck=struck class:turned=turn>
                                    <span>{at}</span>
                                    " "
                                    {if struck { format!("taken back: {says}") } else { says }}
                                </li>
                            }
                        })
                        .collect_view()
                }}
            </ul>
            <button
                type="button"
                class="plain-button"
                disabled=move || !any()
                on:click=move |_| {
                    desk.happens(Event::TookBack);
                }
            >
                "Take back the newest line"
            </button>
        </details>
    }
}

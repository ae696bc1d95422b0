//! The list of kept jobs.

use crate::desk::desk;
use crate::outside::clock;
use leptos::prelude::*;

/// The list.
#[component]
pub(super) fn Kept() -> impl IntoView {
    let desk = desk();
    let rows = move || {
        desk.heads.get().map(|heads| {
            heads
                .into_iter()
                .map(|head| {
                    let (open, remove) = (head.id.clone(), head.id.clone());
                    let remove_label = format!("Remove {}", head.title);
                    let state = match (head.demo, head.finished) {
                        (true, _) => "demo, invented",
                        (false, true) => "closed",
                        (false, false) => "open",
                    };
                    view! {
                        <li>
                            <button
                                type="button"
                                class="door"
                                on:click=move |_| desk.open(open.clone())
                            >
                                <strong>{head.title.clone()}</strong>
                                <span>
                                    {format!(
                                        "{}, {}, {state}",
                                        clock::local_date(head.touched_ms),
                                        clock::local_time(head.touched_ms),
                                    )}
                                </span>
                            </button>
                            <button
                                type="button"
                                class="plain-button"
                                aria-label=remove_label
                                on:click=move |_| desk.remove(remove.clone())
                            >
                                "Remove"
                            </button>
                        </li>
                    }
                })
                .collect::<Vec<_>>()
        })
    };
    let none = move || desk.heads.get().is_some_and(|heads| heads.is_empty());
    view! {
        <section>
            <h1>"Kept jobs"</h1>
            <Show when=none>
                <p class="quiet">"No job is kept on this device yet."</p>
            </Show>
            <ul class="kept">{rows}</ul>
        </section>
    }
}

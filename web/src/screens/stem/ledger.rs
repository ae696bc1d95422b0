//! The newest superheat against its band, and where the stem stands.

use crate::desk::desk;
use crate::outside::clock;
use crate::parts::VerdictMark;
use crate::screens::slice::slice;
use job::{turns, turns_brief};
use leptos::prelude::*;

/// The newest superheat against its band, and where the stem is from as found.
#[component]
pub(super) fn Ledger() -> impl IntoView {
    let desk = desk();
    let position = Memo::new(move |_| slice(desk, |job| job.position().get()).unwrap_or(0));
    let found = Memo::new(move |_| slice(desk, |job| job.as_found.clone()).flatten());
    let newest = Memo::new(move |_| {
        slice(desk, |job| {
            let (at, draft) = job.readings().next_back()?;
            let derived = job.assess(draft)?.derived;
            Some((at, derived.superheat?, derived.superheat_target))
        })
        .flatten()
    });
    view! {
        <Show when=move || found.get().is_some() || newest.get().is_some()>
            <div class="ledger">
                {move || {
                    newest
                        .get()
                        .map(|(at, superheat, target)| {
                            let units = desk.units.get();
                            view! {
                                <p class="small">
                                    {format!("Superheat, read {}", clock::local_time(at))}
                                </p>
                                <p class="big-name">
                                    {superheat.says(units)} " "
                                    <VerdictMark verdict=superheat.against(&target) />
                                </p>
                                <p class="small">{format!("Band {}", target.says(units))}</p>
                            }
                        })
                }}
                <Show when=move || found.get().is_some()>
                    <details>
                        <summary>
                            {move || format!("Stem: {} from as found", turns_brief(position.get()))}
                        </summary>
                        <p>
                            <strong>"Back to as found: "</strong>
                            {move || turns(-position.get())}
                            ". The same count sets a replaced valve."
                        </p>
                        <p class="small">
                            {move || found.get().map(|(_, note)| format!("As found: {note}"))}
                        </p>
                    </details>
                </Show>
            </div>
        </Show>
    }
}

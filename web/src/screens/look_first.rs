//! Look first: what must hold before the stem is touched.

use super::slice::{slice, slice_now};
use crate::desk::desk;
use crate::parts::{Choice, Go, TextField};
use diagnosis::Metering;
use job::{CheckState, Event, Item, Part, Screen, Slip};
use leptos::prelude::*;

/// The screen.
#[component]
pub(super) fn LookFirst() -> impl IntoView {
    let desk = desk();
    let metering = Memo::new(move |_| {
        slice(desk, |job| job.choices.metering)
            .flatten()
            .unwrap_or(Metering::AdjustableTxv)
    });
    let open = Memo::new(move |_| slice(desk, |job| job.open_checks().count()).unwrap_or(0));
    let away = Memo::new(move |_| slice(desk, |job| job.turned_away()).flatten());
    let overridden = Memo::new(move |_| {
        slice(desk, |job| {
            job.overrides.last().map(|opened| opened.reason.clone())
        })
        .flatten()
    });
    let shut = Memo::new(move |_| !slice(desk, |job| job.stem_open()).unwrap_or(false));
    let reason =
        Memo::new(move |_| slice(desk, |job| job.slip(Slip::OverrideReason)).unwrap_or_default());
    let words = move || match (open.get(), shut.get()) {
        (0, false) => "Every check holds. The stem may be turned.".to_owned(),
        (1, true) => "1 check open. The stem stays shut.".to_owned(),
        (open, true) => format!("{open} checks open. The stem stays shut."),
        (open, false) => {
            format!(
                "{open} open; overridden: {}",
                overridden.get().unwrap_or_default()
            )
        }
    };
    let parts = move || {
        let metering = metering.get();
        Part::ALL
            .into_iter()
            .filter_map(|part| {
                let items: Vec<Item> = Item::ALL
                    .iter()
                    .copied()
                    .filter(|item| item.row().part == part && item.applies(metering))
                    .collect();
                (!items.is_empty()).then(|| {
                    view! {
                        <h2>{part.says()}</h2>
                        {items
                            .into_iter()
                            .map(|item| view! { <CheckRow item=item /> })
                            .collect_view()}
                    }
                })
            })
            .collect_view()
    };
    view! {
        <section>
            <h1>"Look first"</h1>
            <p>
                "Most valves that are blamed are sound. What is free and can be undone comes first: bulb and air, then the stem, the charge last."
            </p>
            {move || away.get().map(|why| view! { <p class="alarm" role="alert">{why}</p> })}
            {parts}
            <Show when=move || { open.get() > 0 }>
                <details class="more">
                    <summary>"Open the stem anyway"</summary>
                    <p class="caution">
                        "Only with a reason you would sign for: it goes into the record. The charge guard stays shut."
                    </p>
                    <TextField
                        label="Why"
                        id="override"
                        value=reason
                        on_keep=move |text| {
                            desk.happens(Event::Jotted { slip: Slip::OverrideReason, text });
                        }
                    />
                    <button
                        type="button"
                        class="wide"
                        on:click=move |_| {
                            let reason = slice_now(desk, |job| job.slip(Slip::OverrideReason));
                            desk.happens(Event::Overrode { reason: reason.unwrap_or_default() });
                        }
                    >
                        "Open the stem for this reason"
                    </button>
                </details>
            </Show>
            <div class="act">
                <p class="gate" role="status" class:holds=move || open.get() == 0 && !shut.get()>
                    {words}
                </p>
                <Go words="Next: Reading" to=Screen::Reading />
            </div>
        </section>
    }
}

#[component]
fn CheckRow(item: Item) -> impl IntoView {
    let desk = desk();
    let row = item.row();
    let check = Memo::new(move |_| slice(desk, |job| job.checks.get(&item).cloned()).flatten());
    let state = Signal::derive(move || check.get().map(|check| check.state));
    let note = Signal::derive(move || check.get().map_or(String::new(), |check| check.note));
    let mark = move |state: CheckState, note: String| {
        desk.happens(Event::Checked { item, state, note });
    };
    let needs_note = move || {
        matches!(
            state.get(),
            Some(CheckState::NotDone | CheckState::CannotCheck)
        )
    };
    view! {
        <div class="check" class:open=move || state.get() != Some(CheckState::Done)>
            <Choice
                legend=row.label
                name=row.key
                all=CheckState::ALL.iter().map(|&s| (s, s.says())).collect()
                value=state
                on_pick=move |picked| mark(picked, note.get_untracked())
                hint=row.how
            />
            {row.caution.map(|caution| view! { <p class="caution">{caution}</p> })}
            {row
                .sources_differ
                .map(|differ| {
                    view! {
                        <p class="differ">
                            <strong>"Sources differ: "</strong>
                            {differ}
                        </p>
                    }
                })}
            <Show when=needs_note>
                <TextField
                    label="What was seen"
                    id=format!("note-{}", row.key)
                    value=note
                    on_keep=move |text: String| {
                        mark(state.get_untracked().unwrap_or(CheckState::NotDone), text);
                    }
                />
            </Show>
        </div>
    }
}

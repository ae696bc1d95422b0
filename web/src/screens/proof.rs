//! Proof: both in their bands, or what is missing; then the record that is left behind.

use super::slice::slice;
use super::weigh::Weigh;
use crate::desk::{Desk, desk};
use crate::outside::clock;
use crate::outside::file::{self, Form, Parcel};
use crate::parts::{Go, TextField, TrendStrip};
use job::{Event, Name, Proof, Proved, Record, Screen, csv, export_json, record};
use leptos::prelude::*;
use leptos::task::spawn_local;

/// The screen.
#[component]
pub(super) fn ProofScreen() -> impl IntoView {
    let desk = desk();
    let proof = Memo::new(move |_| slice(desk, |job| job.proof(desk.now_ms.get())));
    let trend = Memo::new(move |_| slice(desk, |job| job.trend()).flatten());
    let finished = Memo::new(move |_| slice(desk, |job| job.finished_ms).flatten());
    let written = Memo::new(move |_| write(desk));
    let shown = RwSignal::new(false);
    view! {
        <section>
            <h1>"Proof"</h1>
            <div class="screen-only">
                {move || proof.get().map(|proof| view! { <Verdicts proof=proof /> })}
                <Show when=move || { proof.get().is_some_and(|proof| proof.charge_changed_since) }>
                    <p class="caution">
                        "The charge was changed after the last reading: back to superheat."
                    </p>
                </Show>
                <Show when=move || proof.get().is_some_and(|proof| proof.look_first_open)>
                    <p class="caution">
                        "Not every check of Look first holds: no pass can be given."
                    </p>
                </Show>
                <Weigh />
                <TrendStrip trend=trend units=desk.units />
                <TextField
                    label=Name::Remark.label()
                    id="remark"
                    value=Signal::derive(move || {
                        slice(desk, |job| job.names.get(&Name::Remark).cloned())
                            .flatten()
                            .unwrap_or_default()
                    })
                    hint=Name::Remark.hint()
                    on_keep=move |text| {
                        desk.happens(Event::Wrote { name: Name::Remark, text });
                    }
                />
                <button
                    type="button"
                    class="wide"
                    aria-expanded=move || shown.get().to_string()
                    on:click=move |_| shown.update(|shown| *shown = !*shown)
                >
                    {move || if shown.get() { "Hide the record" } else { "Show the record" }}
                </button>
                <div class="row">
                    <button type="button" on:click=move |_| print(desk)>
                        "Print"
                    </button>
                    <button type="button" on:click=move |_| give(desk, Form::Json)>
                        "Export JSON"
                    </button>
                    <button type="button" on:click=move |_| give(desk, Form::Csv)>
                        "Export CSV"
                    </button>
                </div>
            </div>
            <div class:print-only=move || !shown.get()>
                {move || written.get().map(|record| view! { <RecordSheet record=record /> })}
            </div>
            <div class="act">
                <Show
                    when=move || finished.get().is_none()
                    fallback=move || {
                        view! {
                            <p class="gate holds">"Closed. The record stands."</p>
                            <button
                                type="button"
                                class="primary"
                                on:click=move |_| {
                                    desk.happens(Event::Reopened);
                                }
                            >
                                "Open it again"
                            </button>
                        }
                    }
                >
                    <Show
                        when=move || proof.get().is_some_and(|proof| proof.superheat != Proved::NotMeasured)
                        fallback=move || {
                            view! { <Go words="Take a reading" to=Screen::Reading /> }
                        }
                    >
                        <button
                            type="button"
                            class="primary"
                            on:click=move |_| {
                                desk.happens(Event::Finished);
                            }
                        >
                            {move || {
                                if proof.get().is_some_and(|proof| proof.holds()) {
                                    "Both hold: close the job"
                                } else {
                                    "Close the job as it stands"
                                }
                            }}
                        </button>
                    </Show>
                </Show>
            </div>
        </section>
    }
}

#[component]
fn Verdicts(proof: Proof) -> impl IntoView {
    let card = |name: &'static str, proved: Proved| {
        view! {
            <div class="proved" class:holds=proved.holds()>
                <h2>{name}</h2>
                <p>{proved.says()}</p>
            </div>
        }
    };
    view! {
        <div class="pair">
            {card("Superheat", proof.superheat)} {card("Subcooling", proof.subcooling)}
        </div>
    }
}

fn when(at_ms: i64) -> String {
    format!("{}, {}", clock::local_date(at_ms), clock::local_time(at_ms))
}

fn write(desk: Desk) -> Option<Record> {
    let units = desk.units.get();
    slice(desk, |job| record(job, units, clock::now_ms(), &when))
}

fn print(desk: Desk) {
    desk.keeps_all();
    if let Err(error) = file::print() {
        desk.say(&error.says());
    }
}

fn iso(at_ms: i64) -> String {
    clock::iso_with_offset(at_ms).unwrap_or_default()
}

fn give(desk: Desk, form: Form) {
    desk.keeps_all();
    let Some(job) = desk.job.get_untracked() else {
        return;
    };
    let text = match form {
        Form::Csv => Ok(csv(&job, &iso)),
        Form::Json | Form::Text => {
            let now_ms = clock::now_ms();
            let record = record(&job, desk.units.get_untracked(), now_ms, &when);
            export_json(
                &job,
                &desk.history(),
                &record,
                &iso(now_ms),
                env!("CARGO_PKG_VERSION"),
            )
        }
    };
    let parcel = match text {
        Ok(text) => Parcel::pack(&job.title(), form, &text).map_err(|error| error.says()),
        Err(error) => Err(error.to_string()),
    };
    match parcel {
        Ok(parcel) => spawn_local(async move {
            if let Err(error) = parcel.give().await {
                desk.say(&error.says());
            }
        }),
        Err(says) => desk.say(&says),
    }
}

/// The record as it prints.
#[component]
fn RecordSheet(record: Record) -> impl IntoView {
    let demo = record.demo;
    let sections: Vec<_> = record
        .sections
        .into_iter()
        .map(|section| {
            let rows: Vec<_> = section
                .lines
                .into_iter()
                .map(|line| {
                    let cells: Vec<_> = line
                        .was
                        .into_iter()
                        .map(|was| view! { <td>{was}</td> })
                        .collect();
                    view! {
                        <tr>
                            <th scope="row">{line.what}</th>
                            {cells}
                        </tr>
                    }
                })
                .collect();
            view! {
                <table class="plain">
                    <caption>{section.heading}</caption>
                    <tbody>{rows}</tbody>
                </table>
            }
        })
        .collect();
    view! {
        <article class="record">
            <h2>{record.title}</h2>
            {demo.then(|| view! { <p class="caution">"Demo: every figure is invented."</p> })}
            <div class="record-columns">{sections}</div>
        </article>
    }
}

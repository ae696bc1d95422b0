//! Stem: the ledger, the wait, the next turn.

mod action;
mod aids;
mod ledger;
mod log;
mod reasons;
mod state;
mod turn;
mod wait;
mod will_it_fit;

use super::slice::slice;
use super::weigh::Weigh;
use crate::desk::desk;
use crate::parts::TrendStrip;
use action::Action;
use aids::Aids;
use ledger::Ledger;
use leptos::prelude::*;
use log::LogList;
use reasons::Reasons;
use state::StateCard;
use will_it_fit::Fit;

const MINUTE_MS: i64 = 60_000;

/// The screen.
#[component]
pub(super) fn StemScreen() -> impl IntoView {
    let desk = desk();
    // The ring ticks; everything else changes only with the state.
    let state = Memo::new(move |_| {
        desk.stem
            .with(|view| view.as_ref().map(|view| view.state.clone()))
    });
    let advice = Memo::new(move |_| {
        desk.stem
            .with(|view| view.as_ref().and_then(|view| view.advice.clone()))
    });
    // A way that would begin now moves on by the minute.
    let minute = Memo::new(move |_| desk.now_ms.get().div_euclid(MINUTE_MS));
    let trend = Memo::new(move |_| {
        let now_ms = minute.get() * MINUTE_MS;
        desk.stem.with(|stem| {
            let stem = stem.as_ref()?;
            slice(desk, |job| job.trend_ahead(stem, now_ms)).flatten()
        })
    });
    // What the picker shows: the proposal until a finger changes it.
    let quarters = RwSignal::new(0);
    Effect::new(move |_| quarters.set(state.get().map_or(0, |state| turn::proposed(&state))));
    view! {
        <section class="with-side">
            <div class="body">
                <h1>"Stem"</h1>
                <Ledger />
                {move || {
                    state
                        .get()
                        .map(|state| view! { <StateCard state=state quarters=quarters advice=advice /> })
                }}
                <Reasons advice=advice />
            </div>
            <div class="side">
                <TrendStrip trend=trend units=desk.units />
                <Fit />
                <LogList />
                <Weigh />
                <Aids />
            </div>
            <div class="act">
                {move || state.get().map(|state| view! { <Action state=state quarters=quarters /> })}
            </div>
        </section>
    }
}

//! What stands between now and the next turn: one card for each state.

use super::turn::TurnPicker;
use super::wait::Waiting;
use crate::desk::desk;
use crate::parts::TextField;
use crate::screens::slice::slice;
use coach::{Advice, Stop};
use diagnosis::Metering;
use job::{Event, Item, Slip, Stem};
use leptos::prelude::*;

/// The card.
#[component]
pub(super) fn StateCard(
    state: Stem,
    quarters: RwSignal<i32>,
    advice: Memo<Option<Advice>>,
) -> impl IntoView {
    match state {
        Stem::None(metering) => no_stem(metering).into_any(),
        Stem::Shut(items) => shut(items).into_any(),
        Stem::RecordAsFound => view! { <AsFound /> }.into_any(),
        Stem::ReadFirst => view! {
            <p class="state">"Keep a reading first: there must be something to compare with."</p>
        }
        .into_any(),
        Stem::Waiting(wait) => view! { <Waiting wait=wait quarters=quarters /> }.into_any(),
        Stem::Stopped(stop) => {
            let below = stop == Stop::BelowMinimum;
            view! {
                <p class=if stop == Stop::AtTarget { "state good" } else { "state stop" }>
                    {stop_words(stop)}
                </p>
                {below.then(|| view! { <TurnPicker proposed=1 quarters=quarters /> })}
            }
            .into_any()
        }
        Stem::Turn(by) => view! {
            <TurnPicker proposed=by.get() quarters=quarters advice=advice />
        }
        .into_any(),
        Stem::Measure => view! {
            <p class="state">"The readings do not say enough yet. Take another."</p>
        }
        .into_any(),
    }
}

fn no_stem(metering: Option<Metering>) -> impl IntoView {
    let words = match metering {
        None => "Name the metering device on Job first.",
        Some(Metering::FixedTxv) => {
            "This valve has no stem. Prove bulb, airflow, charge and liquid line; then it is the valve, to be replaced. Never set superheat by the charge. Go on to Proof: charge by subcooling."
        }
        Some(Metering::Electronic) => {
            "No stem to turn. Prove the sensors against your tools, the coil seated on the valve, drive volts or steps, and the superheat target in the controller. Lock the speed before any reading; oil return, freeze protection and defrost are not faults."
        }
        Some(Metering::FixedOrifice) => {
            "No valve here: charge sets superheat, by return wet bulb and the air entering the condenser. Read both, then go by Finding and Proof. Never under 5 °F (2.8 K) at the suction port."
        }
        Some(Metering::AdjustableTxv) => "",
    };
    view! { <p class="state">{words}</p> }
}

fn shut(items: Vec<Item>) -> impl IntoView {
    let count = items.len();
    let list: Vec<_> = items
        .into_iter()
        .take(6)
        .map(|item| view! { <li>{item.row().label}</li> })
        .collect();
    view! {
        <div class="state stop">
            <p>{format!("The stem stays shut: {count} of Look first open.")}</p>
            <ul>{list}</ul>
        </div>
    }
}

#[component]
fn AsFound() -> impl IntoView {
    let desk = desk();
    let note = Memo::new(move |_| slice(desk, |job| job.slip(Slip::AsFound)).unwrap_or_default());
    view! {
        <div class="state">
            <p>
                "Before the first turn: mark stem and body, or count to the stop and back, and write down how it was found. A lost starting position cannot be recovered."
            </p>
            <TextField
                label="As found"
                id="as-found"
                value=note
                hint="Paint mark on stem and body; or turns counted to the stop"
                on_keep=move |text| {
                    desk.happens(Event::Jotted { slip: Slip::AsFound, text });
                }
            />
            <p class="caution">
                "Clockwise (in) is more spring and higher superheat on nearly every valve: confirm it on this valve's label. The first answer in the log tests it. Packing nut a little loose, back-up wrench on the body; never force the stem at its end."
            </p>
        </div>
    }
}

const fn stop_words(stop: Stop) -> &'static str {
    match stop {
        Stop::AtTarget => {
            "At target and steady. Leave the stem. Snug the packing nut, cap on, leak-check; then prove the charge."
        }
        Stop::StemEnd => {
            "The stem is at its end. Stop: forcing it breaks the valve. Look for other faults, then replace."
        }
        Stop::BelowMinimum => {
            "Superheat is at or under its minimum. Close now, clockwise, a small step; liquid may reach the compressor. If it does not rise, stop the compressor."
        }
        Stop::Hunting => {
            "Hunting. Before the stem: bulb contact and place, load and airflow, solid liquid. Only then close a quarter turn until it calms."
        }
        Stop::NotReachable => {
            "This valve cannot reach the target from here. Look for other faults: charge, block, airflow, wrong size; then replace."
        }
        Stop::WrongWay => {
            "Superheat went the wrong way, beyond the tools' error. Stop. Check the valve's label for its direction, the ledger, and what else changed."
        }
        Stop::NoResponse => {
            "Two steps and no answer: the stem is not what limits this valve. Warm the bulb in a hand, walk the liquid line."
        }
        Stop::HighHead => {
            "Head is at its limit. No further opening: opening lifts it more. Clear the condenser's air and coil first."
        }
    }
}

//! Stem: the ledger, the wait, the next turn.

use super::job::{slice, slice_now};
use super::weigh::Weigh;
use crate::desk::{Desk, desk};
use crate::outside::clock;
use crate::outside::wake::WakeState;
use crate::parts::{Ring, TextField, TrendStrip, VerdictMark};
use coach::{Advice, End, Stop, Why};
use diagnosis::Metering;
use job::{Event, Item, Screen, Slip, Stem, StemView, Wait, What, turns, turns_brief};
use leptos::prelude::*;
use quantity::Units;

/// The screen.
#[component]
pub(super) fn StemScreen() -> impl IntoView {
    let desk = desk();
    let view: Memo<Option<StemView>> =
        Memo::new(move |_| slice(desk, |job| job.stem(desk.now_ms.get())));
    // The ring ticks; everything else changes only with the state.
    let state = Memo::new(move |_| view.get().map(|view| view.state));
    let advice = Memo::new(move |_| view.get().and_then(|view| view.advice));
    let trend = Memo::new(move |_| slice(desk, |job| job.trend()).flatten());
    // What the picker shows: the proposal until a finger changes it.
    let quarters = RwSignal::new(0);
    Effect::new(move |_| quarters.set(state.get().map_or(0, |state| proposed(&state))));
    view! {
        <section class="with-side">
            <div class="body">
                <h1>"Stem"</h1>
                <Ledger />
                {move || {
                    state
                        .get()
                        .map(|state| view! { <StateCard state=state quarters=quarters /> })
                }}
                <Reasons advice=advice />
            </div>
            <div class="side">
                {move || {
                    trend
                        .get()
                        .map(|trend| view! { <TrendStrip trend=trend units=desk.units.get() /> })
                }}
                <LogList />
                <Weigh />
                <Aids />
            </div>
            <div class="act">
                {move || state.get().map(|state| action(desk, &state, quarters))}
            </div>
        </section>
    }
}

/// The turn that a state proposes; none is 0.
fn proposed(state: &Stem) -> i32 {
    match state {
        Stem::Turn(by) => by.get(),
        // Clockwise is the safe way.
        Stem::Stopped(Stop::BelowMinimum) => 1,
        _ => 0,
    }
}

/// The newest superheat against its band, and where the stem is from as found.
#[component]
fn Ledger() -> impl IntoView {
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

#[component]
fn StateCard(state: Stem, quarters: RwSignal<i32>) -> impl IntoView {
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
        Stem::Turn(by) => view! { <TurnPicker proposed=by.get() quarters=quarters /> }.into_any(),
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

#[component]
fn Waiting(wait: Wait, quarters: RwSignal<i32>) -> impl IntoView {
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
                        {turned_button(desk, quarters)}
                    </details>
                </Show>
            </div>
        </div>
    }
}

/// Choose how far the stem was turned; the button that writes it down is the screen's main one.
#[component]
fn TurnPicker(proposed: i32, quarters: RwSignal<i32>) -> impl IntoView {
    let desk = desk();
    let step = move |by: i32| {
        quarters.update(|quarters| *quarters = (*quarters + by).clamp(-8, 8));
    };
    let changed = move || proposed != 0 && quarters.get() != proposed;
    view! {
        <div class="turn">
            <p class="small">
                {move || match (proposed, changed()) {
                    (0, _) => "Turned".to_owned(),
                    (_, false) => "Proposed turn".to_owned(),
                    (_, true) => format!("Proposed was {}", turns_brief(proposed)),
                }}
            </p>
            <p class="big-name" aria-live="polite">
                {move || turns(quarters.get())}
            </p>
            <div class="row">
                <button type="button" on:click=move |_| step(-1)>
                    "1/4 more open"
                </button>
                <button type="button" on:click=move |_| step(1)>
                    "1/4 more closed"
                </button>
            </div>
            <p class="small">
                "Slowly: half a turn in half a minute. Never force it."
            </p>
            <details>
                <summary>"It stopped turning"</summary>
                <div class="row">
                    <button
                        type="button"
                        on:click=move |_| {
                            desk.happens(Event::MetEnd { end: End::Opening });
                        }
                    >
                        "It ends, opening"
                    </button>
                    <button
                        type="button"
                        on:click=move |_| {
                            desk.happens(Event::MetEnd { end: End::Closing });
                        }
                    >
                        "It ends, closing"
                    </button>
                </div>
            </details>
        </div>
    }
}

/// Writes a turn down.
fn turned_button(desk: Desk, quarters: RwSignal<i32>) -> impl IntoView {
    view! {
        <button
            type="button"
            class="primary"
            disabled=move || quarters.get() == 0
            on:click=move |_| {
                desk.happens(Event::Turned { quarters: quarters.get_untracked() });
            }
        >
            {move || match quarters.get() {
                0 => "I turned it".to_owned(),
                quarters => format!("I turned it {}", turns_brief(quarters)),
            }}
        </button>
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

/// Why, in words.
#[component]
fn Reasons(advice: Memo<Option<Advice>>) -> impl IntoView {
    let desk = desk();
    let lines = move || {
        let units: Units = desk.units.get();
        advice.get().map_or(Vec::new(), |advice| {
            advice
                .why
                .iter()
                .map(|why: &Why| why.says(units.temperature))
                .collect::<Vec<_>>()
        })
    };
    let learned = move || {
        let units = desk.units.get();
        advice.get().map(|advice| {
            let by = units.difference(advice.gain.half_width);
            let gain = units.difference(advice.gain.value);
            if advice.gain_learned {
                format!("This valve: {gain} ±{by} a turn, by its own answers.")
            } else {
                format!("Valves in general: {gain} ±{by} a turn. This one has not answered yet.")
            }
        })
    };
    let expected = move || {
        let units = desk.units.get();
        let advice = advice.get()?;
        let (expected, next) = (advice.expected?, advice.next?);
        Some(format!(
            "After {}: superheat about {} ±{}{}.",
            turns_brief(next.get()),
            quantity::tenth(units.temperature.show_difference(expected.value)),
            units.difference(expected.half_width),
            advice
                .minutes_to_settle
                .map_or(String::new(), |m| format!(", in about {m:.0} min")),
        ))
    };
    view! {
        <Show when=move || !lines().is_empty()>
            <div class="reasons">
                <h2>"Why"</h2>
                <ul>
                    {move || lines().into_iter().map(|says| view! { <li>{says}</li> }).collect_view()}
                    {move || expected().map(|says| view! { <li>{says}</li> })}
                    {move || learned().map(|says| view! { <li>{says}</li> })}
                </ul>
            </div>
        </Show>
    }
}

/// What was done, newest first.
#[component]
fn LogList() -> impl IntoView {
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

/// Aids for the wait.
#[component]
fn Aids() -> impl IntoView {
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

/// The one big thing to do next.
fn action(desk: Desk, state: &Stem, quarters: RwSignal<i32>) -> AnyView {
    let go = |words: &'static str, screen: Screen| {
        view! {
            <button type="button" class="primary" on:click=move |_| desk.go_to(screen)>
                {words}
            </button>
        }
        .into_any()
    };
    match state {
        Stem::None(None) => go("Go to Job", Screen::Job),
        Stem::None(Some(_)) | Stem::Stopped(Stop::AtTarget) => go("Next: Proof", Screen::Proof),
        Stem::Shut(_) => go("Go to Look first", Screen::LookFirst),
        Stem::ReadFirst | Stem::Waiting(_) | Stem::Measure => go("Take a reading", Screen::Reading),
        Stem::Turn(_) | Stem::Stopped(Stop::BelowMinimum) => {
            turned_button(desk, quarters).into_any()
        }
        Stem::Stopped(_) => go("Take a reading", Screen::Reading),
        Stem::RecordAsFound => view! {
            <button
                type="button"
                class="primary"
                on:click=move |_| {
                    let note = slice_now(desk, |job| job.slip(Slip::AsFound)).unwrap_or_default();
                    desk.happens(Event::RecordedAsFound { note });
                }
            >
                "As found is written down"
            </button>
        }
        .into_any(),
    }
}

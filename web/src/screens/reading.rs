//! Reading: one set of values taken together; what they give is shown while they are typed.

use super::slice::slice;
use crate::desk::desk;
use crate::parts::{BandStrip, Choice, NumberField, VerdictMark};
use diagnosis::{Alarm, Assessment, Banded, BulbTest, Doubt, Field, Group, Metering, Target};
use job::{Event, Measure, Screen, Typed};
use leptos::prelude::*;
use quantity::{TemperatureDifference, Units};
use std::time::Duration;

/// The screen.
#[component]
pub(super) fn ReadingScreen() -> impl IntoView {
    let desk = desk();
    let said: Memo<Option<Assessment>> = Memo::new(move |_| {
        desk.typing
            .with(|draft| slice(desk, |job| job.assess(draft)).flatten())
    });
    let nothing = move || desk.typing.with(job::Draft::is_empty);
    let keep = move |_| {
        desk.keeps_all();
        let had_reading = desk
            .job
            .with_untracked(|job| job.as_ref().is_some_and(|job| job.as_found.is_some()));
        if desk.happens(Event::KeptReading) {
            desk.go_to(if had_reading {
                Screen::Stem
            } else {
                Screen::Finding
            });
        }
    };
    let count = move || slice(desk, |job| job.readings().count()).unwrap_or(0);
    view! {
        <section class="with-side">
            <div class="side">
                <Results said=said />
            </div>
            <div class="body">
                <h1>
                    {move || match count() {
                        0 => "Reading: as found".to_owned(),
                        count => format!("Reading {}", count + 1),
                    }}
                </h1>
                <Alarmed said=said />
                <Groups said=said />
                <Choice
                    legend="Bulb in a warm hand: suction"
                    name="bulb-test"
                    all=vec![
                        (None, "not tried"),
                        (Some(BulbTest::Rises), "rises"),
                        (Some(BulbTest::Nothing), "stays"),
                    ]
                    value=Signal::derive(move || Some(desk.typing.get().bulb_test))
                    on_pick=move |answer| {
                        desk.happens(Event::WarmedBulb { answer });
                    }
                    hint="Seconds only: it opens the valve wide."
                />
                <Questions said=said />
                <Numbers said=said />
                <button
                    type="button"
                    class="plain-button"
                    disabled=nothing
                    on:click=move |_| {
                        desk.happens(Event::ClearedReading);
                    }
                >
                    "Clear this reading"
                </button>
            </div>
            <div class="act">
                <button type="button" class="primary" disabled=nothing on:click=keep>
                    "Keep this reading"
                </button>
            </div>
        </section>
    }
}

/// Superheat and subcooling, large, with band and verdict; spoken once typing rests.
#[component]
fn Results(said: Memo<Option<Assessment>>) -> impl IntoView {
    let desk = desk();
    let spoken = RwSignal::new(String::new());
    let timer = StoredValue::new(None::<TimeoutHandle>);
    Effect::new(move |_| {
        let words = said.with(|said| {
            said.as_ref()
                .map_or(String::new(), |said| spoken_words(said, desk.units.get()))
        });
        if let Some(timer) = timer.get_value() {
            timer.clear();
        }
        let say = move || {
            let _ = spoken.try_set(words);
        };
        timer.set_value(set_timeout_with_handle(say, Duration::from_millis(900)).ok());
    });
    on_cleanup(move || {
        if let Some(timer) = timer.try_get_value().flatten() {
            timer.clear();
        }
    });
    let cell = move |name: &'static str, superheat: bool| {
        said.with(|said| {
            let derived = said.as_ref().map(|said| &said.derived);
            let value = derived.and_then(|d| if superheat { d.superheat } else { d.subcooling });
            let target = derived
                .filter(|d| !superheat || d.superheat_target_known)
                .map(|d| {
                    if superheat {
                        d.superheat_target
                    } else {
                        d.subcooling_target
                    }
                });
            result(name, value, target, desk.units.get())
        })
    };
    view! {
        <div class="results">
            {move || cell("Superheat", true)} {move || cell("Subcooling", false)}
        </div>
        <p class="spoken" role="status" aria-atomic="true">
            {move || spoken.get()}
        </p>
    }
}

fn result(
    name: &'static str,
    value: Option<Banded<TemperatureDifference>>,
    target: Option<Target>,
    units: Units,
) -> AnyView {
    let Some(value) = value else {
        return view! {
            <div class="result">
                <h2>{name}</h2>
                <p class="big">"–"</p>
                <p class="small">"not measured"</p>
            </div>
        }
        .into_any();
    };
    let digits = quantity::tenth(units.temperature.show_difference(value.value));
    view! {
        <div class="result">
            <h2>{name}</h2>
            <p class="big">
                {digits}
                <span class="small">{format!(" ±{}", units.difference(value.half_width))}</span>
            </p>
            {target
                .map(|target| {
                    view! {
                        <VerdictMark verdict=value.against(&target) />
                        <BandStrip value=value target=target units=units />
                        <p class="small target-from">
                            {format!("{}, {}", target.says(units), target.pedigree.says())}
                        </p>
                    }
                })}
        </div>
    }
    .into_any()
}

fn spoken_words(said: &Assessment, units: Units) -> String {
    let part = |name: &str, value: Option<Banded<TemperatureDifference>>, target: &Target| {
        value.map(|value| {
            format!(
                "{name} {}, {}.",
                value.says(units),
                value.against(target).says()
            )
        })
    };
    let derived = &said.derived;
    [
        part("Superheat", derived.superheat, &derived.superheat_target),
        part("Subcooling", derived.subcooling, &derived.subcooling_target),
    ]
    .into_iter()
    .flatten()
    .collect::<Vec<_>>()
    .join(" ")
}

/// The floodback alarm, where there is one.
#[component]
pub(super) fn Alarmed(said: Memo<Option<Assessment>>) -> impl IntoView {
    let desk = desk();
    let alarm = Memo::new(move |_| said.with(|said| said.as_ref().and_then(|said| said.alarm)));
    move || {
        alarm.get().map(|alarm| {
            let has_stem = slice(desk, |job| {
                job.choices.metering == Some(Metering::AdjustableTxv)
            })
            .unwrap_or(false);
            let (point, superheat, head) = match alarm {
                Alarm::LiquidPossible { point, superheat } => (point, superheat, "Liquid possible"),
                Alarm::BelowMinimum { point, superheat } => (point, superheat, "Under the minimum"),
            };
            view! {
                <div class="alarm" role="alert">
                    <strong>
                        {format!(
                            "{head}: superheat {} {}.",
                            desk.units.get().difference(superheat),
                            point.says(),
                        )}
                    </strong>
                    " "
                    {alarm.safe_direction(has_stem)}
                </div>
            }
        })
    }
}

#[component]
fn Groups(said: Memo<Option<Assessment>>) -> impl IntoView {
    let desk = desk();
    let count = move |group: Group| {
        desk.typing.with(|draft| {
            draft
                .typed
                .keys()
                .filter(|field| field.row().group == group)
                .count()
        })
    };
    Group::ALL
        .into_iter()
        .map(|group| {
            let fields = Field::ALL
                .iter()
                .copied()
                .filter(|field| field.row().group == group)
                .map(|field| view! { <Entry field=field said=said /> })
                .collect_view();
            if group == Group::Main {
                return view! { <div class="grid">{fields}</div> }.into_any();
            }
            let open = desk
                .typing
                .with_untracked(|draft| draft.typed.keys().any(|field| field.row().group == group));
            view! {
                <details class="more" open=open>
                    <summary>
                        {group.says()}
                        <span class="count">
                            {move || match count(group) {
                                0 => String::new(),
                                count => format!(" {count} entered"),
                            }}
                        </span>
                    </summary>
                    <div class="grid">{fields}</div>
                </details>
            }
            .into_any()
        })
        .collect_view()
}

#[component]
fn Entry(field: Field, said: Memo<Option<Assessment>>) -> impl IntoView {
    let desk = desk();
    let row = field.row();
    let measure = Measure::from(row.kind);
    let shown = move || {
        desk.typing.with(|draft| {
            draft.typed.get(&field).map_or(String::new(), |typed| {
                typed.shown(measure, desk.units.get())
            })
        })
    };
    let fault = Memo::new(move |_| {
        let units = desk.units.get();
        let typed = desk.typing.with(|draft| draft.fault(field));
        if let Some(fault) = typed {
            return Some(format!("{} {}", fault.says(measure, units), row.remedy));
        }
        said.with(|said| {
            let refusal = said
                .as_ref()?
                .refusals
                .iter()
                .find(|refusal| refusal.field == field)?;
            Some(format!(
                "Outside {} to {} for this refrigerant. {}",
                measure.digits(refusal.low, units),
                measure.says(refusal.high, units),
                row.remedy
            ))
        })
    });
    let doubt = Memo::new(move |_| {
        let units = desk.units.get();
        said.with(|said| {
            let doubts = &said.as_ref()?.doubts;
            // The likely mistake says more than what it leads to, and that more than the usual range.
            let doubt = doubts
                .iter()
                .filter(|doubt| doubt.field() == Some(field))
                .min_by_key(|doubt| match doubt {
                    Doubt::HosesSwapped | Doubt::CelsiusTyped { .. } => 0,
                    Doubt::Unusual { .. } => 2,
                    _ => 1,
                })?;
            Some(match doubt {
                Doubt::Unusual { usual, .. } => format!(
                    "Usual is {} to {}. {}",
                    measure.digits(usual.0, units),
                    measure.says(usual.1, units),
                    doubt.says()
                ),
                other => other.says(),
            })
        })
    });
    view! {
        <NumberField
            label=row.label
            id=format!("read-{}", row.key)
            unit=Signal::derive(move || measure.sign(desk.units.get()).to_owned())
            value=Signal::derive(shown)
            on_type=move |text: String| {
                desk.types(field, Typed::new(&text, desk.units.get_untracked()));
            }
            on_keep=move |()| desk.keeps(field)
            fault=fault
            doubt=Signal::derive(move || doubt.get())
            below_zero=Signal::derive(move || {
                measure.goes_below_zero(row.hard.0.max(-60.0), desk.units.get())
                    && row.usual.0 < 45.0
            })
            hint=row.hint
        />
    }
}

/// Doubts about the whole reading.
#[component]
fn Questions(said: Memo<Option<Assessment>>) -> impl IntoView {
    let whole = Memo::new(move |_| {
        said.with(|said| {
            said.as_ref().map_or(Vec::new(), |said| {
                said.doubts
                    .iter()
                    .filter(|doubt| doubt.field().is_none())
                    .map(Doubt::says)
                    .collect()
            })
        })
    });
    move || {
        whole
            .get()
            .into_iter()
            .map(|says| view! { <p class="caution">{says}</p> })
            .collect_view()
    }
}

/// Everything else that follows.
#[component]
pub(super) fn Numbers(said: Memo<Option<Assessment>>) -> impl IntoView {
    let desk = desk();
    let rows = move || {
        let units = desk.units.get();
        said.with(|said| {
            said.as_ref().map_or(Vec::new(), |said| {
                job::derived_numbers(&said.derived, units)
            })
        })
    };
    view! {
        <details class="more">
            <summary>"All numbers"</summary>
            <dl class="numbers">
                {move || {
                    rows()
                        .into_iter()
                        .map(|(what, was)| {
                            view! {
                                <dt>{what}</dt>
                                <dd>{was}</dd>
                            }
                        })
                        .collect_view()
                }}
            </dl>
        </details>
    }
}

//! Finding: what the reading means, what speaks for and against, and what may be done to the charge.

use super::job::slice;
use super::reading::{Alarmed, Numbers};
use crate::desk::desk;
use diagnosis::{ActionOrder, Assessment, Finding, Speaks};
use job::Screen;
use leptos::prelude::*;
use quantity::Units;

/// The screen.
#[component]
pub(super) fn FindingScreen() -> impl IntoView {
    let desk = desk();
    let said: Memo<Option<Assessment>> = Memo::new(move |_| {
        slice(desk, |job| {
            job.present_reading().and_then(|draft| job.assess(draft))
        })
        .flatten()
    });
    let none = move || said.with(Option::is_none);
    view! {
        <section>
            <h1>"Finding"</h1>
            <Show when=none>
                <p class="quiet">"Nothing to judge yet: enter a reading first."</p>
            </Show>
            <Alarmed said=said />
            {move || {
                said.get().map(|said| view! { <Findings said=said units=desk.units.get() /> })
            }}
            <Numbers said=said />
            <div class="act">
                <Show
                    when=move || !none()
                    fallback=move || {
                        view! {
                            <button
                                type="button"
                                class="primary"
                                on:click=move |_| desk.go_to(Screen::Reading)
                            >
                                "Enter a reading"
                            </button>
                        }
                    }
                >
                    <button
                        type="button"
                        class="primary"
                        on:click=move |_| desk.go_to(Screen::Stem)
                    >
                        "Next: Stem"
                    </button>
                </Show>
            </div>
        </section>
    }
}

#[component]
fn Findings(said: Assessment, units: Units) -> impl IntoView {
    let (shown, folded): (Vec<Finding>, Vec<Finding>) = {
        let mut findings = said.findings.clone();
        let light = findings
            .iter()
            .position(|finding| !finding.is_worth_showing())
            .unwrap_or(findings.len())
            .max(1);
        let folded = findings.split_off(light);
        (findings, folded)
    };
    let best = shown.first().cloned();
    view! {
        {best.map(|best| view! { <Best finding=best /> })}
        <Guard said=said.clone() />
        <Order findings=shown.clone() />
        <h2>"Causes by weight"</h2>
        {shown
            .into_iter()
            .enumerate()
            .map(|(at, finding)| view! { <CauseCard finding=finding units=units open=at == 0 /> })
            .collect_view()}
        <details class="more">
            <summary>{format!("{} more, each under 4 %", folded.len())}</summary>
            {folded
                .into_iter()
                .map(|finding| view! { <CauseCard finding=finding units=units open=false /> })
                .collect_view()}
        </details>
    }
}

/// Likelihood in a word; the figure stands beside it.
fn likely(weight: f64) -> &'static str {
    match weight {
        w if w >= 0.85 => "very likely",
        w if w >= 0.6 => "likely",
        w if w >= 0.35 => "the best bet",
        w if w >= 0.15 => "possible",
        _ => "less likely",
    }
}

#[component]
fn Best(finding: Finding) -> impl IntoView {
    let words = finding.cause.words();
    view! {
        <div class="best">
            <p class="small">{likely(finding.weight)}</p>
            <p class="big-name">{finding.name()}</p>
            <p>{finding.action()}</p>
            {words.caution.map(|caution| view! { <p class="caution">{caution}</p> })}
            <p class="next-test">
                <strong>"Next cheapest test. "</strong>
                {finding.next_test()}
            </p>
        </div>
    }
}

#[component]
fn Guard(said: Assessment) -> impl IntoView {
    view! {
        <div class="guard">
            <h2>{said.charge_advice().says()}</h2>
            <p>{said.charge.says()}</p>
        </div>
    }
}

/// What to do in which order: free and reversible first, the stem later, the charge last.
#[component]
fn Order(findings: Vec<Finding>) -> impl IntoView {
    let mut steps: Vec<(ActionOrder, &'static str)> = findings
        .iter()
        .filter(|finding| finding.is_worth_acting_on())
        .map(|finding| (finding.cause.words().order, finding.action()))
        .filter(|(order, _)| *order != ActionOrder::Nothing)
        .collect();
    steps.sort_by_key(|(order, _)| *order);
    (steps.len() > 1).then(|| {
        let steps: Vec<_> = steps
            .into_iter()
            .map(|(_, action)| view! { <li>{action}</li> })
            .collect();
        view! {
            <h2>"In this order"</h2>
            <ol class="order">{steps}</ol>
        }
    })
}

#[component]
fn CauseCard(finding: Finding, units: Units, open: bool) -> impl IntoView {
    let words = finding.cause.words();
    let percent = format!("{:.0} %", finding.weight * 100.0);
    let lines = |wanted: Speaks| {
        finding
            .evidence
            .iter()
            .filter(|(_, speaks)| *speaks == wanted)
            .map(|(seen, _)| {
                view! { <li>{format!("{}: {}", seen.reads().says(), seen.says(units))}</li> }
            })
            .collect::<Vec<_>>()
    };
    let (speaks_for, against) = (lines(Speaks::For), lines(Speaks::Against));
    let next_test = finding.next_test();
    view! {
        <details class="cause" open=open>
            <summary>
                <span class="cause-name">{finding.name()}</span>
                <span class="weight">{percent}</span>
                <svg class="weight-bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true" focusable="false">
                    <rect class="back" width="100" height="6" />
                    <rect class="front" width=finding.weight * 100.0 height="6" />
                </svg>
            </summary>
            {(!speaks_for.is_empty())
                .then(|| {
                    view! {
                        <h3>"For"</h3>
                        <ul>{speaks_for}</ul>
                    }
                })}
            {(!against.is_empty())
                .then(|| {
                    view! {
                        <h3>"Against"</h3>
                        <ul>{against}</ul>
                    }
                })}
            <h3>"What would overturn it"</h3>
            <p>{words.overturned_by}</p>
            <h3>"Next cheapest test"</h3>
            <p>{next_test}</p>
            {words
                .sources_differ
                .map(|differ| {
                    view! {
                        <h3>"Sources differ"</h3>
                        <p>{differ}</p>
                    }
                })}
        </details>
    }
}

//! Finding: what the reading means, by the trade's table and the model of the plant; what speaks for
//! and against; what may be done to the charge; what a change would do.

mod cause;
mod what_if;

use super::reading::{Alarmed, Numbers};
use super::slice::slice;
use crate::desk::desk;
use crate::parts::{Go, in_order};
use belief::{Judged, Proposal};
use cause::{Causes, ChanceBar, chance};
use diagnosis::{ActionOrder, Assessment, Cause, Finding};
use job::{Measure, Screen};
use leptos::prelude::*;
use quantity::Units;
use what_if::WhatIf;

/// The screen.
#[component]
pub(super) fn FindingScreen() -> impl IntoView {
    let desk = desk();
    let judged: Memo<Option<Judged>> = Memo::new(move |_| {
        slice(desk, |job| {
            job.present_reading().and_then(|draft| job.judge(draft))
        })
        .flatten()
    });
    let said: Memo<Option<Assessment>> =
        Memo::new(move |_| judged.with(|judged| Some(judged.as_ref()?.assessment.clone())));
    let none = move || judged.with(Option::is_none);
    let step = Memo::new(move |_| {
        let units = desk.units.get();
        judged.with(|judged| {
            let ounces = judged.as_ref()?.proposal?.ounces?;
            Some((ounces, weight(ounces, units)))
        })
    });
    let ounces = move || step.with(|step| step.as_ref().map(|(ounces, _)| *ounces));
    desk.likens(|| true, ounces, false);
    view! {
        <section class="with-side finding">
            <div class="body">
                <h1>"Finding"</h1>
                <Show when=none>
                    <p class="quiet">"Nothing to judge yet: enter a reading first."</p>
                </Show>
                <Alarmed said=said />
                {move || judged.get().map(|judged| view! { <Verdict judged=judged units=desk.units.get() /> })}
            </div>
            <div class="side">
                <Show when=move || !none()>
                    <WhatIf step=step />
                </Show>
                {move || judged.get().map(|judged| view! { <Causes judged=judged units=desk.units.get() /> })}
                <Numbers said=said />
            </div>
            <div class="act">
                <Show
                    when=move || !none()
                    fallback=move || {
                        view! { <Go words="Enter a reading" to=Screen::Reading /> }
                    }
                >
                    <Go words="Next: Stem" to=Screen::Stem />
                </Show>
            </div>
        </section>
    }
}

/// The best cause, what stands beside it, the charge, the order of work.
#[component]
fn Verdict(judged: Judged, units: Units) -> impl IntoView {
    let name = |cause: Cause| {
        let findings = &judged.assessment.findings;
        let found = findings.iter().find(|finding| finding.cause == cause);
        found.map_or("", Finding::name)
    };
    let pairs: Vec<_> = judged
        .pairs()
        .map(|(first, second, probability)| {
            let both = format!("Both at once: {}, with {}: ", name(first), name(second));
            view! {
                <p class="differ">
                    {both} {chance(probability)}
                </p>
            }
        })
        .collect();
    let differ = judged
        .disagreement()
        .map(|says| view! { <p class="differ">{says}</p> });
    let findings: Vec<Finding> = judged
        .shown()
        .filter(|(_, probability)| *probability >= WORTH_ACTING_ON)
        .map(|(finding, _)| finding.clone())
        .collect();
    view! {
        <Best judged=judged.clone() />
        {differ}
        {pairs}
        <Guard judged=judged.clone() units=units />
        <Order findings=findings />
    }
}

/// A cause less probable than this needs no act of its own. Judgement, no source.
const WORTH_ACTING_ON: f64 = 0.08;

#[component]
fn Best(judged: Judged) -> impl IntoView {
    let (finding, probability) = judged.shown().next()?;
    let cause = finding.cause;
    let alone = judged
        .posterior
        .iter()
        .find(|belief| belief.class.first == cause && belief.class.second.is_none());
    let size = alone.and_then(|belief| belief.size.as_ref());
    let test = match &judged.next_test {
        Some(next) => format!("{} About {:.0} min.", next.test.says, next.test.minutes),
        None => finding.next_test().to_owned(),
    };
    Some(view! {
        <div class="best">
            <p class="big-name">{finding.name()}</p>
            <p class="chance">{chance(probability)}</p>
            <ChanceBar probability=probability />
            {size.map(|size| view! { <p class="small">{format!("If so: {}", size.in_words())}</p> })}
            <p>{finding.action()}</p>
            {cause.words().caution.map(|caution| view! { <p class="caution">{caution}</p> })}
            <p class="next-test">
                <strong>"Next test. "</strong>
                {test}
            </p>
        </div>
    })
}

#[component]
fn Guard(judged: Judged, units: Units) -> impl IntoView {
    let said = &judged.assessment;
    let step = judged.proposal.map(|step| stepped(&step, units));
    view! {
        <div class="guard">
            <h2>{said.charge_advice().says()}</h2>
            <p>{said.charge.says()}</p>
            {step.map(|says| view! { <p class="charge-step">{says}</p> })}
        </div>
    }
}

/// The step that the guard allows and what it should do.
fn stepped(step: &Proposal, units: Units) -> String {
    let by = match step.ounces {
        Some(ounces) => weight(ounces, units),
        None if step.share < 0.0 => format!("{:.0} % of the charge out", -100.0 * step.share),
        None => format!("{:.0} % of the charge in", 100.0 * step.share),
    };
    let after = step.subcooling.map_or(String::new(), |after| {
        format!(" Subcooling after it: about {}.", after.says(units))
    });
    format!("At most {by} at once, then let it settle and read again.{after}")
}

/// `6.0 oz in`, in the person's unit.
fn weight(ounces: f64, units: Units) -> String {
    let way = if ounces < 0.0 { "out" } else { "in" };
    format!("{} {way}", Measure::Mass.says(ounces.abs(), units))
}

/// What to do in which order: free and reversible first, the stem later, the charge last.
#[component]
fn Order(findings: Vec<Finding>) -> impl IntoView {
    let steps = findings
        .iter()
        .map(|finding| (finding.cause.words().order, finding.action()))
        .filter(|(order, _)| *order != ActionOrder::Nothing);
    let steps = in_order(steps, |(order, _)| *order);
    (steps.len() > 1).then(|| {
        let count = steps.len();
        let steps: Vec<_> = steps
            .into_iter()
            .map(|(_, action)| view! { <li>{action}</li> })
            .collect();
        view! {
            <details class="more">
                <summary>{format!("In this order: {count} steps")}</summary>
                <ol class="order">{steps}</ol>
            </details>
        }
    })
}

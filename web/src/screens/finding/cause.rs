//! The causes by how probable they are, each with what speaks for and against it.

use belief::{Judged, in_words};
use diagnosis::{Finding, Speaks};
use leptos::prelude::*;
use quantity::Units;

/// Every cause: those worth showing, then the rest, folded.
#[component]
pub(super) fn Causes(judged: Judged, units: Units) -> impl IntoView {
    let shown: Vec<(Finding, f64)> = judged.shown().map(|(of, p)| (of.clone(), p)).collect();
    let findings = &judged.assessment.findings;
    let folded: Vec<_> = judged
        .causes
        .iter()
        .filter(|(cause, _)| shown.iter().all(|(finding, _)| finding.cause != *cause))
        .filter_map(|(cause, probability)| {
            let finding = findings.iter().find(|finding| finding.cause == *cause)?;
            Some((finding.clone(), *probability))
        })
        .collect();
    let cards = |of: Vec<(Finding, f64)>| {
        of.into_iter()
            .map(|(finding, probability)| {
                view! { <CauseCard finding=finding probability=probability units=units /> }
            })
            .collect_view()
    };
    let rest = format!("{} more, each under 4 %", folded.len());
    view! {
        <h2>"Causes"</h2>
        {cards(shown)}
        <details class="more">
            <summary>{rest}</summary>
            {cards(folded)}
        </details>
    }
}

/// A probability as a bar; the words stand beside it.
#[component]
pub(super) fn ChanceBar(
    /// 0 to 1.
    probability: f64,
) -> impl IntoView {
    view! {
        <svg class="weight-bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true" focusable="false">
            <rect class="back" width="100" height="6" />
            <rect class="front" width=probability * 100.0 height="6" />
        </svg>
    }
}

/// A probability in words and per cent: `likely, 82 %`.
pub(super) fn chance(probability: f64) -> String {
    format!("{}, {:.0} %", in_words(probability), probability * 100.0)
}

#[component]
fn CauseCard(finding: Finding, probability: f64, units: Units) -> impl IntoView {
    let words = finding.cause.words();
    let lines = |wanted: Speaks, heading: &'static str| {
        let lines: Vec<_> = finding
            .evidence
            .iter()
            .filter(|(_, speaks)| *speaks == wanted)
            .map(|(seen, _)| {
                view! { <li>{format!("{}: {}", seen.reads().says(), seen.says(units))}</li> }
            })
            .collect();
        (!lines.is_empty()).then(|| {
            view! {
                <h3>{heading}</h3>
                <ul>{lines}</ul>
            }
        })
    };
    let (speaks_for, against) = (lines(Speaks::For, "For"), lines(Speaks::Against, "Against"));
    view! {
        <details class="cause">
            <summary>
                <span class="cause-name">{finding.name()}</span>
                <span class="weight">{format!("{:.0} %", probability * 100.0)}</span>
                <ChanceBar probability=probability />
            </summary>
            {speaks_for}
            {against}
            <h3>"Next cheapest test"</h3>
            <p>{finding.next_test()}</p>
            <details>
                <summary>"What would overturn it"</summary>
                <p>{words.overturned_by}</p>
                {words
                    .sources_differ
                    .map(|differ| {
                        view! {
                            <h3>"Sources differ"</h3>
                            <p>{differ}</p>
                        }
                    })}
            </details>
        </details>
    }
}

//! Finding in a practice job: all of it, the signs alone, or nothing, until the cause is called.

use crate::desk::desk;
use diagnosis::Reads;
use leptos::prelude::*;

/// Finding, as far as the case lets it speak.
#[component]
pub(crate) fn FindingFor(
    /// The screen itself.
    children: ChildrenFn,
) -> impl IntoView {
    let desk = desk();
    move || match desk.bench.tells(desk).as_str() {
        "" | "all" => children(),
        tells => view! { <Withheld signs=tells == "numbers" /> }.into_any(),
    }
}

#[component]
fn Withheld(signs: bool) -> impl IntoView {
    let desk = desk();
    let lines = move || {
        let units = desk.units.get();
        let said = desk.job.with(|job| {
            let job = job.as_ref()?;
            job.assess(job.present_reading()?)
        });
        let first = said.and_then(|said| said.findings.into_iter().next());
        let seen = first.map_or_else(Vec::new, |first| first.evidence);
        let lines: Vec<_> = seen
            .iter()
            .filter(|(seen, _)| signs && !matches!(seen.reads(), Reads::CannotTell))
            .map(|(seen, _)| {
                view! { <li>{format!("{}: {}", seen.reads().says(), seen.says(units))}</li> }
            })
            .collect();
        lines
    };
    let says = if signs {
        "In this case Finding tells the signs and names no cause until you have said what it is, at the plant."
    } else {
        "In this case Finding tells nothing until you have said what it is, at the plant. The numbers stand on Reading."
    };
    view! {
        <section>
            <h1>"Finding"</h1>
            <p class="state">{says}</p>
            <ul>{lines}</ul>
        </section>
    }
}

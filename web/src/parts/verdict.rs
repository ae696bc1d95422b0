//! A verdict by word and shape, never by colour alone.

use diagnosis::Verdict;
use leptos::prelude::*;

/// A shape and a word.
#[component]
pub(crate) fn VerdictMark(
    /// The verdict.
    verdict: Verdict,
) -> impl IntoView {
    let (shape, class) = match verdict {
        Verdict::InBand => ("M3 8h18v8h-18z", "verdict in"),
        Verdict::Above => ("M12 3l9 15h-18z", "verdict out"),
        Verdict::Below => ("M12 21l-9-15h18z", "verdict out"),
        Verdict::CannotTell => ("M12 3l9 9-9 9-9-9z", "verdict unsure"),
    };
    let words = match verdict {
        Verdict::CannotTell => "can't tell",
        other => other.says(),
    };
    view! {
        <span class=class>
            <svg viewBox="0 0 24 24" aria-hidden="true">
                <path d=shape />
            </svg>
            {words}
        </span>
    }
}

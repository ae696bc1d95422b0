//! A number on a line: its target band with two edges, its value, and how far the tools leave it
//! open.

use diagnosis::{Banded, Target};
use leptos::prelude::*;
use quantity::{TemperatureDifference, Units};

const WIDTH: f64 = 320.0;

/// The strip. Decoration beside words that say the same.
#[component]
pub(crate) fn BandStrip(
    /// The value and its error band.
    value: Banded<TemperatureDifference>,
    /// Its target.
    target: Target,
    /// Units shown at the edges.
    units: Units,
) -> impl IntoView {
    // From zero to half again past what matters, in whole tens of °F.
    let top = value.highest().f().max(target.high.f() * 1.6).max(20.0);
    let top = (top / 10.0).ceil() * 10.0;
    let x = move |at: TemperatureDifference| (at.f() / top * WIDTH).clamp(2.0, WIDTH - 2.0);
    let (low, high) = (x(target.low), x(target.high));
    let (from, to, at) = (x(value.lowest()), x(value.highest()), x(value.value));
    let edge =
        move |at: TemperatureDifference| format!("{:.0}", units.temperature.show_difference(at));
    view! {
        <svg class="band-strip" viewBox="0 0 320 44" aria-hidden="true" focusable="false">
            <line class="axis" x1="0" y1="18" x2=WIDTH y2="18" />
            <rect class="target" x=low y="8" width=high - low height="20" />
            <line class="edge" x1=low y1="4" x2=low y2="32" />
            <line class="edge" x1=high y1="4" x2=high y2="32" />
            <text x=low y="43" text-anchor="middle">{edge(target.low)}</text>
            <text x=high y="43" text-anchor="middle">{edge(target.high)}</text>
            <line class="whisker" x1=from y1="18" x2=to y2="18" />
            <line class="whisker" x1=from y1="12" x2=from y2="24" />
            <line class="whisker" x1=to y1="12" x2=to y2="24" />
            <circle class="value" cx=at cy="18" r="6" />
        </svg>
    }
}

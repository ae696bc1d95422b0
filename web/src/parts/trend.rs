//! The trend strip: superheat and subcooling against time, target bands, turns marked; and the same
//! as a table.

use crate::outside::clock;
use diagnosis::Target;
use job::{Measure, Trend};
use leptos::prelude::*;
use quantity::{TemperatureDifference, Units};

const WIDTH: f64 = 340.0;
const HEIGHT: f64 = 132.0;
const LEFT: f64 = 34.0;
const RIGHT: f64 = 8.0;
const TOP: f64 = 34.0;
const BOTTOM: f64 = 20.0;

/// Where things are in one panel.
#[derive(Clone, Copy)]
struct Scale {
    from_ms: i64,
    span_ms: f64,
    top_f: f64,
    bottom_f: f64,
}

impl Scale {
    fn x(&self, at_ms: i64) -> f64 {
        LEFT + (at_ms - self.from_ms) as f64 / self.span_ms * (WIDTH - LEFT - RIGHT)
    }
    fn y(&self, value_f: f64) -> f64 {
        let share = (value_f - self.bottom_f) / (self.top_f - self.bottom_f);
        HEIGHT - BOTTOM - share.clamp(0.0, 1.0) * (HEIGHT - TOP - BOTTOM)
    }
}

type Series = Vec<(i64, Option<TemperatureDifference>)>;

/// The strip and its table.
#[component]
pub(crate) fn TrendStrip(
    /// What to draw.
    trend: Trend,
    /// Units shown.
    units: Units,
) -> impl IntoView {
    let superheat: Series = trend
        .points
        .iter()
        .map(|p| (p.at_ms, p.superheat))
        .collect();
    let subcooling: Series = trend
        .points
        .iter()
        .map(|p| (p.at_ms, p.subcooling))
        .collect();
    let times = trend
        .points
        .iter()
        .map(|p| p.at_ms)
        .chain(trend.turns.iter().map(|t| t.at_ms));
    let (from, to) = times.fold((i64::MAX, i64::MIN), |(from, to), at| {
        (from.min(at), to.max(at))
    });
    let span_ms = ((to - from) as f64).max(5.0 * 60_000.0);
    view! {
        <figure class="trend">
            <Panel
                name="Superheat" series=superheat target=trend.superheat_target
                trend=trend.clone() from_ms=from span_ms=span_ms units=units turns=true
            />
            <Panel
                name="Subcooling" series=subcooling target=trend.subcooling_target
                trend=trend.clone() from_ms=from span_ms=span_ms units=units turns=false
            />
            <details>
                <summary>"The same as a table"</summary>
                <Table trend=trend units=units />
            </details>
        </figure>
    }
}

#[component]
fn Panel(
    name: &'static str,
    series: Series,
    target: Target,
    trend: Trend,
    from_ms: i64,
    span_ms: f64,
    units: Units,
    turns: bool,
) -> impl IntoView {
    let values = series
        .iter()
        .filter_map(|(_, value)| value.map(TemperatureDifference::f));
    let (low, high) = values.fold((0.0f64, target.high.f() * 1.4), |(low, high), v| {
        (low.min(v), high.max(v))
    });
    let scale = Scale {
        from_ms,
        span_ms,
        top_f: (high / 5.0).ceil() * 5.0,
        bottom_f: (low / 5.0).floor() * 5.0,
    };
    let shown = move |value: TemperatureDifference| {
        format!("{:.0}", units.temperature.show_difference(value))
    };
    let marks: Vec<_> = series
        .iter()
        .filter_map(|&(at, value)| Some((scale.x(at), value?)))
        .map(|(x, value)| {
            let inside = (target.low..=target.high).contains(&value);
            let y = scale.y(value.f());
            // Inside the band a filled square, outside a hollow ring: shape, not colour.
            if inside {
                view! { <rect class="mark in" x=x - 4.0 y=y - 4.0 width="8" height="8" /> }
                    .into_any()
            } else {
                view! { <circle class="mark out" cx=x cy=y r="4.5" /> }.into_any()
            }
        })
        .collect();
    let turn_marks: Vec<_> = trend
        .turns
        .iter()
        .map(|turn| {
            let x = scale.x(turn.at_ms);
            let x = x.clamp(LEFT + 8.0, WIDTH - RIGHT - 8.0);
            let label = turns.then(|| {
                view! {
                    <text class="turn-label" x=x y="29" text-anchor="middle">
                        {quarters(turn.by.get())}
                    </text>
                }
            });
            view! {
                <line class="turn" x1=x x2=x y1=TOP - 2.0 y2=HEIGHT - BOTTOM />
                {label}
            }
        })
        .collect();
    let last = series.iter().rev().find_map(|(_, value)| *value);
    let description = last.map_or(format!("{name}: nothing read yet"), |last| {
        let place = if last < target.low {
            "below"
        } else if last > target.high {
            "above"
        } else {
            "inside"
        };
        format!(
            "{name} over time, last {}, {place} the band {}",
            units.difference(last),
            target.says(units)
        )
    });
    let (band_top, band_bottom) = (scale.y(target.high.f()), scale.y(target.low.f()));
    view! {
        <svg class="panel" viewBox="0 0 340 132" role="img" aria-label=description>
            <text class="panel-name" x="0" y="12">
                {format!("{name}, {}", units.temperature.difference_sign())}
            </text>
            <rect class="band" x=LEFT y=band_top width=WIDTH - LEFT - RIGHT height=band_bottom - band_top />
            <line class="band-edge" x1=LEFT x2=WIDTH - RIGHT y1=band_top y2=band_top />
            <line class="band-edge" x1=LEFT x2=WIDTH - RIGHT y1=band_bottom y2=band_bottom />
            <text class="tick" x=LEFT - 4.0 y=band_top + 4.0 text-anchor="end">{shown(target.high)}</text>
            <text class="tick" x=LEFT - 4.0 y=(band_bottom + 4.0).max(band_top + 16.0) text-anchor="end">{shown(target.low)}</text>
            {turn_marks}
            <path class="path" class:dashed=!turns d=path(&series, scale) />
            {marks}
            <text class="tick" x=LEFT y=HEIGHT - 4.0>
                {clock::local_time(from_ms)}
            </text>
            <text class="tick" x=WIDTH - RIGHT y=HEIGHT - 4.0 text-anchor="end">
                {clock::local_time(from_ms + span_ms as i64)}
            </text>
        </svg>
    }
}

/// A line through what was read; a gap stays a gap.
fn path(series: &Series, scale: Scale) -> String {
    let mut path = String::new();
    let mut pen_down = false;
    for &(at, value) in series {
        pen_down = match value {
            Some(value) => {
                let verb = if pen_down { 'L' } else { 'M' };
                path.push_str(&format!(
                    "{verb}{:.1} {:.1}",
                    scale.x(at),
                    scale.y(value.f())
                ));
                true
            }
            None => false,
        };
    }
    path
}

fn quarters(quarters: i32) -> String {
    let sign = if quarters > 0 { "+" } else { "\u{2212}" };
    let size = quarters.unsigned_abs();
    let part = ["", "¼", "½", "¾"][(size % 4) as usize];
    let whole = if size >= 4 {
        (size / 4).to_string()
    } else {
        String::new()
    };
    format!("{sign}{whole}{part}")
}

#[component]
fn Table(trend: Trend, units: Units) -> impl IntoView {
    let sign = Measure::Difference.sign(units);
    let cell = move |value: Option<TemperatureDifference>| {
        value.map_or("not measured".to_owned(), |value| {
            quantity::tenth(units.temperature.show_difference(value))
        })
    };
    let mut rows: Vec<(i64, String, String, String)> = trend
        .points
        .iter()
        .map(|p| {
            (
                p.at_ms,
                cell(p.superheat),
                cell(p.subcooling),
                String::new(),
            )
        })
        .chain(trend.turns.iter().map(|turn| {
            (
                turn.at_ms,
                String::new(),
                String::new(),
                quarters(turn.by.get()),
            )
        }))
        .collect();
    rows.sort_by_key(|row| row.0);
    let rows: Vec<_> = rows
        .into_iter()
        .map(|(at, superheat, subcooling, turn)| {
            view! {
                <tr>
                    <th scope="row">{clock::local_time(at)}</th>
                    <td>{superheat}</td>
                    <td>{subcooling}</td>
                    <td>{turn}</td>
                </tr>
            }
        })
        .collect();
    view! {
        <table class="plain">
            <thead>
                <tr>
                    <th scope="col">"Time"</th>
                    <th scope="col">{format!("Superheat, {sign}")}</th>
                    <th scope="col">{format!("Subcooling, {sign}")}</th>
                    <th scope="col">"Turns"</th>
                </tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
    }
}

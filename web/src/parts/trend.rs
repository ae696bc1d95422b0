//! The trend strip: superheat and subcooling against time, target bands, turns marked, the way that
//! superheat should take; and the same as a table.

use super::{Cell, in_order, table};
use crate::outside::clock;
use diagnosis::Target;
use job::{Expected, Measure, Trend, turns_brief};
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

/// The strip and its table. What is unfolded stays so while the strip changes.
#[component]
pub(crate) fn TrendStrip(
    /// What to draw; nothing where there is none.
    trend: Memo<Option<Trend>>,
    /// Units shown.
    #[prop(into)]
    units: Signal<Units>,
) -> impl IntoView {
    view! {
        <Show when=move || trend.with(Option::is_some)>
            <figure class="trend">
                {move || trend.get().map(|trend| view! { <Panels trend=trend units=units.get() /> })}
                <details>
                    <summary>"The same as a table"</summary>
                    {move || trend.with(|trend| trend.as_ref().map(|trend| as_table(trend, units.get())))}
                </details>
            </figure>
        </Show>
    }
}

#[component]
fn Panels(trend: Trend, units: Units) -> impl IntoView {
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
        .chain(trend.turns.iter().map(|t| t.at_ms))
        .chain(trend.expected.iter().map(|e| e.at_ms));
    let (from, to) = times.fold((i64::MAX, i64::MIN), |(from, to), at| {
        (from.min(at), to.max(at))
    });
    let span_ms = ((to - from) as f64).max(5.0 * 60_000.0);
    view! {
        <Panel
            name="Superheat" series=superheat target=trend.superheat_target
            trend=trend.clone() from_ms=from span_ms=span_ms units=units turns=true
        />
        <Panel
            name="Subcooling" series=subcooling target=trend.subcooling_target
            trend=trend.clone() from_ms=from span_ms=span_ms units=units turns=false
        />
        {legend(&trend).map(|says| view! { <figcaption class="small">{says}</figcaption> })}
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
    // The way ahead is one of superheat.
    let ahead = if turns {
        trend.expected.clone()
    } else {
        Vec::new()
    };
    let edges = ahead.iter().flat_map(|e| [e.low.f(), e.high.f()]);
    let (low, high) = values
        .chain(edges)
        .fold((0.0f64, target.high.f() * 1.4), |(low, high), v| {
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
            <path class="ahead" d=ribbon(&ahead, scale) />
            <path class="ahead-middle" d=middle(&ahead, scale) />
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

/// What the shaded way is, in words; nothing where there is none.
fn legend(trend: &Trend) -> Option<String> {
    trend.expected.first()?;
    let after = match trend.proposed {
        Some(by) => format!(
            "after the proposed turn, {}, made now",
            turns_brief(by.get())
        ),
        None => "after the last turn, as foretold when it was made".to_owned(),
    };
    Some(format!(
        "Shaded: where superheat should be read {after}; dashed, its middle."
    ))
}

/// The band of the way ahead: along its lower edge and back along its upper one.
fn ribbon(ahead: &[Expected], scale: Scale) -> String {
    let there = ahead.iter().map(|e| (e.at_ms, e.low));
    let back = ahead.iter().rev().map(|e| (e.at_ms, e.high));
    let mut path = line(there.chain(back), scale);
    if !path.is_empty() {
        path.push('Z');
    }
    path
}

fn middle(ahead: &[Expected], scale: Scale) -> String {
    line(ahead.iter().map(|e| (e.at_ms, e.middle)), scale)
}

fn line(points: impl Iterator<Item = (i64, TemperatureDifference)>, scale: Scale) -> String {
    path(
        &points.map(|(at, value)| (at, Some(value))).collect(),
        scale,
    )
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

fn as_table(trend: &Trend, units: Units) -> AnyView {
    let sign = Measure::Difference.sign(units);
    let cell = move |value: Option<TemperatureDifference>| {
        value.map_or("not measured".to_owned(), |value| {
            quantity::tenth(units.temperature.show_difference(value))
        })
    };
    let blank = String::new;
    let points = trend.points.iter().map(|p| {
        let (superheat, subcooling) = (cell(p.superheat), cell(p.subcooling));
        (p.at_ms, [superheat, subcooling, blank(), blank(), blank()])
    });
    let turns = trend.turns.iter().map(|turn| {
        let by = quarters(turn.by.get());
        (turn.at_ms, [blank(), blank(), by, blank(), blank()])
    });
    let expected = trend.expected.iter().map(|e| {
        let band = format!("{} to {}", cell(Some(e.low)), cell(Some(e.high)));
        (
            e.at_ms,
            [blank(), blank(), blank(), cell(Some(e.middle)), band],
        )
    });
    // The columns of a way ahead stand only where there is one.
    let columns = if trend.expected.is_empty() { 3 } else { 5 };
    let rows = in_order(points.chain(turns).chain(expected), |row| row.0)
        .into_iter()
        .map(|(at, cells)| {
            let cells = cells.into_iter().take(columns).map(Cell::plain);
            (clock::local_time(at), cells.collect())
        })
        .collect();
    let heads = [
        "Time".to_owned(),
        format!("Superheat, {sign}"),
        format!("Subcooling, {sign}"),
        "Turns".to_owned(),
        format!("Expected superheat, {sign}"),
        format!("Its band, {sign}"),
    ];
    table(heads.into_iter().take(columns + 1).collect(), rows)
}

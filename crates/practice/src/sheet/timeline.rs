//! Both ways on one line of time: superheat, subcooling, suction, head, and what was done; each with
//! its table.

use super::{el, fold, moment, table, words};
use crate::debrief::{Mark, Path};
use crate::facts::Sample;
use job::{Measure, turns_brief};
use quantity::Units;
use serde_json::Value;

const WIDTH: f64 = 340.0;
const HEIGHT: f64 = 120.0;
const LEFT: f64 = 38.0;
const RIGHT: f64 = 8.0;
const TOP: f64 = 22.0;
const BOTTOM: f64 = 20.0;
/// Points of one way in one panel at most: a phone has no more pixels to tell them apart.
const MOST_POINTS: usize = 60;

type Take = fn(&Sample) -> Option<f64>;
type Points = Vec<(u32, Option<f64>)>;

/// The panels: name, measure, which number.
const PANELS: [(&str, Measure, Take); 4] = [
    ("Superheat", Measure::Difference, |at| at.superheat_f),
    ("Subcooling", Measure::Difference, |at| at.subcooling_f),
    ("Suction", Measure::Gauge, |at| at.suction_psig),
    ("Head", Measure::Gauge, |at| at.liquid_psig),
];

/// All of it.
pub(super) fn timeline(yours: &Path, good: &Path, units: Units) -> Value {
    let last = |path: &Path| {
        let done = path.marks.iter().map(|mark| mark.until_s).max();
        done.max(path.samples.last().map(|at| at.at_s)).unwrap_or(0)
    };
    let until_s = last(yours).max(last(good)).max(60);
    let step = |path: &Path| path.samples.len().div_ceil(MOST_POINTS).max(1);
    let every = step(yours).max(step(good));
    let says = "Solid: you. Dashed: a good way through the same case. Minutes since arrival.";
    let mut all = vec![words("figcaption", "small", says)];
    for (name, measure, take) in PANELS {
        let points = |path: &Path| -> Points {
            let thinned = path.samples.iter().step_by(every);
            thinned
                .map(|at| (at.at_s, take(at).map(|value| measure.show(value, units))))
                .collect()
        };
        let name = format!("{name}, {}", measure.sign(units));
        all.extend(panel(&name, &points(yours), &points(good), until_s));
    }
    all.extend(lanes(&yours.marks, &good.marks, until_s));
    el("figure", &[("class", "trend bench-timeline")], all)
}

fn x(at_s: u32, until_s: u32) -> f64 {
    LEFT + f64::from(at_s) / f64::from(until_s) * (WIDTH - LEFT - RIGHT)
}

fn px(number: f64) -> String {
    format!("{number:.1}")
}

fn text(class: &str, (x, y): (f64, f64), anchor: &str, says: &str) -> Value {
    let (x, y) = (px(x), px(y));
    let attributes = [
        ("class", class),
        ("x", x.as_str()),
        ("y", y.as_str()),
        ("text-anchor", anchor),
    ];
    el("text", &attributes, vec![says.into()])
}

fn line(class: &str, (x1, y1): (f64, f64), (x2, y2): (f64, f64)) -> Value {
    let ends = [px(x1), px(y1), px(x2), px(y2)];
    let [x1, y1, x2, y2] = ends.each_ref().map(String::as_str);
    el(
        "line",
        &[
            ("class", class),
            ("x1", x1),
            ("y1", y1),
            ("x2", x2),
            ("y2", y2),
        ],
        Vec::new(),
    )
}

fn drawing(height: f64, label: &str, all: Vec<Value>) -> Value {
    let view = format!("0 0 {WIDTH} {height}");
    let attributes = [
        ("class", "panel"),
        ("viewBox", view.as_str()),
        ("role", "img"),
        ("aria-label", label),
    ];
    el("svg", &attributes, all)
}

fn says(value: Option<f64>) -> String {
    value.map_or_else(|| "stands".to_owned(), |value| format!("{value:.1}"))
}

fn panel(name: &str, yours: &Points, good: &Points, until_s: u32) -> [Value; 2] {
    let values = yours.iter().chain(good).filter_map(|(_, value)| *value);
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    // A plant that stood all the time has an empty panel.
    let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
    let room = ((high - low) * 0.08).max(0.5);
    let span = high - low + 2.0 * room;
    let y = |value: f64| HEIGHT - BOTTOM - (value - low + room) / span * (HEIGHT - TOP - BOTTOM);
    let path = |class: &str, points: &Points| {
        let mut path = String::new();
        let mut pen_down = false;
        for (at_s, value) in points {
            // Standing still is a gap.
            if let Some(value) = value {
                let verb = if pen_down { 'L' } else { 'M' };
                path.push_str(&format!("{verb}{:.1} {:.1}", x(*at_s, until_s), y(*value)));
            }
            pen_down = value.is_some();
        }
        el("path", &[("class", class), ("d", &path)], Vec::new())
    };
    let newest = |points: &Points| {
        let mut seen = points.iter().rev();
        seen.find_map(|(at_s, value)| value.map(|value| (*at_s, value)))
    };
    let end = |points: &Points| says(newest(points).map(|(_, value)| value));
    // Each line by its name, at its end: yours over it, the good way's under it.
    let named = |points: &Points, name: &str, below: f64| {
        let (at_s, value) = newest(points)?;
        let place = (x(at_s, until_s) - 2.0, y(value) + below);
        let place = (
            place.0.max(LEFT + 30.0),
            place.1.clamp(TOP, HEIGHT - BOTTOM - 3.0),
        );
        Some(text("tick", place, "end", name))
    };
    let label = format!(
        "{name}, against minutes. From {low:.1} to {high:.1}. At the end you: {}, a good way: {}.",
        end(yours),
        end(good),
    );
    let floor = HEIGHT - BOTTOM;
    let foot = HEIGHT - 4.0;
    let minutes = format!("{} min", until_s.div_ceil(60));
    let drawn = drawing(
        HEIGHT,
        &label,
        vec![
            text("panel-name", (0.0, 12.0), "start", name),
            line("axis", (LEFT, floor), (WIDTH - RIGHT, floor)),
            text(
                "tick",
                (LEFT - 4.0, y(high) + 4.0),
                "end",
                &format!("{high:.0}"),
            ),
            text(
                "tick",
                (LEFT - 4.0, (y(low) + 4.0).max(y(high) + 18.0)),
                "end",
                &format!("{low:.0}"),
            ),
            path("path dashed", good),
            path("path", yours),
            text("tick", (LEFT, foot), "start", "0"),
            text("tick", (WIDTH - RIGHT, foot), "end", &minutes),
        ]
        .into_iter()
        .chain(named(yours, "you", -5.0))
        .chain(named(good, "good", 13.0))
        .collect(),
    );
    let mut times: Vec<u32> = yours.iter().chain(good).map(|(at_s, _)| *at_s).collect();
    times.sort_unstable();
    times.dedup();
    let at = |points: &Points, at_s: u32| {
        let there = points.iter().find(|(at, _)| *at == at_s);
        there.map_or_else(String::new, |(_, value)| says(*value))
    };
    let rows = times
        .into_iter()
        .map(|at_s| vec![moment(at_s), at(yours, at_s), at(good, at_s)]);
    let rows = table("", &["Since arrival", "You", "Good way"], rows.collect());
    let heading = format!("{name}: the same as a table");
    [drawn, fold(name, false, &heading, vec![rows])]
}

/// What was done, one lane a way: waits as a bar, what changes the plant for long as a square, the
/// rest as a ring.
fn lanes(yours: &[Mark], good: &[Mark], until_s: u32) -> [Value; 2] {
    let lane = |marks: &[Mark], y: f64| -> Vec<Value> {
        marks
            .iter()
            .map(|mark| {
                let (from, to) = (x(mark.at_s, until_s), x(mark.until_s, until_s));
                if mark.key == "wait" {
                    return line("wait", (from, y), (to, y));
                }
                let (left, top) = (px(from - 4.0), px(y - 4.0));
                if mark.weighty {
                    let square = [
                        ("class", "mark in"),
                        ("x", left.as_str()),
                        ("y", top.as_str()),
                        ("width", "8"),
                        ("height", "8"),
                    ];
                    return el("rect", &square, Vec::new());
                }
                let (cx, cy) = (px(from), px(y));
                let ring = [
                    ("class", "mark out"),
                    ("cx", cx.as_str()),
                    ("cy", cy.as_str()),
                    ("r", "3.5"),
                ];
                el("circle", &ring, Vec::new())
            })
            .collect()
    };
    let steps = |marks: &[Mark]| marks.iter().filter(|mark| mark.key != "wait").count();
    let label = format!(
        "What was done and when: you in {} steps, a good way in {}. Squares change the plant for long, rings do not, bars are waits.",
        steps(yours),
        steps(good),
    );
    let name = "Done: square stem, charge, part; bar wait";
    let mut all = vec![
        text("panel-name", (0.0, 12.0), "start", name),
        text("tick", (LEFT - 6.0, 36.0), "end", "you"),
        text("tick", (LEFT - 6.0, 64.0), "end", "good"),
    ];
    all.extend(lane(yours, 32.0));
    all.extend(lane(good, 60.0));
    let rows = |marks: &[Mark]| {
        let rows = marks.iter().map(|mark| {
            let turn = mark
                .quarters
                .map_or_else(String::new, |it| format!(", {}", turns_brief(it)));
            let what = format!("{}{turn}", mark.says);
            vec![moment(mark.at_s), moment(mark.until_s), what]
        });
        rows.collect()
    };
    let heads = ["From", "To", "What"];
    let tables = vec![
        table("You", &heads, rows(yours)),
        table("Good way", &heads, rows(good)),
    ];
    [
        drawing(84.0, &label, all),
        fold("done", false, "What was done: the same as a table", tables),
    ]
}

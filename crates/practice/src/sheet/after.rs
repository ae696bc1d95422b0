//! The debrief: what it was, what the way there cost, and how a good hand would have gone.

use super::timeline::timeline;
use super::{Ask, button, el, moment, plain, table, words};
use crate::case::{Case, next_number};
use crate::debrief::{Debrief, Path, Truth};
use crate::lesson::lessons;
use crate::score::Score;
use diagnosis::Cause;
use job::Measure;
use quantity::Units;
use serde_json::Value;

/// The sheet.
pub(crate) fn after(debrief: &Debrief, case: &Case, units: Units) -> Value {
    let path = &debrief.path;
    let verdict = if path.found { "Found" } else { "Not found" };
    let said = format!("{verdict}. You said: {}.", names(&path.called));
    let tool: Vec<String> = debrief
        .tool_says
        .iter()
        .map(|likely| format!("{} {:.0} %", name(likely.cause), 100.0 * likely.weight))
        .collect();
    let points = format!("{} of {}", plain(debrief.points), plain(debrief.out_of));
    let mut all = vec![
        words("h1", "", "Debrief"),
        words("p", "big", &points),
        words("h2", "", "What it was"),
    ];
    all.extend(debrief.troubles.iter().map(truth));
    let class = if path.found {
        "state good"
    } else {
        "state stop"
    };
    all.push(words("p", class, &said));
    if !tool.is_empty() {
        let tool = tool.join(", ");
        let says = format!("By its table alone, the tool makes of your last readings: {tool}.");
        all.push(words("p", "", &says));
    }
    let lesson = debrief.lesson_says.as_deref();
    all.extend(lesson.map(|says| words("p", "bench-task", says)));
    all.push(words("h2", "", "Points"));
    all.extend(debrief.scores.iter().flat_map(score));
    all.push(words("h2", "", "Your way and a good way"));
    all.push(took(path, &debrief.good_path, units));
    all.push(timeline(path, &debrief.good_path, units));
    all.push(button(
        "wide",
        &Ask::HandOver,
        vec!["Hand over this attempt".into()],
    ));
    all.extend(again(case));
    el("section", &[], all)
}

fn name(key: &str) -> &'static str {
    let cause = Cause::ALL.iter().find(|cause| cause.key() == key);
    cause.map_or("", |cause| cause.words().name)
}

fn names(keys: &[&'static str]) -> String {
    if keys.is_empty() {
        return "nothing".to_owned();
    }
    let names: Vec<_> = keys.iter().map(|key| name(key)).collect();
    names.join(" and ")
}

fn truth(truth: &Truth) -> Value {
    let size = if truth.size == 0.0 {
        String::new()
    } else {
        format!(" ({})", truth.size)
    };
    let says = format!(": {}{size}", truth.says);
    el("p", &[], vec![words("strong", "", truth.name), says.into()])
}

fn score(score: &Score) -> [Value; 2] {
    let lost = score.lost.iter().map(|lost| {
        let (at, points) = (moment(lost.at_s), plain(lost.points));
        words(
            "li",
            "",
            &format!("{at}: \u{2212}{points}. {}", lost.reason),
        )
    });
    let points = format!(" {} of {}", plain(score.points), plain(score.out_of));
    [
        el(
            "p",
            &[],
            vec![words("strong", "", score.says), points.into()],
        ),
        el("ul", &[], lost.collect()),
    ]
}

/// What a way took, in words, for the table of both.
type Took = fn(&Path, Units) -> String;

fn took(yours: &Path, good: &Path, units: Units) -> Value {
    let rows: [(&str, Took); 7] = [
        ("Time", |path, _| format!("{} min", plain(path.minutes))),
        ("Shells (demo, invented)", |path, _| plain(path.money)),
        ("Under the minimum superheat", |path, _| {
            moment(path.harm.under_minimum_s)
        }),
        ("Liquid to the compressor", |path, units| {
            Measure::Mass.says(path.harm.liquid_oz, units)
        }),
        ("Refrigerant lost", |path, units| {
            Measure::Mass.says(path.harm.lost_oz, units)
        }),
        ("Charge into a starved coil", |path, units| {
            Measure::Mass.says(path.harm.added_to_starved_oz, units)
        }),
        ("Safety stops", |path, _| path.harm.stops.to_string()),
    ];
    let rows = rows
        .iter()
        .map(|(what, took)| vec![(*what).to_owned(), took(yours, units), took(good, units)]);
    table("", &["What it took", "You", "Good way"], rows.collect())
}

/// What comes next: the same case, the next one, or another.
fn again(case: &Case) -> [Value; 2] {
    let address = case.address();
    let (says, next) = match case.lesson() {
        Some(own) => {
            let later = lessons().iter().find(|lesson| lesson.number > own.number);
            ("Next lesson", later.map(crate::Lesson::address))
        }
        None => ("Next number", next_number(&address)),
    };
    let (says, ask) = match next {
        Some(next) => (says, Ask::Begin(next)),
        None => ("Another case", Ask::Pick),
    };
    let row = vec![
        button("", &Ask::Begin(address), vec!["The same case again".into()]),
        button("", &Ask::Pick, vec!["All cases".into()]),
    ];
    [
        el("div", &[("class", "row")], row),
        el(
            "div",
            &[("class", "act")],
            vec![button("primary", &ask, vec![says.into()])],
        ),
    ]
}

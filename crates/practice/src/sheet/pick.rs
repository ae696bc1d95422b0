//! Picking a case: a lesson, or any plant by size, refrigerant, device, difficulty and number; and
//! what was practised on this device.

use super::{Ask, button, el, fold, plain, table, words};
use crate::case::{REFRIGERANTS, TONS};
use crate::difficulty::Difficulty;
use crate::keyed::Keyed;
use crate::lesson::lessons;
use crate::past::{Past, by_cause};
use diagnosis::Metering;
use refrigerant::Refrigerant;
use serde_json::{Map, Value};

/// The parts of an address that are picked from a list.
const PARTS: [&str; 4] = ["tons", "refrigerant", "metering", "difficulty"];

/// The address of the fields that a person filled: `number`, and [`PARTS`], blank for any.
pub(crate) fn address(fields: &Map<String, Value>) -> String {
    let of = |name: &str| fields.get(name).and_then(Value::as_str).unwrap_or_default();
    let mut address = format!("bench={}", of("number").trim());
    for part in PARTS {
        let value = of(part);
        if !value.is_empty() {
            address.push_str(&format!(";{part}={value}"));
        }
    }
    address
}

/// The sheet.
///
/// - `unread`: how many attempts cannot be read by this program.
/// - `number`: the case number to offer.
pub(crate) fn pick(past: &[Past], unread: usize, number: u64) -> Value {
    let mut all = vec![
        words("h1", "", "Practice bench"),
        words(
            "p",
            "",
            "A simulated plant with something hidden in it, in time, with tools that err and lag. All of it is invented; nothing here can be hurt. On a real one, plate, local code and licensed practice rule.",
        ),
        words("h2", "", "Lessons"),
    ];
    all.extend(lessons().iter().map(|lesson| {
        button(
            "door",
            &Ask::Begin(lesson.address()),
            vec![
                words(
                    "strong",
                    "",
                    &format!("{}. {}", lesson.number, lesson.title),
                ),
                words("span", "", &lesson.idea),
            ],
        )
    }));
    all.push(words("h2", "", "Any case"));
    all.push(list(
        "tons",
        "Size",
        TONS.iter()
            .map(|tons| (plain(*tons), format!("{} tons", plain(*tons))))
            .collect(),
    ));
    let named = REFRIGERANTS.map(Refrigerant::name);
    all.push(list(
        "refrigerant",
        "Refrigerant",
        named.map(|name| (name.to_owned(), name.to_owned())).into(),
    ));
    all.push(list(
        "metering",
        "Metering device",
        Metering::ALL
            .map(|it| (it.key().to_owned(), it.says().to_owned()))
            .into(),
    ));
    all.push(difficulties());
    all.push(number_field(number));
    all.extend(attempts(past));
    if unread > 0 {
        let says =
            format!("Attempts that this version cannot read: {unread}. They stay as they are.");
        all.push(words("p", "quiet", &says));
    }
    all.push(el(
        "div",
        &[("class", "act")],
        vec![button(
            "primary",
            &Ask::BeginAsked,
            vec!["Begin any case".into()],
        )],
    ));
    el("section", &[], all)
}

fn list(name: &str, label: &str, choices: Vec<(String, String)>) -> Value {
    let id = format!("bench-{name}");
    let mut options = vec![el("option", &[("value", "")], vec!["Any".into()])];
    options.extend(
        choices
            .into_iter()
            .map(|(value, says)| el("option", &[("value", &value)], vec![says.into()])),
    );
    el(
        "div",
        &[("class", "field")],
        vec![
            el("label", &[("for", &id)], vec![label.into()]),
            el("select", &[("id", &id), ("name", name)], options),
        ],
    )
}

fn difficulties() -> Value {
    let mut row = Vec::new();
    for it in Difficulty::ALL {
        let id = format!("bench-{}", it.key());
        let usual = it == Difficulty::default();
        let value = it.named();
        let mut attributes = vec![
            ("type", "radio"),
            ("name", "difficulty"),
            ("id", id.as_str()),
            ("value", value),
        ];
        if usual {
            attributes.push(("checked", ""));
        }
        row.push(el("input", &attributes, Vec::new()));
        row.push(el("label", &[("for", &id)], vec![it.says().into()]));
    }
    el(
        "fieldset",
        &[("class", "choice")],
        vec![
            words("legend", "", "How hard"),
            words(
                "p",
                "hint",
                "Guided: Finding tells all, fine tools. Sparing: signs only. On your own: nothing, coarse tools, often two troubles.",
            ),
            el("div", &[("class", "choice-row")], row),
        ],
    )
}

fn number_field(number: u64) -> Value {
    let input = [
        ("type", "text"),
        ("inputmode", "numeric"),
        ("autocomplete", "off"),
        ("id", "bench-number"),
        ("name", "number"),
        ("aria-describedby", "bench-number-hint"),
        ("value", &number.to_string()),
    ];
    el(
        "div",
        &[("class", "field")],
        vec![
            el(
                "label",
                &[("for", "bench-number")],
                vec!["Case number".into()],
            ),
            el("input", &input, Vec::new()),
            el(
                "p",
                &[("class", "hint"), ("id", "bench-number-hint")],
                vec!["The same number and choices make the same case on every device.".into()],
            ),
        ],
    )
}

fn attempts(past: &[Past]) -> Vec<Value> {
    if past.is_empty() {
        return Vec::new();
    }
    let causes = by_cause(past)
        .into_iter()
        .map(|row| vec![row.cause, row.met.to_string(), row.found.to_string()]);
    let each = past.iter().map(|it| {
        let found = if it.found { "found" } else { "not found" };
        let points = format!("{} of {}", plain(it.points), plain(it.out_of));
        words("li", "", &format!("{}: {points}, {found}", it.address()))
    });
    vec![
        words("h2", "", "Your attempts"),
        table("", &["Cause", "Met", "Found"], causes.collect()),
        fold(
            "attempts",
            false,
            "Each attempt",
            vec![el("ul", &[], each.collect())],
        ),
    ]
}

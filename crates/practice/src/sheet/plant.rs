//! The plant: what the customer says, its clock, what the tools show, what hands can do.

use super::units::band;
use super::{Ask, button, el, fold, moment, plain, words};
use crate::act::{Action, Place, Risk, Row, Spot};
use crate::eyes::is_there;
use crate::session::Session;
use diagnosis::{ActionOrder, Cause, Field};
use job::{Measure, turns_brief};
use quantity::Units;
use serde_json::{Map, Value};

/// Headings of the groups, in the trade's order.
const GROUPS: [(ActionOrder, &str); 6] = [
    (ActionOrder::Free, "Free first"),
    (ActionOrder::Look, "Measure and clean"),
    (ActionOrder::Stem, "Stem"),
    (ActionOrder::Charge, "Charge"),
    (ActionOrder::Repair, "Open the circuit"),
    (ActionOrder::Nothing, "After a stop"),
];
/// Paces of the plant's clock: seconds in a second, and words.
const PACES: [(u32, &str); 4] = [(0, "Held"), (1, "1x"), (10, "10x"), (60, "60x")];

/// The sheet of a case under way.
pub(crate) fn plant(session: &Session, units: Units) -> Value {
    let mut all = vec![words("h1", "", "Plant")];
    all.extend(given(session, units));
    all.extend(clock());
    if session.stopped().is_some() {
        all.push(el(
            "p",
            &[("class", "alarm"), ("role", "alert")],
            vec!["The plant stands still: a safety switch has stopped it.".into()],
        ));
    }
    all.push(words("h2", "", "What the tools show"));
    all.push(tools(session, units));
    all.extend(seen(session));
    all.push(words("h2", "", "What to do"));
    all.extend(
        GROUPS
            .iter()
            .filter_map(|group| deeds(session, *group, units)),
    );
    all.extend(call(session));
    all.push(take_reading(session));
    el("section", &[], all)
}

/// What changes with every second: text by key.
pub(crate) fn live(session: &Session, units: Units) -> Map<String, Value> {
    let mut live: Map<String, Value> = session
        .reading()
        .entries()
        .map(|(field, value)| {
            (
                field.row().key.to_owned(),
                shows(field, value, units).into(),
            )
        })
        .collect();
    live.insert("clock".to_owned(), moment(session.at_s()).into());
    live.insert("money".to_owned(), plain(session.shown_money()).into());
    live
}

fn shows(field: Field, value: f64, units: Units) -> String {
    Measure::from(field.row().kind).says(value, units)
}

fn given(session: &Session, units: Units) -> Vec<Value> {
    let plate = &session.case().nameplate;
    let degrees = Measure::Difference;
    let subcooling = plate.subcooling_low_f.zip(plate.subcooling_high_f);
    let subcooling = subcooling.map_or(String::new(), |(low, high)| {
        format!(" Subcooling {}.", band(degrees, low, high, units))
    });
    let says = format!(
        "{}, {} tons, {}. Superheat {}, never under {}.{subcooling} Charge {}.",
        plate.refrigerant.name(),
        plain(plate.nominal_tons),
        plate.metering.says(),
        band(
            degrees,
            plate.superheat_low_f,
            plate.superheat_high_f,
            units
        ),
        degrees.says(plate.minimum_superheat_f, units),
        Measure::Mass.says(plate.plate_charge_oz, units),
    );
    let task = session.case().lesson().map(|lesson| lesson.task.as_str());
    let mut all = vec![
        words("p", "small", &format!("{} (demo, invented)", plate.place)),
        words("p", "big-name", &format!("“{}”", plate.complaint)),
    ];
    all.extend(task.map(|task| words("p", "bench-task", task)));
    all.push(fold(
        "plate",
        false,
        "By the plate",
        vec![words("p", "", &says)],
    ));
    all
}

/// The main action; nothing can be taken while nothing hangs on the plant.
fn take_reading(session: &Session) -> Value {
    let says = "Take this reading into the job";
    let mut button = button("primary", &Ask::TakeReading, vec![says.into()]);
    if session.shown().is_empty() {
        button[1]["disabled"] = "".into();
    }
    el("div", &[("class", "act")], vec![button])
}

fn clock() -> Vec<Value> {
    let on = |key: &str| el("span", &[("data-live", key)], Vec::new());
    let mut paces = Vec::new();
    for (pace, says) in PACES {
        let id = format!("bench-pace-{pace}");
        // These types are always written.
        let ask = serde_json::to_string(&Ask::Pace(pace)).unwrap_or_default();
        let input = [
            ("type", "radio"),
            ("name", "pace"),
            ("id", id.as_str()),
            ("value", &pace.to_string()),
            ("data-ask", &ask),
        ];
        paces.push(el("input", &input, Vec::new()));
        paces.push(el("label", &[("for", &id)], vec![says.into()]));
    }
    vec![
        el(
            "p",
            &[("class", "big"), ("role", "timer")],
            vec![on("clock")],
        ),
        el(
            "p",
            &[("class", "small")],
            vec![
                "since arrival; ".into(),
                on("money"),
                " shells (demo, invented)".into(),
            ],
        ),
        el(
            "fieldset",
            &[("class", "choice bench-paces")],
            vec![
                words("legend", "", "Pace of the plant's clock"),
                el("div", &[("class", "choice-row")], paces),
            ],
        ),
        button("wide", &Ask::Skip, vec![on("skip")]),
    ]
}

fn tools(session: &Session, units: Units) -> Value {
    let reading = session.reading();
    let rows: Vec<Value> = reading
        .entries()
        .flat_map(|(field, value)| {
            let key = field.row().key;
            [
                words("dt", "", field.row().label),
                el(
                    "dd",
                    &[("data-live", key)],
                    vec![shows(field, value, units).into()],
                ),
            ]
        })
        .collect();
    if rows.is_empty() {
        let says = "Nothing hangs on the plant yet. Connect gauges and thermometers under Measure and clean.";
        return words("p", "quiet", says);
    }
    el("dl", &[("class", "numbers")], rows)
}

fn seen(session: &Session) -> Vec<Value> {
    let lines: Vec<Value> = session
        .seen()
        .iter()
        .rev()
        .map(|seen| {
            let at = words("span", "", &moment(seen.at_s));
            el("li", &[], vec![at, format!(" {}", seen.says).into()])
        })
        .collect();
    if lines.is_empty() {
        return Vec::new();
    }
    vec![
        words("h2", "", "Seen"),
        el("ul", &[("class", "log")], lines),
    ]
}

/// One group of actions, if any of them can be done now.
fn deeds(session: &Session, (order, heading): (ActionOrder, &str), units: Units) -> Option<Value> {
    let deeds: Vec<Value> = Action::samples()
        .into_iter()
        .filter(|action| action.row().order == order && session.offers(action))
        // Waiting has the clock; the call and the end have their own place.
        .filter(|it| {
            !matches!(
                it,
                Action::Wait { .. } | Action::Call { .. } | Action::Leave
            )
        })
        .map(|action| deed(session, &action, units))
        .collect();
    let open = matches!(
        order,
        ActionOrder::Free | ActionOrder::Look | ActionOrder::Nothing
    );
    (!deeds.is_empty()).then(|| fold(heading, open, heading, deeds))
}

fn deed(session: &Session, action: &Action, units: Units) -> Value {
    let row = action.row();
    let does = |says: &str, action: Action| button("", &Ask::Do(action), vec![says.into()]);
    let buttons: Vec<Value> = match action {
        Action::Look { .. } => {
            let metering = session.case().nameplate.metering;
            let spots = Spot::ALL.into_iter();
            let spots = spots.filter(|spot| is_there(*spot, metering));
            spots
                .map(|spot| does(spot.says(), Action::Look { spot }))
                .collect()
        }
        Action::ConnectGauges { .. } => PLACES
            .map(|(place, says)| does(says, Action::ConnectGauges { place }))
            .into(),
        Action::StrapProbes { .. } => [(true, "wrapped"), (false, "bare")]
            .into_iter()
            .flat_map(|(wrapped, how)| {
                PLACES.map(|(place, says)| {
                    let action = Action::StrapProbes { place, wrapped };
                    does(&format!("{says}, {how}"), action)
                })
            })
            .collect(),
        Action::TurnStem { .. } => {
            let choices = (-8..=8).filter(|quarters| *quarters != 0);
            let options = choices.map(|quarters: i32| {
                let value = quarters.to_string();
                el(
                    "option",
                    &[("value", &value)],
                    vec![turns_brief(quarters).into()],
                )
            });
            vec![
                labelled("quarters", "How far", |id| {
                    el("select", &[("id", id), ("name", id)], options.collect())
                }),
                button("", &Ask::Turn, vec!["Turn it".into()]),
            ]
        }
        Action::AddCharge { .. } => weigh("weight-in", "Weigh in", &Ask::WeighIn, units),
        Action::TakeCharge { .. } => weigh("weight-out", "Recover", &Ask::WeighOut, units),
        other => vec![does("Do it", other.clone())],
    };
    let mut all = vec![el(
        "p",
        &[],
        vec![
            words("strong", "", row.says),
            words("span", "small", &format!(" {}", costs(row))),
        ],
    )];
    all.extend(row.caution.map(|caution| words("p", "caution", caution)));
    all.push(el("div", &[("class", "row")], buttons));
    el(
        "div",
        &[
            ("class", "deed"),
            ("role", "group"),
            ("aria-label", row.says),
        ],
        all,
    )
}

const PLACES: [(Place, &str); 2] = [
    (Place::Bulb, "At the bulb"),
    (Place::ServiceValve, "At the service valve"),
];

fn labelled(id: &str, label: &str, field: impl FnOnce(&str) -> Value) -> Value {
    let label = el("label", &[("for", id)], vec![label.into()]);
    el("div", &[("class", "field")], vec![label, field(id)])
}

fn weigh(id: &str, says: &str, ask: &Ask, units: Units) -> Vec<Value> {
    let label = format!("Weight, {}", Measure::Mass.sign(units));
    let field = labelled(id, &label, |id| {
        let input = [
            ("type", "text"),
            ("inputmode", "decimal"),
            ("autocomplete", "off"),
            ("id", id),
            ("name", id),
        ];
        el("input", &input, Vec::new())
    });
    vec![field, button("", ask, vec![says.into()])]
}

/// What an action costs, in words.
fn costs(row: &Row) -> String {
    let mut parts = Vec::new();
    if row.minutes > 0 {
        parts.push(format!("{} min", row.minutes));
    }
    if row.money > 0.0 {
        parts.push(format!("{} shells", plain(row.money)));
    }
    match row.risk {
        Risk::None => {}
        Risk::Small => parts.push("small risk".to_owned()),
        Risk::Real => parts.push("real risk".to_owned()),
    }
    parts.join(", ")
}

fn call(session: &Session) -> Vec<Value> {
    let called = session.called();
    let names: Vec<&str> = called.iter().map(|cause| cause.words().name).collect();
    let said = if names.is_empty() {
        "Nothing said yet. The last word before packing up counts.".to_owned()
    } else {
        format!("You said: {}.", names.join(" and "))
    };
    let mut boxes = Vec::new();
    for cause in Cause::ALL {
        let id = format!("bench-cause-{}", cause.key());
        let mut input = vec![
            ("type", "checkbox"),
            ("name", "causes"),
            ("id", id.as_str()),
            ("value", cause.key()),
        ];
        if called.contains(cause) {
            input.push(("checked", ""));
        }
        boxes.push(el("input", &input, Vec::new()));
        boxes.push(el(
            "label",
            &[("for", &id)],
            vec![cause.words().name.into()],
        ));
    }
    vec![
        words("h2", "", "What it is"),
        words("p", "", &said),
        fold(
            "call",
            false,
            "Say what it is",
            vec![
                el(
                    "fieldset",
                    &[("class", "choice")],
                    vec![
                        words("legend", "", "Up to four"),
                        el("div", &[("class", "choice-row")], boxes),
                    ],
                ),
                button("wide", &Ask::Call, vec!["That is it".into()]),
            ],
        ),
        button("wide", &Ask::Do(Action::Leave), vec!["Pack up".into()]),
    ]
}

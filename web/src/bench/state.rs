//! The attempt under way: whose job it is, how the plant is, how its clock goes.

use super::line::{Heard, Line};
use crate::desk::Desk;
use crate::route::Route;
use leptos::prelude::*;
use serde_json::{Value, json};
use std::time::Duration;

/// After so many ticks the attempt is kept, besides after every action.
const KEEP_TICKS: u32 = 15;
/// How far one tap lets time go where no wait runs, s.
pub(super) const ON_S: u32 = 300;

/// The bench. Copies are handles to the same one.
#[derive(Clone, Copy)]
pub(crate) struct Bench {
    /// What its screen shows, as a tree.
    pub(super) sheet: RwSignal<Value>,
    /// What of it changes with every second: text by key.
    pub(super) live: RwSignal<Value>,
    /// There is no worker, or it stopped.
    pub(super) gone: RwSignal<bool>,
    /// The attempt: `{job, arrived_ms, attempt}`, as it is kept. Null before a case is begun.
    pub(super) link: RwSignal<Value>,
    /// The newest answer about the plant, without its sheet. Null before there is one.
    pub(super) now: RwSignal<Value>,
    /// Seconds of the plant in a second.
    pub(super) pace: StoredValue<u32>,
    pub(super) ticks: StoredValue<u32>,
    pub(super) line: StoredValue<Line, LocalStorage>,
}

impl Bench {
    /// An empty bench. Nothing is loaded yet.
    pub(crate) fn new() -> Self {
        Self {
            sheet: RwSignal::new(Value::Null),
            live: RwSignal::new(Value::Null),
            gone: RwSignal::new(false),
            link: RwSignal::new(Value::Null),
            now: RwSignal::new(Value::Null),
            pace: StoredValue::new(0),
            ticks: StoredValue::new(0),
            line: StoredValue::new_local(Line::new()),
        }
    }

    /// Sets the plant's clock going: it ticks with the page.
    pub(crate) fn wind_up(self, desk: Desk) {
        set_interval(move || self.tick(desk), Duration::from_secs(1));
    }

    /// What the plant's clock makes of the time of that job: milliseconds since 1970, UTC; none for a
    /// job that is not done here.
    pub(crate) fn time_of(&self, job: Option<&str>) -> Option<i64> {
        self.link
            .with_untracked(|link| (link["job"].as_str()? == job?).then(|| time(link))?)
    }

    /// Whether the job on the desk is done here.
    pub(crate) fn has_open(&self, desk: Desk) -> bool {
        let job = desk.job.with(|job| job.as_ref().map(|job| job.id.clone()));
        self.link
            .with(|link| job.is_some() && link["job"].as_str() == job.as_deref())
    }

    /// The case.
    pub(super) fn address(&self) -> String {
        self.link
            .with_untracked(|link| text(&link["attempt"]["address"]))
    }

    /// What Finding may tell in the open job, by its key; blank for a job that is not done here.
    pub(super) fn tells(&self, desk: Desk) -> String {
        if self.has_open(desk) {
            self.now.with(|now| text(&now["tells"]))
        } else {
            String::new()
        }
    }

    /// Whether the plant can be worked on in the open job.
    pub(super) fn is_on(&self, desk: Desk) -> bool {
        let under_way = self.now.with_untracked(|now| now["over"] == false);
        under_way && self.time_of(desk.open_id().as_deref()).is_some()
    }

    pub(super) fn is_idle(&self) -> bool {
        self.line.with_value(Line::is_idle)
    }

    pub(super) fn ask(self, desk: Desk, question: Value, then: impl FnOnce(&str, Value) + 'static) {
        let units = desk.units.get_untracked();
        let units = json!({
            "pressure": units.pressure.difference_sign(),
            "temperature": units.temperature.sign(),
        });
        let asked = json!({ "bench": question, "units": units });
        let tell = move |heard| match heard {
            Heard::Said(kind, held) => {
                self.gone.set(false);
                then(&kind, held);
            }
            Heard::Refused(says) => desk.say(&says),
            Heard::NotAvailable => {
                self.gone.set(true);
                self.pace.set_value(0);
            }
        };
        self.line
            .with_value(|line| line.ask(&asked, Box::new(tell)));
    }

    /// The bench's screen is gone to, or shown in other units.
    pub(super) fn arrives(self, desk: Desk, case: Option<String>) {
        match case {
            None => self.offer(desk),
            Some(case) => {
                let here = self.now.with_untracked(|now| !now.is_null());
                if here
                    && case == self.address()
                    && desk.bench.time_of(desk.open_id().as_deref()).is_some()
                {
                    self.ask(desk, json!("show"), move |_, now| self.is_now(desk, now));
                } else {
                    self.sheet.set(arrival(&case));
                }
            }
        }
    }

    /// The plant is so now.
    pub(super) fn is_now(self, desk: Desk, mut now: Value) {
        let over = now["over"] == true;
        if over {
            self.pace.set_value(0);
        }
        let attempt = now["attempt"].take();
        self.link.update(|link| link["attempt"] = attempt);
        let (sheet, live) = (now["sheet"].take(), now["live"].take());
        for seen in now["seen"].as_array().into_iter().flatten() {
            desk.say(&text(seen));
        }
        self.now.set(now);
        if desk.route.get_untracked() != Route::Pick {
            self.sheet.set(sheet);
        }
        self.show_live(desk, live);
        self.keep(desk);
    }

    /// Shows what changes with every second.
    pub(super) fn show_live(&self, desk: Desk, mut live: Value) {
        desk.look_at_clock();
        let skip = match self.left_s(desk) {
            Some(_) => "To the end of the wait".to_owned(),
            None => format!("{} minutes on", ON_S / 60),
        };
        live["skip"] = skip.into();
        live["pace"] = self.pace.get_value().to_string().into();
        self.live.set(live);
    }

    pub(super) fn set_pace(self, desk: Desk, pace: u32) {
        self.pace.set_value(pace);
        self.show_live(desk, self.live.get_untracked());
    }

    pub(super) fn tick(self, desk: Desk) {
        let pace = self.pace.get_value();
        if pace > 0 && self.is_on(desk) && self.is_idle() {
            let ticks = self.ticks.get_value() + 1;
            self.ticks.set_value(ticks);
            self.pass(desk, pace, ticks.is_multiple_of(KEEP_TICKS));
        }
    }

    /// Seconds left of the wait that runs in the job.
    pub(super) fn left_s(&self, desk: Desk) -> Option<u32> {
        let now_ms = self.link.with_untracked(time)?;
        let ends_ms = desk
            .job
            .with_untracked(|job| job.as_ref().and_then(|job| job.rings_at(now_ms)))?;
        u32::try_from((ends_ms - now_ms).div_euclid(1000) + 1).ok()
    }

    pub(super) fn pass(self, desk: Desk, seconds: u32, keep: bool) {
        self.ask(desk, json!({ "pass": seconds }), move |kind, mut said| {
            if kind == "now" {
                return self.is_now(desk, said);
            }
            let at_s = said["at_s"].take();
            self.link.update(|link| link["attempt"]["until_s"] = at_s);
            self.show_live(desk, said["live"].take());
            if keep {
                self.keep(desk);
            }
        });
    }
}

/// Milliseconds since 1970, UTC, by the plant's clock.
pub(super) fn time(link: &Value) -> Option<i64> {
    let at_s = link["attempt"]["until_s"].as_i64().unwrap_or(0);
    Some(link["arrived_ms"].as_i64()? + 1000 * at_s)
}

pub(super) fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// The sheet of a case that is not under way here: from a shared address, or left for another.
fn arrival(case: &str) -> Value {
    let ask = json!({ "begin": case }).to_string();
    let class = |class: &str| json!({ "class": class });
    json!(["section", {},
        ["h1", {}, "Practice bench"],
        ["p", {}, "A simulated plant, invented. Case:"],
        ["p", class("big-name"), case],
        ["div", class("row"),
            ["button", {"type": "button", "data-ask": "\"pick\""}, "All cases"]],
        ["div", class("act"),
            ["button", {"type": "button", "class": "primary", "data-ask": ask}, "Begin this case"]],
    ])
}

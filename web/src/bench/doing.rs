//! What a tap on a sheet does, to the plant and to the job.

use super::state::{Bench, ON_S, text};
use crate::desk::Desk;
use crate::outside::clock;
use crate::outside::file::{Form, Parcel};
use crate::route::Route;
use job::{Event, Measure, SavedEvent, Screen, Typed, What};
use leptos::prelude::*;
use leptos::task::spawn_local;
use serde_json::{Map, Value, json};

impl Bench {
    /// Something was tapped on a sheet.
    pub(super) fn asked(self, desk: Desk, kind: &str, with: Value, fields: &Map<String, Value>) {
        let field = |name: &str| fields.get(name).map(text).unwrap_or_default();
        match kind {
            "begin" => self.begin(desk, json!({ "begin": with })),
            "begin-asked" => self.begin(desk, json!({ "begin-asked": fields })),
            "do" => self.act(desk, json!({ "do": with }), None),
            "call" => {
                let causes = fields.get("causes");
                self.act(desk, json!({"do": {"do": "call", "causes": causes}}), None);
            }
            // These two are the job's as well, by the job's own rules.
            "turn" => {
                if let Ok(quarters) = field("quarters").parse() {
                    desk.happens(Event::Turned { quarters });
                }
            }
            "weigh-in" => self.weigh(desk, "", &field("weight-in")),
            "weigh-out" => self.weigh(desk, "-", &field("weight-out")),
            "pace" => {
                let pace = with.as_u64().and_then(|pace| u32::try_from(pace).ok());
                self.set_pace(desk, pace.unwrap_or(0));
            }
            "skip" if self.is_on(desk) && self.is_idle() => {
                self.pass(desk, self.left_s(desk).unwrap_or(ON_S), true);
            }
            "take-reading" => self.take_reading(desk),
            "pick" => desk.go(&Route::Pick),
            "hand-over" => self.hand_over(desk),
            _ => {}
        }
    }

    pub(super) fn weigh(self, desk: Desk, sign: &str, typed: &str) {
        let typed = typed.trim().trim_start_matches(['-', '\u{2212}', '+']);
        let typed = Typed::new(&format!("{sign}{typed}"), desk.units.get_untracked());
        desk.happens(Event::Weighed { typed });
    }

    /// Begins a case with a job of its own. What was under way stays in its job and is gone here.
    pub(super) fn begin(self, desk: Desk, question: Value) {
        self.ask(desk, question, move |_, now| {
            let arrived_ms = clock::now_ms();
            let events = events(desk, now["events"].clone())
                .into_iter()
                .map(|event| SavedEvent {
                    at_ms: arrived_ms,
                    event,
                });
            let Some(id) = desk.lay_out(events.collect()) else {
                return;
            };
            self.link
                .set(json!({"job": id, "arrived_ms": arrived_ms, "attempt": null}));
            self.pace.set_value(1);
            self.is_now(desk, now);
            desk.go(&Route::Plant(self.address()));
        });
    }

    /// Does something to the plant; then it stands in the job as well.
    ///
    /// - `own`: what it is in the job, where a person wrote that themselves.
    pub(super) fn act(self, desk: Desk, question: Value, own: Option<Event>) {
        // A second tap of the same thumb.
        if !self.is_on(desk) || !self.is_idle() {
            return;
        }
        self.ask(desk, question, move |_, now| {
            let events = own.map_or_else(|| events(desk, now["events"].clone()), |own| vec![own]);
            let past = now["past"].clone();
            self.is_now(desk, now);
            for event in events {
                desk.happened(event);
            }
            // The wait may have begun only now.
            self.show_live(desk, self.live.get_untracked());
            if !past.is_null() {
                self.note(desk, past);
            }
        });
    }

    /// An event that the plant must feel first: it happens to the job once it has. `None` for any
    /// other event; else whether it fits.
    pub(crate) fn takes(self, desk: Desk, event: &Event) -> Option<bool> {
        if !self.is_on(desk) {
            return None;
        }
        match event {
            Event::TookBack if newest_was_felt(desk) => {
                desk.say("The plant has felt it: turn, weigh or set it back instead.");
                Some(false)
            }
            Event::Turned { .. } | Event::Weighed { .. } => {
                if !desk.fits(event) {
                    return Some(false);
                }
                if !self.is_idle() {
                    desk.say("The plant is at it. Once more, please.");
                    return Some(false);
                }
                self.act(desk, json!({"do": action(event)}), Some(event.clone()));
                Some(true)
            }
            _ => None,
        }
    }

    /// Enters what the tools show into the present reading, and goes to it.
    pub(super) fn take_reading(self, desk: Desk) {
        self.ask(desk, json!("reading"), move |_, entries| {
            for event in events(desk, entries) {
                desk.happens(event);
            }
            desk.go_to(Screen::Reading);
        });
    }

    /// Hands the attempt over as a file.
    pub(super) fn hand_over(&self, desk: Desk) {
        let attempt = self.link.with_untracked(|link| link["attempt"].to_string());
        // A share sheet opens only in the tap itself, so the file is made at once.
        let parcel = Parcel::pack("evenfeed-attempt", Form::Json, &attempt);
        spawn_local(async move {
            let given = match parcel {
                Ok(parcel) => parcel.give().await.err(),
                Err(error) => Some(error),
            };
            if let Some(error) = given {
                desk.say(&error.says());
            }
        });
    }
}

/// What an answer is in the job; what cannot be read is said.
fn events(desk: Desk, events: Value) -> Vec<Event> {
    serde_json::from_value(events).unwrap_or_else(|error| {
        desk.say(&format!(
            "The plant said something that the job cannot read ({error}). Reload."
        ));
        Vec::new()
    })
}

/// What an event of the job is on the plant; null for one that it does not feel.
fn action(event: &Event) -> Value {
    match event {
        Event::Turned { quarters } => json!({"do": "turn-stem", "quarters": quarters}),
        Event::Weighed { typed } => {
            // A weight that is no number was refused by the job.
            let ounces = typed.value(Measure::Mass).unwrap_or_default();
            let way = if ounces < 0.0 {
                "take-charge"
            } else {
                "add-charge"
            };
            json!({"do": way, "ounces": ounces.abs()})
        }
        _ => Value::Null,
    }
}

/// Whether the newest line of the log is something that the plant has felt.
fn newest_was_felt(desk: Desk) -> bool {
    desk.job.with_untracked(|job| {
        let lines = job.iter().flat_map(|job| job.log.iter().rev());
        let newest = lines
            .filter(|line| !line.struck)
            .map(|line| &line.what)
            .next();
        newest.is_some_and(|what| !matches!(what, What::Reading(_) | What::End(_)))
    })
}

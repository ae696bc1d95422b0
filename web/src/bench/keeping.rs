//! Attempts on the device: the one under way, taken up again after a reload or a stopped worker, and
//! those that are over.

use super::state::{Bench, text};
use crate::desk::Desk;
use crate::outside::clock;
use crate::route::Route;
use leptos::prelude::*;
use leptos::task::spawn_local;
use serde_json::{Value, json};

/// The settings that hold the attempt under way, and those that are over.
const UNDER_WAY: &str = "bench";
const OVER: &str = "bench-attempts";
/// Attempts beyond these are let go, the oldest first.
const MOST: usize = 200;
/// Numbers offered to a person who gives none: few enough to say aloud.
const NUMBERS: u64 = 10_000;

impl Bench {
    pub(super) fn keep(&self, desk: Desk) {
        let body = self.link.with_untracked(Value::to_string);
        desk.keep_setting(UNDER_WAY, body);
    }

    /// Takes up the attempt that was under way if it belongs to this job.
    pub(crate) fn opened(self, desk: Desk, job: String) {
        spawn_local(async move {
            let here = self.time_of(Some(&job)).is_some();
            let kept = kept(desk).await;
            if !here && kept["job"] == job && self.time_of(Some(&job)).is_none() {
                self.resume(desk, kept);
            }
        });
    }

    /// The page opened at a case: its job and its attempt are taken up if they are kept.
    pub(crate) async fn wake_up(self, desk: Desk, address: &str) {
        let kept = kept(desk).await;
        if kept["attempt"]["address"] == address && desk.open_quietly(&text(&kept["job"])).await {
            self.resume(desk, kept);
        }
    }

    pub(super) fn resume(self, desk: Desk, kept: Value) {
        let question = json!({ "resume": kept["attempt"] });
        self.link.set(kept);
        self.pace.set_value(0);
        self.ask(desk, question, move |_, now| self.is_now(desk, now));
    }

    /// Tries the worker again after it was gone: the attempt is taken up where it was.
    pub(super) fn try_again(self, desk: Desk) {
        let link = self.link.get_untracked();
        if desk.route.get_untracked() == Route::Pick || link.is_null() {
            self.offer(desk);
        } else {
            self.resume(desk, link);
        }
    }

    /// Puts an attempt that is over into the history.
    pub(super) fn note(self, desk: Desk, newest: Value) {
        spawn_local(async move {
            // What could not be read is not written over.
            let mut all = match read(desk, OVER).await {
                Ok(Value::Array(all)) => all,
                Ok(_) => Vec::new(),
                Err(says) => {
                    return desk.say(&format!("This attempt is not in your history: {says}"));
                }
            };
            all.insert(0, newest);
            all.truncate(MOST);
            desk.keep_setting(OVER, Value::Array(all).to_string());
        });
    }

    pub(super) fn offer(self, desk: Desk) {
        spawn_local(async move {
            // Without its history the bench works all the same.
            let past = read(desk, OVER).await.unwrap_or_default();
            let past = past.as_array().cloned().unwrap_or_default();
            let number = clock::now_ms().unsigned_abs() % NUMBERS;
            let offers = json!({"offers": {"past": past, "number": number}});
            self.ask(desk, offers, move |_, sheet| {
                if desk.route.get_untracked() == Route::Pick {
                    self.sheet.set(sheet);
                }
            });
        });
    }
}

/// The attempt that was kept; null where there is none, or none that can be read.
async fn kept(desk: Desk) -> Value {
    read(desk, UNDER_WAY).await.unwrap_or_default()
}

/// What is kept by that name; null where nothing is.
async fn read(desk: Desk, name: &str) -> Result<Value, String> {
    match desk.kept_setting(name).await? {
        Some(body) => serde_json::from_str(&body).map_err(|error| error.to_string()),
        None => Ok(Value::Null),
    }
}

//! Coming and going: places, new jobs, opened jobs, and what is remembered between them.

use super::{Desk, rows};
use crate::keeper::Saving;
use crate::outside::{clock, ids, route as address};
use crate::route::Route;
use job::{Event, Job, PlateField, SavedEvent, Screen, Typed};
use leptos::prelude::*;
use leptos::task::spawn_local;

/// Settings: what is remembered for the next job, and which job is open.
const REMEMBERED: &str = "remembered";
const OPEN: &str = "open";

const NO_NAME: &str = "This browser cannot name a new job. Update it, or use another one.";
const NOT_HERE: &str =
    "This job is not on this device. It may have been removed, or kept on another.";

impl Desk {
    /// Goes to a place; the browser's Back leads back.
    pub(crate) fn go(&self, route: &Route) {
        if !address::go(&route.hash()) {
            self.arrive(route.clone());
        }
    }

    /// Goes to a screen of the open job.
    pub(crate) fn go_to(&self, screen: Screen) {
        if let Some(id) = self.open_id() {
            self.go(&Route::Job(id, screen));
        }
    }

    /// The identity of the open job.
    pub(crate) fn open_id(&self) -> Option<String> {
        self.job
            .with_untracked(|job| job.as_ref().map(|job| job.id.clone()))
    }

    pub(super) fn arrive(&self, route: Route) {
        self.look_at_clock();
        if let Route::Job(id, screen) = &route {
            let open = self.job.with_untracked(|job| {
                job.as_ref()
                    .filter(|job| job.id == *id)
                    .map(|job| job.screen)
            });
            match open {
                Some(at) if at != *screen => {
                    self.keeps_all();
                    self.happens(Event::Went { screen: *screen });
                }
                Some(_) => {}
                None => self.open(id.clone()),
            }
        } else if let Route::Plant(_) = &route {
            self.keeps_all();
        } else {
            self.keeps_all();
            self.note_open("");
            self.read_heads();
        }
        self.route.set(route);
        if let Some(window) = web_sys::window() {
            window.scroll_to_with_x_and_y(0.0, 0.0);
        }
    }

    /// At the start: what is remembered, then the job that was open, then the list.
    pub(super) fn open_up(self) {
        spawn_local(async move {
            let store = match self.tools().keeper.store().await {
                Ok(store) => store,
                Err(says) => {
                    self.heads.set(Some(Vec::new()));
                    self.saving.set(Saving::NotSaved(says));
                    return;
                }
            };
            if let Ok(Some(kept)) = store.setting(REMEMBERED).await
                && let Ok(remembered) = serde_json::from_str(&kept)
            {
                self.remembered.set_value(remembered);
            }
            match self.route.get_untracked() {
                Route::Job(id, _) => self.open(id),
                Route::Plant(address) => self.bench.wake_up(self, &address).await,
                Route::Home => {
                    let open = store.setting(OPEN).await.ok().flatten().unwrap_or_default();
                    if open.is_empty() {
                        self.read_heads();
                    } else {
                        self.open(open);
                    }
                }
                _ => self.read_heads(),
            }
        });
    }

    /// Begins a new job with what is remembered of the place and the tools.
    pub(crate) fn begin(&self) {
        let Some(id) = ids::random_id() else {
            return self.say(NO_NAME);
        };
        self.put_on_desk(Job::begin(&id, clock::now_ms(), false), Vec::new());
        for (key, typed) in self.remembered.get_value() {
            if let Some(&field) = PlateField::ALL.iter().find(|field| field.row().key == key) {
                self.happens(Event::Noted { field, typed });
            }
        }
        self.happens(Event::Went {
            screen: Screen::Job,
        });
        self.go(&Route::Job(id, Screen::Job));
    }

    /// Lays out the demo job: a fresh copy each time, marked as a demo.
    pub(crate) fn begin_demo(&self) {
        if self.lay_out(job::demo(clock::now_ms())).is_some() {
            let screen = self
                .job
                .with_untracked(|job| job.as_ref().map(|job| job.screen));
            self.go_to(screen.unwrap_or_default());
        }
    }

    /// Lays out a job of these events, marked as a demo, and keeps it; gives back its identity.
    pub(crate) fn lay_out(&self, events: Vec<SavedEvent>) -> Option<String> {
        let Some(id) = ids::random_id() else {
            self.say(NO_NAME);
            return None;
        };
        let created_ms = events.first().map_or_else(clock::now_ms, |it| it.at_ms);
        let job = Job::of_events(&id, created_ms, true, &events);
        let entries = (0..)
            .zip(&events)
            .map(|(seq, saved)| rows::entry(&id, seq, saved))
            .collect::<serde_json::Result<Vec<_>>>();
        match (entries, rows::head(&job)) {
            (Ok(entries), Ok(head)) => self.tools().keeper.keep(entries, head),
            (Err(error), _) | (_, Err(error)) => {
                self.say(&rows::unwritten(&error));
                return None;
            }
        }
        self.put_on_desk(job, events);
        Some(id)
    }

    /// Opens a kept job.
    pub(crate) fn open(&self, id: String) {
        let desk = *self;
        spawn_local(async move {
            match desk.read_job(&id).await {
                Ok((job, events)) => {
                    let screen = job.screen;
                    desk.put_on_desk(job, events);
                    desk.saving.set(Saving::Saved);
                    desk.go(&Route::Job(id, screen));
                }
                Err(says) => {
                    desk.say(&says);
                    desk.go(&Route::Home);
                }
            }
        });
    }

    /// Puts a kept job on the desk and stays where the person is; false where it is not there.
    pub(crate) async fn open_quietly(&self, id: &str) -> bool {
        match self.read_job(id).await {
            Ok((job, events)) => {
                self.put_on_desk(job, events);
                self.saving.set(Saving::Saved);
                true
            }
            Err(says) => {
                self.say(&says);
                false
            }
        }
    }

    async fn read_job(&self, id: &str) -> Result<(Job, Vec<SavedEvent>), String> {
        let store = self.tools().keeper.store().await?;
        let heads = store.heads().await?;
        let head = heads.iter().find(|head| head.job == id).ok_or(NOT_HERE)?;
        let entries = store.entries(id).await?;
        job::head_from_json(&head.body)
            .and_then(|head| head.open(entries.iter().map(|entry| entry.body.as_str())))
            .map_err(|error| error.says())
    }

    fn put_on_desk(&self, job: Job, events: Vec<SavedEvent>) {
        self.note_open(&job.id);
        self.bench.opened(*self, job.id.clone());
        self.typing.set(job.draft.clone());
        self.events.set_value(events);
        // A wait that ended while the page was away is shown, not rung.
        self.rings_at.set(job.rings_at(clock::now_ms()));
        self.job.set(Some(job));
        self.look_at_clock();
    }

    fn note_open(&self, id: &str) {
        self.keep_setting(OPEN, id.to_owned());
    }

    pub(super) fn remember(&self, field: PlateField, typed: Typed) {
        self.remembered.update_value(|kept| {
            kept.insert(field.row().key.to_owned(), typed);
        });
        match serde_json::to_string(&self.remembered.get_value()) {
            Ok(body) => self.keep_setting(REMEMBERED, body),
            Err(error) => self.say(&rows::unwritten(&error)),
        }
    }

    /// Keeps what only saves a tap or some typing later: no job depends on it.
    pub(crate) fn keep_setting(&self, name: &'static str, body: String) {
        let keeper = self.tools().keeper.clone();
        spawn_local(async move {
            if let Ok(store) = keeper.store().await {
                let _ = store.keep_setting(name, &body).await;
            }
        });
    }

    /// What is kept by that name, if anything is.
    ///
    /// # Errors
    /// What storage says, in words.
    pub(crate) async fn kept_setting(&self, name: &str) -> Result<Option<String>, String> {
        let store = self.tools().keeper.store().await?;
        Ok(store.setting(name).await?)
    }
}

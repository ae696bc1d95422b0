//! The desk: the open job, and the one way that anything happens to it.
//!
//! One signal out ([`Desk::job`]), one call in ([`Desk::happens`]). Screens read slices and send
//! events; they change nothing themselves. Every signal here belongs to the root and lives as long
//! as the page.

use crate::keeper::{Keeper, Saving};
use crate::outside::chime::Chime;
use crate::outside::offline::{Offline, OfflineState};
use crate::outside::store::{EntryRow, HeadRow};
use crate::outside::visible::{self, Sight};
use crate::outside::wake::{WakeLock, WakeState};
use crate::outside::{clock, ids, offline, route as address};
use crate::parts::Unkept;
use crate::prefs;
use crate::route::Route;
use diagnosis::Field;
use job::{Draft, Event, Head, Job, PlateField, Request, SavedEvent, Screen, Stem, Typed};
use leptos::prelude::*;
use leptos::task::spawn_local;
use quantity::Units;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::time::Duration;

const REMEMBERED: &str = "remembered";
const OPEN: &str = "open";

/// Something said to the person at the foot of the screen.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Notice {
    /// What.
    pub says: String,
    /// A removed job that a tap brings back.
    pub undo: Option<Removed>,
}

/// A job that was removed and can still be brought back.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Removed {
    head: HeadRow,
    entries: Vec<EntryRow>,
}

/// The desk. Copies are handles to the same one.
#[derive(Clone, Copy)]
pub(crate) struct Desk {
    /// The open job.
    pub job: RwSignal<Option<Job>>,
    /// The present reading letter by letter, a moment ahead of the job's own.
    pub typing: RwSignal<Draft>,
    /// The clock, as last looked at.
    pub now_ms: RwSignal<i64>,
    /// Units shown.
    pub units: RwSignal<Units>,
    /// How saving stands.
    pub saving: RwSignal<Saving>,
    /// Where the person is.
    pub route: RwSignal<Route>,
    /// The kept jobs, newest first; `None` while the list is being read.
    pub heads: RwSignal<Option<Vec<Head>>>,
    /// What is said at the foot.
    pub notice: RwSignal<Option<Notice>>,
    /// Whether the page opens without a signal.
    pub offline: RwSignal<Option<OfflineState>>,
    /// Whether the screen is kept on.
    pub wake: RwSignal<WakeState>,
    events: StoredValue<Vec<SavedEvent>, LocalStorage>,
    remembered: StoredValue<BTreeMap<String, Typed>, LocalStorage>,
    tools: StoredValue<Rc<Tools>, LocalStorage>,
    rung_for: StoredValue<i64, LocalStorage>,
}

struct Tools {
    keeper: Keeper,
    chime: Rc<Chime>,
    wake: WakeLock,
    offline: Offline,
}

impl Desk {
    /// Sets the desk up: storage, clock, address, offline watch.
    pub(crate) fn set_up(unkept: Unkept) -> Self {
        let saving = RwSignal::new(Saving::Idle);
        let offline = RwSignal::new(None);
        let wake = RwSignal::new(WakeState::Off);
        let desk = Self {
            job: RwSignal::new(None),
            typing: RwSignal::new(Draft::default()),
            now_ms: RwSignal::new(clock::now_ms()),
            units: RwSignal::new(prefs::units()),
            saving,
            route: RwSignal::new(Route::read(&address::current())),
            heads: RwSignal::new(None),
            notice: RwSignal::new(None),
            offline,
            wake,
            events: StoredValue::new_local(Vec::new()),
            remembered: StoredValue::new_local(BTreeMap::new()),
            tools: StoredValue::new_local(Rc::new(Tools {
                keeper: Keeper::new(saving),
                chime: Rc::new(Chime::new()),
                wake: WakeLock::new(move |state| wake.set(state)),
                offline: offline::Offline::start(move |state| offline.set(Some(state))),
            })),
            rung_for: StoredValue::new_local(0),
        };
        address::on_change(move |hash| desk.arrive(Route::read(&hash))).for_good();
        visible::on_change(move |sight| {
            if sight == Sight::Hidden {
                unkept.keep_now();
            }
            desk.look_at_clock();
        })
        .for_good();
        // The tick only paints: what counts is the stored start of the wait.
        set_interval(move || desk.look_at_clock(), Duration::from_secs(1));
        desk.open_up();
        desk
    }

    fn tools(&self) -> Rc<Tools> {
        self.tools.get_value()
    }

    // ---- what happens -------------------------------------------------------------------------

    /// Something happened to the open job. What does not fit is said, and changes nothing.
    pub(crate) fn happens(&self, event: Event) -> bool {
        let now_ms = clock::now_ms();
        self.now_ms.set(now_ms);
        let Some(job) = self.job.get_untracked() else {
            return false;
        };
        match job.apply(&event, now_ms) {
            Ok((after, requests)) => {
                let draft_changed = after.draft != job.draft;
                self.events.update_value(|events| {
                    events.push(SavedEvent {
                        at_ms: now_ms,
                        event: event.clone(),
                    });
                });
                if draft_changed && !matches!(event, Event::Entered { .. }) {
                    self.typing.set(after.draft.clone());
                }
                self.job.set(Some(after));
                for request in requests {
                    self.grant(request, &event, now_ms);
                }
                true
            }
            Err(refused) => {
                self.say(refused.says());
                false
            }
        }
    }

    fn grant(&self, request: Request, event: &Event, now_ms: i64) {
        match request {
            Request::Save { seq } => {
                let saved = SavedEvent {
                    at_ms: now_ms,
                    event: event.clone(),
                };
                self.save(seq, &saved);
            }
            Request::Remember { field, typed } => self.remember(field, typed),
            Request::RingAt { .. } => {
                self.rung_for.set_value(0);
                let chime = self.tools().chime.clone();
                spawn_local(async move {
                    chime.unlock().await;
                });
            }
            Request::Silence => {}
        }
    }

    fn save(&self, seq: u32, saved: &SavedEvent) {
        let job = self.job.with_untracked(|job| job.as_ref().map(Job::head));
        let (Some(head), Ok(body)) = (job, serde_json::to_string(saved)) else {
            return;
        };
        let Ok(head_body) = serde_json::to_string(&head) else {
            return;
        };
        let entry = EntryRow {
            job: head.id.clone(),
            seq,
            at_ms: saved.at_ms,
            body,
        };
        self.tools().keeper.keep(
            vec![entry],
            HeadRow {
                job: head.id,
                body: head_body,
            },
        );
    }

    /// Tries to save again what could not be saved.
    pub(crate) fn save_again(&self) {
        self.tools().keeper.push();
    }

    /// Says something at the foot of the screen.
    pub(crate) fn say(&self, says: &str) {
        self.notice.set(Some(Notice {
            says: says.to_owned(),
            undo: None,
        }));
    }

    // ---- typing -------------------------------------------------------------------------------

    /// A letter was typed into the present reading: shown at once, kept in a moment.
    pub(crate) fn types(&self, field: Field, typed: Typed) {
        self.typing.update(|draft| {
            if typed.is_blank() {
                draft.typed.remove(&field);
            } else {
                draft.typed.insert(field, typed);
            }
        });
    }

    /// Keeps what was typed into one field.
    pub(crate) fn keeps(&self, field: Field) {
        let typed = self
            .typing
            .with_untracked(|draft| draft.typed.get(&field).cloned());
        let kept = self.job.with_untracked(|job| {
            job.as_ref()
                .and_then(|job| job.draft.typed.get(&field).cloned())
        });
        if typed != kept {
            let typed = typed.unwrap_or_else(|| Typed::new("", self.units.get_untracked()));
            self.happens(Event::Entered { field, typed });
        }
    }

    /// Keeps what was typed into every field.
    pub(crate) fn keeps_all(&self) {
        for &field in Field::ALL {
            self.keeps(field);
        }
    }

    // ---- coming and going ---------------------------------------------------------------------

    /// Goes to a place; the browser's Back leads back.
    pub(crate) fn go(&self, route: &Route) {
        if !address::go(&route.hash()) {
            self.arrive(route.clone());
        }
    }

    /// Goes to a screen of the open job.
    pub(crate) fn go_to(&self, screen: Screen) {
        if let Some(id) = self
            .job
            .with_untracked(|job| job.as_ref().map(|job| job.id.clone()))
        {
            self.go(&Route::Job(id, screen));
        }
    }

    fn arrive(&self, route: Route) {
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
    fn open_up(self) {
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
        let now_ms = clock::now_ms();
        let Some(id) = ids::random_id() else {
            return self.say("This browser cannot name a new job. Update it, or use another one.");
        };
        self.put_on_desk(Job::begin(&id, now_ms, false), Vec::new());
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
        let now_ms = clock::now_ms();
        let Some(id) = ids::random_id() else {
            return self.say("This browser cannot name a new job. Update it, or use another one.");
        };
        let events = job::demo(now_ms);
        let created_ms = events.first().map_or(now_ms, |first| first.at_ms);
        let mut job = Job::begin(&id, created_ms, true);
        for saved in &events {
            if let Ok((after, _)) = job.apply(&saved.event, saved.at_ms) {
                job = after;
            }
        }
        let rows: Vec<EntryRow> = (0..)
            .zip(&events)
            .filter_map(|(seq, saved)| {
                let body = serde_json::to_string(saved).ok()?;
                Some(EntryRow {
                    job: id.clone(),
                    seq,
                    at_ms: saved.at_ms,
                    body,
                })
            })
            .collect();
        let Ok(head_body) = serde_json::to_string(&job.head()) else {
            return;
        };
        let screen = job.screen;
        self.put_on_desk(job, events);
        self.tools().keeper.keep(
            rows,
            HeadRow {
                job: id.clone(),
                body: head_body,
            },
        );
        self.go(&Route::Job(id, screen));
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

    async fn read_job(&self, id: &str) -> Result<(Job, Vec<SavedEvent>), String> {
        let store = self.tools().keeper.store().await?;
        let heads = store.heads().await.map_err(|error| error.says())?;
        let head = heads.iter().find(|head| head.job == id).ok_or(
            "This job is not on this device. It may have been removed, or kept on another.",
        )?;
        let head = job::head_from_json(&head.body).map_err(|error| error.says())?;
        let rows = store.entries(id).await.map_err(|error| error.says())?;
        let job = job::replay(&head, rows.iter().map(|row| row.body.as_str()))
            .map_err(|error| error.says())?;
        let events = rows
            .iter()
            .filter_map(|row| serde_json::from_str(&row.body).ok())
            .collect();
        Ok((job, events))
    }

    fn put_on_desk(&self, job: Job, events: Vec<SavedEvent>) {
        self.note_open(&job.id);
        self.typing.set(job.draft.clone());
        self.events.set_value(events);
        self.job.set(Some(job));
        self.look_at_clock();
    }

    fn note_open(&self, id: &str) {
        let id = id.to_owned();
        let keeper = self.tools().keeper.clone();
        spawn_local(async move {
            if let Ok(store) = keeper.store().await {
                // Only saves a tap at the next start.
                let _ = store.keep_setting(OPEN, &id).await;
            }
        });
    }

    fn remember(&self, field: PlateField, typed: Typed) {
        self.remembered.update_value(|kept| {
            kept.insert(field.row().key.to_owned(), typed);
        });
        let Ok(body) = serde_json::to_string(&self.remembered.get_value()) else {
            return;
        };
        let keeper = self.tools().keeper.clone();
        spawn_local(async move {
            if let Ok(store) = keeper.store().await {
                // The job itself holds the number; this only spares typing it next time.
                let _ = store.keep_setting(REMEMBERED, &body).await;
            }
        });
    }

    // ---- kept jobs ----------------------------------------------------------------------------

    /// Reads the list of kept jobs, newest first.
    pub(crate) fn read_heads(&self) {
        let desk = *self;
        spawn_local(async move {
            let heads = match desk.tools().keeper.store().await {
                Ok(store) => store.heads().await.map_err(|error| error.says()),
                Err(says) => Err(says),
            };
            match heads {
                Ok(rows) => {
                    let mut heads = Vec::new();
                    for row in &rows {
                        match job::head_from_json(&row.body) {
                            Ok(head) => heads.push(head),
                            // Not in the list, and not in silence: it stays in storage as it is.
                            Err(error) => desk.say(&error.says()),
                        }
                    }
                    heads.sort_by_key(|head| std::cmp::Reverse(head.touched_ms));
                    desk.heads.set(Some(heads));
                }
                Err(says) => {
                    desk.heads.set(Some(Vec::new()));
                    desk.say(&says);
                }
            }
        });
    }

    /// Removes a kept job; a tap brings it back while the notice stands.
    pub(crate) fn remove(&self, id: String) {
        let desk = *self;
        spawn_local(async move {
            let removed = async {
                let store = desk.tools().keeper.store().await?;
                let entries = store.entries(&id).await.map_err(|error| error.says())?;
                let heads = store.heads().await.map_err(|error| error.says())?;
                let head = heads
                    .into_iter()
                    .find(|head| head.job == id)
                    .ok_or("Already gone.")?;
                store.remove(&id).await.map_err(|error| error.says())?;
                Ok::<_, String>(Removed { head, entries })
            };
            match removed.await {
                Ok(removed) => {
                    if desk
                        .job
                        .with_untracked(|job| job.as_ref().is_some_and(|job| job.id == id))
                    {
                        desk.job.set(None);
                    }
                    desk.notice.set(Some(Notice {
                        says: "Job removed.".to_owned(),
                        undo: Some(removed),
                    }));
                    desk.read_heads();
                }
                Err(says) => desk.say(&says),
            }
        });
    }

    /// Brings a removed job back.
    pub(crate) fn bring_back(&self, removed: Removed) {
        let desk = *self;
        spawn_local(async move {
            let restored = match desk.tools().keeper.store().await {
                Ok(store) => store
                    .restore(&removed.entries, std::slice::from_ref(&removed.head))
                    .await
                    .map_err(|error| error.says()),
                Err(says) => Err(says),
            };
            match restored {
                Ok(()) => desk.notice.set(None),
                Err(says) => desk.say(&says),
            }
            desk.read_heads();
        });
    }

    // ---- clock, sound, screen, version ---------------------------------------------------------

    fn look_at_clock(&self) {
        let now_ms = clock::now_ms();
        let waiting_until = self.job.with_untracked(|job| {
            let wait = job.as_ref()?.stem(now_ms);
            match wait.state {
                Stem::Waiting(wait) => Some(wait.until_ms),
                _ => None,
            }
        });
        // Without a wait a look each quarter minute is enough: nothing on the screen shows seconds.
        if waiting_until.is_some() || now_ms - self.now_ms.get_untracked() > 15_000 {
            self.now_ms.set(now_ms);
        }
        if let Some(until) = waiting_until
            && now_ms >= until
            && self.rung_for.get_value() != until
        {
            self.rung_for.set_value(until);
            // One that ended long ago while the page was away is shown, not rung.
            if now_ms - until < 60_000 {
                self.tools().chime.ring();
            }
        }
    }

    /// Keeps the screen on, or lets it go.
    pub(crate) fn keep_awake(&self, on: bool) {
        let desk = *self;
        spawn_local(async move {
            let tools = desk.tools();
            if on {
                tools.wake.request().await
            } else {
                tools.wake.release().await
            };
        });
    }

    /// Changes to the new version that waits; everything is saved first.
    pub(crate) fn update_app(&self) {
        self.keeps_all();
        if self.tools().keeper.is_empty() {
            self.tools().offline.apply_update();
        } else {
            self.say("Not everything is saved yet. Try again in a moment.");
        }
    }

    /// Whether a wait runs on the open job.
    pub(crate) fn is_waiting(&self) -> bool {
        let now_ms = self.now_ms.get();
        self.job.with(|job| {
            job.as_ref()
                .is_some_and(|job| job.stem(now_ms).is_waiting())
        })
    }

    /// Everything that happened to the open job, for an export.
    pub(crate) fn history(&self) -> Vec<SavedEvent> {
        self.events.get_value()
    }
}

/// The desk of this page.
pub(crate) fn desk() -> Desk {
    expect_context::<Desk>()
}

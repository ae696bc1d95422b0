//! The desk: the open job, and the one way that anything happens to it.
//!
//! One signal out ([`Desk::job`]), one call in ([`Desk::happens`]). Screens read slices and send
//! events; they change nothing themselves. Every signal here belongs to the root and lives as long
//! as the page.
//!
//! Beside this file: `going` (places, new and opened jobs), `kept` (the list of kept jobs), `rows`
//! (an entry as storage takes it), `liken` (what the background says of a system like this one),
//! `typing` (letters on their way into the job), `watch` (clock,
//! sound, screen, version).

mod going;
mod kept;
mod liken;
mod rows;
mod typing;
mod watch;

use crate::bench::Bench;
use crate::keeper::{Keeper, Saving};
use crate::outside::chime::Chime;
use crate::outside::offline::{Offline, OfflineState};
use crate::outside::visible::{self, Sight};
use crate::outside::wake::{WakeLock, WakeState};
use crate::outside::worker::Background;
use crate::outside::{clock, route as address};
use crate::parts::Unkept;
use crate::prefs;
use crate::route::Route;
use job::{Draft, Event, Head, Job, Request, SavedEvent, StemView, Typed};
use kept::Removed;
use leptos::prelude::*;
pub(crate) use liken::Likened;
use likeness::Question;
use quantity::Units;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::time::Duration;

/// Something said to the person at the foot of the screen.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Notice {
    /// What.
    pub says: String,
    /// A removed job that a tap brings back.
    pub undo: Option<Removed>,
}

/// The desk. Copies are handles to the same one.
#[derive(Clone, Copy)]
pub(crate) struct Desk {
    /// The open job.
    pub job: RwSignal<Option<Job>>,
    /// Its stem: worked out once for all who ask.
    pub stem: Memo<Option<StemView>>,
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
    /// What the background says of a system like the open one.
    pub likened: RwSignal<Likened>,
    /// The practice bench.
    pub bench: Bench,
    /// When the running wait ends and is rung, milliseconds since 1970, UTC.
    rings_at: RwSignal<Option<i64>>,
    /// What `likened` answers, or will.
    asked: StoredValue<Option<Question>>,
    events: StoredValue<Vec<SavedEvent>, LocalStorage>,
    remembered: StoredValue<BTreeMap<String, Typed>, LocalStorage>,
    tools: StoredValue<Rc<Tools>, LocalStorage>,
}

struct Tools {
    keeper: Keeper,
    chime: Rc<Chime>,
    wake: WakeLock,
    offline: Offline,
    background: Background,
}

impl Desk {
    /// Sets the desk up: storage, clock, address, offline watch.
    pub(crate) fn set_up(unkept: Unkept) -> Self {
        let saving = RwSignal::new(Saving::Idle);
        let offline = RwSignal::new(None);
        let wake = RwSignal::new(WakeState::Off);
        let job = RwSignal::new(None);
        let now_ms = RwSignal::new(clock::now_ms());
        let rings_at = RwSignal::new(None);
        let desk = Self {
            job,
            stem: watch::stem(job, now_ms, rings_at),
            typing: RwSignal::new(Draft::default()),
            now_ms,
            units: RwSignal::new(prefs::units()),
            saving,
            route: RwSignal::new(Route::read(&address::current())),
            heads: RwSignal::new(None),
            notice: RwSignal::new(None),
            offline,
            wake,
            likened: RwSignal::new(Likened::NotRead),
            bench: Bench::new(),
            rings_at,
            asked: StoredValue::new(None),
            events: StoredValue::new_local(Vec::new()),
            remembered: StoredValue::new_local(BTreeMap::new()),
            tools: StoredValue::new_local(Rc::new(Tools {
                keeper: Keeper::new(saving),
                chime: Rc::new(Chime::new()),
                wake: WakeLock::new(move |state| wake.set(state)),
                offline: Offline::start(move |state| offline.set(Some(state))),
                background: Background::new(),
            })),
        };
        address::on_change(move |hash| desk.arrive(Route::read(&hash))).for_good();
        visible::on_change(move |sight| {
            if sight == Sight::Hidden {
                unkept.keep_now();
            }
            desk.look_at_clock();
        })
        .for_good();
        // The tick only paints and rings: what counts is the stored start of the wait.
        set_interval(move || desk.look_at_clock(), Duration::from_secs(1));
        desk.bench.wind_up(desk);
        desk.open_up();
        desk
    }

    fn tools(&self) -> Rc<Tools> {
        self.tools.get_value()
    }

    /// Something happened to the open job. What does not fit is said, and changes nothing. What a
    /// simulated plant must feel happens once it has.
    pub(crate) fn happens(&self, event: Event) -> bool {
        match self.bench.takes(*self, &event) {
            Some(fits) => fits,
            None => self.happened(event),
        }
    }

    /// The clock of the open job, milliseconds since 1970, UTC: the phone's, or that of its simulated
    /// plant.
    fn clock_ms(&self) -> i64 {
        let plants = self.bench.time_of(self.open_id().as_deref());
        plants.unwrap_or_else(clock::now_ms)
    }

    /// Whether an event fits the open job now; why not is said.
    pub(crate) fn fits(&self, event: &Event) -> bool {
        let now_ms = self.clock_ms();
        let refused = self.job.with_untracked(|job| {
            let job = job.as_ref()?;
            job.apply(event, now_ms).err()
        });
        if let Some(refused) = refused {
            self.say(refused.says());
        }
        refused.is_none()
    }

    /// Something has happened to the open job, on its simulated plant too if it has one.
    pub(crate) fn happened(&self, event: Event) -> bool {
        let now_ms = self.clock_ms();
        self.now_ms.set(now_ms);
        let applied = self
            .job
            .with_untracked(|job| job.as_ref().map(|job| job.apply(&event, now_ms)));
        let (after, requests) = match applied {
            None => return false,
            Some(Ok(applied)) => applied,
            Some(Err(refused)) => {
                self.say(refused.says());
                return false;
            }
        };
        if !matches!(event, Event::Entered { .. })
            && self.typing.with_untracked(|typing| *typing != after.draft)
        {
            self.typing.set(after.draft.clone());
        }
        let saved = SavedEvent {
            at_ms: now_ms,
            event,
        };
        for request in requests {
            self.grant(request, &after, &saved);
        }
        self.events.update_value(|events| events.push(saved));
        self.job.set(Some(after));
        true
    }

    /// Grants what the job wishes of the outside.
    fn grant(&self, request: Request, after: &Job, saved: &SavedEvent) {
        match request {
            Request::Save { seq } => self.save(after, seq, saved),
            // Invented tools are nobody's own.
            Request::Remember { .. } if after.demo => {}
            Request::Remember { field, typed } => self.remember(field, typed),
            Request::RingAt { at_ms } => self.ring_at(at_ms),
            Request::Silence => self.rings_at.set(None),
        }
    }

    fn save(&self, after: &Job, seq: u32, saved: &SavedEvent) {
        match (rows::entry(&after.id, seq, saved), rows::head(after)) {
            (Ok(entry), Ok(head)) => self.tools().keeper.keep(vec![entry], head),
            (Err(error), _) | (_, Err(error)) => {
                self.saving.set(Saving::NotSaved(rows::unwritten(&error)));
            }
        }
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

    /// Everything that happened to the open job, for an export.
    pub(crate) fn history(&self) -> Vec<SavedEvent> {
        self.events.get_value()
    }
}

/// The desk of this page.
pub(crate) fn desk() -> Desk {
    expect_context::<Desk>()
}

//! The clock and what hangs on it: the stem's state and the chime; then the screen that stays on and
//! the version that waits.

use super::Desk;
use crate::route::Route;
use job::{Job, Screen, StemView};
use leptos::prelude::*;
use leptos::task::spawn_local;

/// How often the stem is worked out while nothing happens, ms. What the coach says does not change
/// by the second.
const BEAT_MS: i64 = 15_000;
/// A wait that ended longer ago than this is shown, not rung, ms: the page was away.
const LATE_MS: i64 = 60_000;

/// The stem of the open job: worked out anew when the job changes, at each beat, and when the time
/// of a wait is up.
pub(super) fn stem(
    job: RwSignal<Option<Job>>,
    now_ms: RwSignal<i64>,
    rings_at: RwSignal<Option<i64>>,
) -> Memo<Option<StemView>> {
    let beat = Memo::new(move |_| (now_ms.get().div_euclid(BEAT_MS), rings_at.get()));
    Memo::new(move |_| {
        // Read, not only tracked: a memo that nobody reads never hears of a change.
        beat.get();
        let now_ms = now_ms.get_untracked();
        job.with(|job| job.as_ref().map(|job| job.stem(now_ms)))
    })
}

impl Desk {
    /// A wait began, or its end moved. It was a tap that did it, so the sound may be unlocked now.
    pub(super) fn ring_at(&self, at_ms: i64) {
        self.rings_at.set(Some(at_ms));
        let chime = self.tools().chime.clone();
        spawn_local(async move {
            chime.unlock().await;
        });
    }

    pub(crate) fn look_at_clock(&self) {
        let now_ms = self.clock_ms();
        let ring = self
            .rings_at
            .get_untracked()
            .filter(|&at_ms| now_ms >= at_ms);
        // Only the ring of the Stem screen shows seconds.
        let seconds_shown = matches!(
            self.route.get_untracked(),
            Route::Job(_, Screen::Stem) if self.stem.with_untracked(waits)
        );
        if seconds_shown || ring.is_some() || now_ms - self.now_ms.get_untracked() >= BEAT_MS {
            self.now_ms.set(now_ms);
        }
        if let Some(at_ms) = ring {
            self.rings_at.set(None);
            if now_ms - at_ms < LATE_MS {
                self.tools().chime.ring();
            }
        }
    }

    /// Whether a wait runs on the open job.
    pub(crate) fn is_waiting(&self) -> bool {
        self.stem.with(waits)
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
}

fn waits(stem: &Option<StemView>) -> bool {
    stem.as_ref().is_some_and(StemView::is_waiting)
}

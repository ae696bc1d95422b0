//! Typing that rests: kept a moment after the last letter, and at once when the field or the page is
//! left. Until then nothing may say that it is saved.

use leptos::prelude::*;
use std::time::Duration;

/// Typing that rests this long is kept.
const REST: Duration = Duration::from_millis(600);

/// The fields of the page with letters that are not kept yet.
#[derive(Clone, Copy)]
pub(crate) struct Unkept {
    count: RwSignal<usize>,
    hurry: Trigger,
}

impl Unkept {
    pub(crate) fn new() -> Self {
        Self {
            count: RwSignal::new(0),
            hurry: Trigger::new(),
        }
    }

    /// Whether there are any.
    pub(crate) fn any(&self) -> bool {
        self.count.get() > 0
    }

    /// Keeps all of them now: the page may not be heard of again.
    pub(crate) fn keep_now(&self) {
        self.hurry.notify();
    }
}

/// The rest of one field.
#[derive(Clone, Copy)]
pub(super) struct Rest {
    timer: StoredValue<Option<TimeoutHandle>>,
    keep: Callback<()>,
    unkept: Unkept,
}

impl Rest {
    /// For a field that `keep` keeps.
    pub(super) fn new(keep: impl Fn() + Send + Sync + 'static) -> Self {
        let rest = Self {
            timer: StoredValue::new(None),
            keep: Callback::new(move |()| keep()),
            unkept: expect_context(),
        };
        Effect::new(move |_| {
            rest.unkept.hurry.track();
            rest.over();
        });
        on_cleanup(move || rest.over());
        rest
    }

    /// A letter was typed: the rest begins anew.
    pub(super) fn letter(self) {
        let timer = set_timeout_with_handle(move || self.over(), REST).ok();
        match self
            .timer
            .try_update_value(|old| std::mem::replace(old, timer))
            .flatten()
        {
            Some(old) => old.clear(),
            None => self.unkept.count.update(|count| *count += 1),
        }
    }

    /// The rest is over: what was typed is kept, if anything was.
    pub(super) fn over(self) {
        if let Some(timer) = self.timer.try_update_value(Option::take).flatten() {
            timer.clear();
            self.unkept.count.update(|count| *count -= 1);
            self.keep.run(());
        }
    }
}

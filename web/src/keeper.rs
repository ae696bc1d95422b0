//! Saving: entries wait in line, go to storage together, and only then count as saved.

use crate::outside::store::{EntryRow, HeadRow, Store};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::cell::{Cell, RefCell};
use std::rc::Rc;

/// How saving stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) enum Saving {
    /// Nothing was entered yet.
    #[default]
    Idle,
    /// Entries are on their way.
    UnderWay,
    /// Everything that was entered is in storage.
    Saved,
    /// The newest entries are not in storage; why, and what to do.
    NotSaved(String),
}

/// The line of entries that wait for storage.
#[derive(Clone)]
pub(crate) struct Keeper(Rc<Line>);

/// Entries of one job, and its head as it is after them.
struct Batch {
    entries: Vec<EntryRow>,
    head: HeadRow,
}

struct Line {
    store: RefCell<Option<Store>>,
    waiting: RefCell<Vec<Batch>>,
    busy: Cell<bool>,
    tell: RwSignal<Saving>,
}

impl Keeper {
    /// A keeper that tells how saving stands. It has no storage yet.
    pub(crate) fn new(tell: RwSignal<Saving>) -> Self {
        Self(Rc::new(Line {
            store: RefCell::new(None),
            waiting: RefCell::new(Vec::new()),
            busy: Cell::new(false),
            tell,
        }))
    }

    /// The storage, opened at first use.
    pub(crate) async fn store(&self) -> Result<Store, String> {
        if let Some(store) = self.0.store.borrow().clone() {
            return Ok(store);
        }
        let store = Store::open().await?;
        *self.0.store.borrow_mut() = Some(store.clone());
        Ok(store)
    }

    /// Puts entries in line, with the head as it is after them, and sees that the line moves.
    pub(crate) fn keep(&self, entries: Vec<EntryRow>, head: HeadRow) {
        self.0.waiting.borrow_mut().push(Batch { entries, head });
        self.push();
    }

    /// Tries what waits again.
    pub(crate) fn push(&self) {
        if self.0.busy.replace(true) {
            return;
        }
        let keeper = self.clone();
        self.0.tell.set(Saving::UnderWay);
        spawn_local(async move {
            let end = keeper.empty_line().await;
            keeper.0.busy.set(false);
            keeper.0.tell.set(end);
        });
    }

    /// Whether everything that was entered is in storage.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.waiting.borrow().is_empty()
    }

    async fn empty_line(&self) -> Saving {
        while let Some((count, entries, head)) = self.next_together() {
            match self.append(&entries, &head).await {
                Ok(()) => {
                    self.0.waiting.borrow_mut().drain(..count);
                }
                Err(says) => return Saving::NotSaved(says),
            }
        }
        Saving::Saved
    }

    async fn append(&self, entries: &[EntryRow], head: &HeadRow) -> Result<(), String> {
        Ok(self.store().await?.append(entries, head).await?)
    }

    /// What can go into storage together: all that waits first in line and belongs to one job.
    fn next_together(&self) -> Option<(usize, Vec<EntryRow>, HeadRow)> {
        let waiting = self.0.waiting.borrow();
        let job = &waiting.first()?.head.job;
        let together: Vec<&Batch> = waiting
            .iter()
            .take_while(|batch| batch.head.job == *job)
            .collect();
        let entries = together
            .iter()
            .flat_map(|batch| batch.entries.clone())
            .collect();
        Some((together.len(), entries, together.last()?.head.clone()))
    }
}

//! The list of kept jobs: reading it, removing one, bringing it back.

use super::{Desk, Notice};
use crate::outside::store::{EntryRow, HeadRow};
use crate::parts::in_order;
use job::Head;
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::cmp::Reverse;

/// A job that was removed and can still be brought back.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Removed {
    head: HeadRow,
    entries: Vec<EntryRow>,
}

impl Desk {
    /// Reads the list of kept jobs, newest first.
    pub(crate) fn read_heads(&self) {
        let desk = *self;
        spawn_local(async move {
            let heads = desk.list().await.unwrap_or_else(|says| {
                desk.say(&says);
                Vec::new()
            });
            desk.heads.set(Some(heads));
        });
    }

    async fn list(&self) -> Result<Vec<Head>, String> {
        let rows = self.tools().keeper.store().await?.heads().await?;
        let heads = rows.iter().filter_map(|row| {
            job::head_from_json(&row.body)
                // Not in the list, and not in silence: it stays in storage as it is.
                .map_err(|error| self.say(&error.says()))
                .ok()
        });
        Ok(in_order(heads, |head| Reverse(head.touched_ms)))
    }

    /// Removes a kept job; a tap brings it back while the notice stands.
    pub(crate) fn remove(&self, id: String) {
        let desk = *self;
        spawn_local(async move {
            match desk.take_out(&id).await {
                Ok(removed) => {
                    if desk.open_id().as_deref() == Some(&id) {
                        desk.job.set(None);
                        desk.rings_at.set(None);
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

    async fn take_out(&self, id: &str) -> Result<Removed, String> {
        let store = self.tools().keeper.store().await?;
        let entries = store.entries(id).await?;
        let heads = store.heads().await?;
        let head = heads.into_iter().find(|head| head.job == id);
        let head = head.ok_or("Already gone.")?;
        store.remove(id).await?;
        Ok(Removed { head, entries })
    }

    /// Brings a removed job back.
    pub(crate) fn bring_back(&self, removed: Removed) {
        let desk = *self;
        spawn_local(async move {
            match desk.put_back(&removed).await {
                Ok(()) => desk.notice.set(None),
                Err(says) => desk.say(&says),
            }
            desk.read_heads();
        });
    }

    async fn put_back(&self, removed: &Removed) -> Result<(), String> {
        let store = self.tools().keeper.store().await?;
        let heads = std::slice::from_ref(&removed.head);
        Ok(store.restore(&removed.entries, heads).await?)
    }
}

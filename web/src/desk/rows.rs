//! An entry and a head as storage takes them.

use crate::outside::store::{EntryRow, HeadRow};
use job::{Job, SavedEvent};

/// An event as the entry of that number in a job's log.
///
/// # Errors
/// What the writer of JSON says; no event that can happen makes it say anything.
pub(super) fn entry(job: &str, seq: u32, saved: &SavedEvent) -> serde_json::Result<EntryRow> {
    Ok(EntryRow {
        job: job.to_owned(),
        seq,
        at_ms: saved.at_ms,
        body: serde_json::to_string(saved)?,
    })
}

/// The head of a job as it stands.
///
/// # Errors
/// As [`entry`].
pub(super) fn head(job: &Job) -> serde_json::Result<HeadRow> {
    Ok(HeadRow {
        job: job.id.clone(),
        body: serde_json::to_string(&job.head())?,
    })
}

/// What is said of something that cannot be written down.
pub(super) fn unwritten(error: &serde_json::Error) -> String {
    format!(
        "The last entry cannot be written down ({error}). It is not saved: export the record and reload."
    )
}

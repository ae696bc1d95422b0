//! What a screen reads of the open job.

use crate::desk::Desk;
use job::Job;
use leptos::prelude::*;

/// A slice of the open job.
pub(super) fn slice<T>(desk: Desk, of: impl Fn(&Job) -> T) -> Option<T> {
    desk.job.with(|job| job.as_ref().map(of))
}

/// The same for the moment, without listening for changes: for what a tap reads.
pub(super) fn slice_now<T>(desk: Desk, of: impl Fn(&Job) -> T) -> Option<T> {
    desk.job.with_untracked(|job| job.as_ref().map(of))
}

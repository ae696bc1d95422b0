//! The page: fingers, screens, storage and the clock. No physics and no decision is made here.
//!
//! Where to start: [`desk`] holds the open job and hands every event to the job's own rules;
//! `screens` has one file for each screen, `parts` what they share, and [`outside`] everything that
//! the browser does for us.

mod bench;
mod desk;
mod keeper;
pub mod outside;
mod parts;
mod prefs;
mod route;
mod screens;

use leptos::prelude::*;

/// Mounts the page. A panic shows the reload card; what was saved is kept.
pub fn start() {
    outside::panic::install();
    mount_to_body(screens::App);
}

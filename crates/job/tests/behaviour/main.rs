//! How a job behaves: what each event does to it, what it asks of the outside, what it leaves.
//!
//! One file for each part of the visit. No browser, no clock: time is an argument.
#![allow(clippy::disallowed_methods, clippy::unwrap_used)]

mod any_order;
mod charge;
mod demo;
mod fields;
mod gate;
mod golden;
mod no_stem;
mod numbers;
mod proof;
mod record;
mod saved;
mod setup;
mod table;
mod told;
mod turns;
mod typed;
mod visit;
mod wait;

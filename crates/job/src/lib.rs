//! One visit to one circuit: adjust, wait, measure; what comes next; what was done.
//!
//! Where to start: [`Job::apply`] takes an [`Event`] and the time and gives the job after it and
//! the [`Request`]s to the outside. A job is nothing but its events in order, so what is stored is
//! the events, and a reopened job is exactly the entries that were saved. Everything else is
//! worked out when asked: [`Job::assess`] (by `diagnosis`), [`Job::stem`] (by `coach`),
//! [`Job::proof`], [`record()`].
//!
//! Nothing here computes a temperature or knows a browser.

mod choice;
mod coached;
mod csv;
mod demo;
mod draft;
mod event;
mod gate;
mod job;
mod keyed;
mod log;
mod look_first;
mod measure;
mod name;
mod number;
mod plate;
mod proof;
mod record;
mod rules;
mod saved;
mod screen;
mod setup;
mod slip;
mod stem;
mod trend;
mod typed;
mod words;

pub use choice::{Choices, GaugeFace, PlateState, glide};
pub use coached::{CoachLog, SuperheatRead};
pub use csv::csv;
pub use demo::demo;
pub use draft::Draft;
pub use event::{Disturbance, Event, STEM_ENDS, stem_end_key};
pub use gate::Override;
pub use job::{Job, Request};
pub use log::{Logged, What};
pub use look_first::{Check, CheckState, Item, Part};
pub use measure::Measure;
pub use name::Name;
pub use number::{NumberFault, read_number};
pub use plate::{PlateField, PlateRow};
pub use proof::{Proof, Proved};
pub use record::{Line, Record, Section, derived_numbers, record};
pub use rules::Refused;
pub use saved::{
    FORMAT, Head, SavedError, SavedEvent, VERSION, export_json, head_from_json, replay,
};
pub use screen::Screen;
pub use setup::line_loss;
pub use slip::Slip;
pub use stem::{Stem, StemView, Wait};
pub use trend::{Expected, Point, Trend, TurnMark};
pub use typed::{EntryFault, Typed};
pub use words::{turns, turns_brief, words};

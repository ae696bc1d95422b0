//! Which cause, by the model: how probable each cause is, given a reading with its error bands.
//!
//! Where to start: [`judge`] takes what `diagnosis::assess` takes and gives its assessment together
//! with the posterior. What the plant does under each cause stands in a small library, made by
//! `cargo xtask generate` from crate `cycle`, which this crate never sees: [`library`] says what is
//! in it, [`weigh`] how a reading is held against it. The trade's table speaks for signs that the
//! model does not give, and alone where the model explains nothing.

mod charge;
mod class;
mod judge;
pub mod library;
mod next;
mod read;
mod row;
pub mod stored;
pub mod surface;
mod table;
pub mod weigh;
mod words;

pub use charge::{LARGEST_STEP, LARGEST_STEP_OZ, Proposal};
pub use class::{Class, Scale, scale};
pub use judge::{Belief, Judged, Size, judge};
pub use next::NextTest;
pub use row::{ANSWERS, Answer, GIVENS, ROWS, Row, answers};
pub use words::in_words;

//! The practice bench: a living plant with a hidden fault, hands that act on it, and a debrief.
//!
//! Where to start: [`Case::draw`] makes a case of a number, [`Session::begin`] arrives at it,
//! [`Session::apply`] does something, [`Session::pass`] lets time go by, [`Session::shows`] reads a
//! tool. When it is over, [`debrief()`] says what it was and what the way there cost. The plant is
//! `cycle::Run`; nothing here computes a temperature. Nothing knows a clock or a browser: the same
//! actions at the same seconds give the same session everywhere. [`Bench`] is all of it as text in, text
//! out, for a worker.

mod act;
mod adjust;
mod ask;
mod attempt;
mod bag;
mod bench;
mod case;
mod debrief;
mod dice;
mod difficulty;
mod draw;
mod eyes;
mod facts;
mod hand;
mod hasty;
mod keyed;
mod lesson;
mod makings;
mod order;
mod past;
mod person;
mod refused;
mod rules;
mod score;
mod session;
mod sheet;
mod standing;
mod technician;
mod tools;
mod trouble;
mod view;
mod visit;

pub use act::{Action, MONEY, Place, Risk, Row, Spot};
pub use attempt::{Attempt, ReplayError, ScriptError, run_script};
pub use bag::{Needs, needs};
pub use bench::Bench;
pub use case::{Case, CaseError, Filter, Nameplate, REFRIGERANTS, TONS};
pub use debrief::{Debrief, Left, Likely, Mark, Path, Truth, debrief};
pub use difficulty::{Difficulty, Tells};
pub use eyes::{Looks, speaks_of};
pub use facts::{Harm, SAMPLE_S, Sample};
pub use hasty::hasty_technician;
pub use lesson::{Lesson, LessonCase, LessonError, lesson_files, lessons, read_lesson};
pub use past::Past;
pub use refused::Refused;
pub use score::{Habit, Lost, Score};
pub use session::{Seen, Session, Step, Stopped};
pub use technician::good_technician;
pub use tools::Kit;
pub use trouble::{Trouble, Way};
pub use view::View;

//! The practice bench: a simulated plant, the same job screens, a debrief.
//!
//! Where to start: `state` holds the attempt under way and talks to the plant, which lives in a worker
//! (`line`); `doing` is what a tap does, `keeping` what stays on the device. What its screens say comes from there as well, as trees that
//! `sheet` makes into elements, so that a page that never opens the bench does not load them.
//! `strip` stands on every screen of the job; `withheld` keeps Finding from telling too much.

mod doing;
mod keeping;
mod line;
mod sheet;
mod state;
mod strip;
mod withheld;

pub(crate) use sheet::Sheet;
pub(crate) use state::Bench;
pub(crate) use strip::Strip;
pub(crate) use withheld::FindingFor;

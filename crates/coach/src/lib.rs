//! What a log of superheat readings and stem turns says: has it settled, how much does a turn of
//! this valve do, how far to turn next, and when to stop.
//!
//! Where to start: [`advise`] takes a [`Plan`] and the log so far, a slice of [`Entry`], and gives
//! [`Advice`]. It keeps nothing between calls: the same log always gives the same advice.
//!
//! Turns are signed, clockwise positive. Clockwise closes the valve and raises superheat, on nearly
//! every valve; the first response in the log tests that ([`Stop::WrongWay`]). Times are minutes
//! since the log began.
//!
//! ```
//! use coach::{Entry, Minutes, Plan, Quarters, Wait, advise};
//! use quantity::TemperatureDifference as Difference;
//!
//! let f = Difference::from_f;
//! let plan = Plan {
//!     low: f(8.0),
//!     high: f(12.0),
//!     minimum: f(5.0),
//!     scatter: f(0.8),
//!     bias: f(0.8),
//!     head_limit: None,
//!     opening_end: None,
//!     closing_end: None,
//! };
//! let log: Vec<Entry> =
//!     [19.6, 20.3, 20.1].iter().zip([0.0, 3.0, 6.0]).map(|(superheat, minutes)| Entry::Reading {
//!         at: Minutes::new(minutes),
//!         superheat: f(*superheat),
//!         swing: None,
//!         condensing: None,
//!     }).collect();
//! let advice = advise(&plan, &log, Minutes::new(6.0));
//! assert_eq!(advice.wait, Some(Wait::Settled));
//! assert_eq!(advice.next, Some(Quarters::new(-2))); // half a turn open: the first step is small
//! ```
//!
//! # Source
//! The estimators: exact Gaussian mixture over a grid of lags, a scalar Kalman filter for the
//! gain. Their constants stand where they are used, each with its source; those measured on the
//! prototype of the cycle model say so.

mod advice;
mod course;
mod dip;
mod forecast;
mod gain;
mod judge;
mod log;
mod next;
mod plan;
mod settle;
mod swing;
mod why;

#[cfg(test)]
#[path = "../tests/field/mod.rs"]
mod field;
#[cfg(test)]
#[path = "../tests/plant/mod.rs"]
mod plant;

pub use advice::{Advice, Estimate, PathPoint, Place, Scored, Stop, Swing, Wait};
pub use judge::advise;
pub use plan::{End, Entry, Minutes, Plan, Quarters};
pub use why::Why;

/// Standard deviations in the half-width of a 90 % interval of a normal distribution, and, on one
/// side, at its 95 % limit.
const NINETY: f64 = 1.645;

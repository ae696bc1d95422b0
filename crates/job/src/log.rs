//! What was done, in order: readings, turns, weights, changes.

use crate::draft::Draft;
use crate::event::Disturbance;
use coach::{End, Quarters};

/// One line of the log.
#[derive(Clone, Debug, PartialEq)]
pub struct Logged {
    /// When, milliseconds since 1970, UTC.
    pub at_ms: i64,
    /// What.
    pub what: What,
    /// Taken back as a slip of the thumb: shown struck out, counted nowhere.
    pub struck: bool,
}

/// What a line of the log holds.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A reading, as typed.
    Reading(Draft),
    /// A turn of the stem.
    Turn {
        /// By how much.
        by: Quarters,
        /// Made before the system had settled.
        early: bool,
    },
    /// The stem met an end.
    End(End),
    /// Refrigerant weighed in (positive) or out, in ounces.
    Charge {
        /// How much.
        ounces: f64,
    },
    /// Something else was changed.
    Change {
        /// What.
        what: Disturbance,
        /// In words.
        note: String,
    },
}

impl Logged {
    pub(crate) const fn new(at_ms: i64, what: What) -> Self {
        Self {
            at_ms,
            what,
            struck: false,
        }
    }
}

/// The lines that count.
pub(crate) fn counted(log: &[Logged]) -> impl DoubleEndedIterator<Item = &Logged> {
    log.iter().filter(|line| !line.struck)
}

/// The stem's position from as found: the sum of every turn that counts.
pub(crate) fn position(log: &[Logged]) -> Quarters {
    counted(log).fold(Quarters::default(), |sum, line| match line.what {
        What::Turn { by, .. } => sum.plus(by),
        _ => sum,
    })
}

/// Ounces weighed in less ounces weighed out.
pub(crate) fn charge_ounces(log: &[Logged]) -> f64 {
    counted(log)
        .map(|line| match line.what {
            What::Charge { ounces } => ounces,
            _ => 0.0,
        })
        .sum()
}

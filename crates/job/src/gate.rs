//! The gate before the stem: which checks stand open, and what an override covers.

use crate::job::Job;
use crate::look_first::{CheckState, Item, Part};
use diagnosis::{Gate, Metering};

/// One opening of the gate against open checks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Override {
    /// When, milliseconds since 1970, UTC.
    pub at_ms: i64,
    /// Why; goes into the record.
    pub reason: String,
    /// The checks that were open then; it opens the stem against these and no others.
    pub covers: Vec<Item>,
}

impl Job {
    /// The checks that this device needs and that are not done, in order.
    pub fn open_checks(&self) -> impl Iterator<Item = Item> + '_ {
        let metering = self.choices.metering.unwrap_or(Metering::AdjustableTxv);
        Item::ALL
            .iter()
            .copied()
            .filter(move |&item| item.applies(metering) && !self.is_done(item))
    }

    /// Whether a check is marked done.
    pub fn is_done(&self, item: Item) -> bool {
        self.checks
            .get(&item)
            .is_some_and(|check| check.state == CheckState::Done)
    }

    /// The reason this job is turned away, if it is: a check that failed outright.
    pub fn turned_away(&self) -> Option<&'static str> {
        self.checks
            .iter()
            .filter(|(_, check)| check.state == CheckState::NotDone)
            .find_map(|(item, _)| item.row().turned_away)
    }

    /// Whether the stem may be turned: every check holds, or those that do not were open when the
    /// gate was overridden. What is found wrong afterwards shuts it again, and a job that is turned
    /// away stays shut whatever is written.
    pub fn stem_open(&self) -> bool {
        let covered = |item: Item| {
            self.overrides
                .iter()
                .any(|opened| opened.covers.contains(&item))
        };
        self.turned_away().is_none() && self.open_checks().all(covered)
    }

    /// What the checks mean to the finding: overriding opens the stem, not the charge.
    pub(crate) fn gate(&self) -> Gate {
        let done = |part: Part| {
            Item::ALL
                .iter()
                .filter(|item| item.row().part == part)
                .all(|&item| self.is_done(item))
        };
        Gate {
            held: done(Part::Machine) && done(Part::Air),
            bulb_seen_right: done(Part::Bulb),
        }
    }
}

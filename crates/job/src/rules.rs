//! What does not fit, and why: checked before an event happens, never after.

use crate::event::Event;
use crate::job::{Job, left_typed};
use crate::measure::Measure;
use crate::number::NumberFault;
use crate::typed::{EntryFault, Typed};
use diagnosis::Metering;

/// Why an event does not fit. The job is as it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refused {
    /// The stem is shut: the gate neither holds nor is overridden.
    StemShut,
    /// There is no stem on this device.
    NoStem,
    /// The as-found position comes before the first turn.
    AsFoundFirst,
    /// A reading comes before the first turn: there would be nothing to compare with.
    ReadingFirst,
    /// More than two turns in one step, or none.
    StepTooLarge,
    /// Nothing was entered.
    NothingEntered,
    /// An override needs a written reason.
    ReasonNeeded,
    /// The weight is not a number that can be.
    Weight(EntryFault),
    /// There is nothing to take back.
    NothingToTakeBack,
    /// The job is closed; open it again first.
    Closed,
}

impl Refused {
    /// What is wrong and what to do.
    pub const fn says(self) -> &'static str {
        match self {
            Self::StemShut => {
                "The stem stays shut until every check of Look first holds, or is overridden with a written reason."
            }
            Self::NoStem => "This metering device has no stem to turn.",
            Self::AsFoundFirst => "Write down how the stem was found before the first turn.",
            Self::ReadingFirst => "Keep a reading before the first turn, to compare with.",
            Self::StepTooLarge => "At most two turns in one step, at least a quarter.",
            Self::NothingEntered => "Nothing is entered yet.",
            Self::ReasonNeeded => "Write why, in a few words: it goes into the record.",
            Self::Weight(EntryFault::Number(fault)) => fault.says(),
            Self::Weight(EntryFault::OutOfRange { .. }) => {
                "More than any charge of this kind. Check the number and its unit."
            }
            Self::NothingToTakeBack => "There is nothing in the log to take back.",
            Self::Closed => "This job is closed. Open it again to go on.",
        }
    }
}

/// Most quarters in one step: two turns. Army manuals: at most two full turns in one step.
const MOST_QUARTERS: u32 = 8;
/// Most ounces in one weighing.
const MOST_OUNCES: f64 = 2000.0;

impl Job {
    /// Why an event does not fit this job, if it does not.
    pub(crate) fn refuses(&self, event: &Event) -> Option<Refused> {
        let closed = self.finished_ms.is_some();
        match event {
            Event::Reopened | Event::Went { .. } | Event::Wrote { .. } => None,
            _ if closed => Some(Refused::Closed),
            Event::Overrode { reason } => reason.trim().is_empty().then_some(Refused::ReasonNeeded),
            Event::KeptReading => self.refuses_reading(),
            Event::Turned { quarters } => self.refuses_turn(*quarters),
            Event::MetEnd { .. } => (!self.has_stem()).then_some(Refused::NoStem),
            Event::Weighed { typed } => weight_fault(typed).map(Refused::Weight),
            Event::TookBack => self
                .log
                .iter()
                .all(|line| line.struck)
                .then_some(Refused::NothingToTakeBack),
            _ => None,
        }
    }

    fn refuses_reading(&self) -> Option<Refused> {
        // A second tap on the same thumb: nothing was measured since.
        let as_left = self
            .readings()
            .next_back()
            .is_some_and(|(_, kept)| self.draft == left_typed(kept));
        (self.draft.is_empty() || as_left).then_some(Refused::NothingEntered)
    }

    fn refuses_turn(&self, quarters: i32) -> Option<Refused> {
        let in_step = (1..=MOST_QUARTERS).contains(&quarters.unsigned_abs());
        [
            (self.has_stem(), Refused::NoStem),
            (self.stem_open(), Refused::StemShut),
            (self.as_found.is_some(), Refused::AsFoundFirst),
            (self.readings().next().is_some(), Refused::ReadingFirst),
            (in_step, Refused::StepTooLarge),
        ]
        .into_iter()
        .find_map(|(holds, refused)| (!holds).then_some(refused))
    }

    fn has_stem(&self) -> bool {
        self.choices.metering == Some(Metering::AdjustableTxv)
    }
}

fn weight_fault(typed: &Typed) -> Option<EntryFault> {
    match typed.within(Measure::Mass, (-MOST_OUNCES, MOST_OUNCES)) {
        Ok(0.0) => Some(EntryFault::Number(NumberFault::Blank)),
        Ok(_) => None,
        Err(fault) => Some(fault),
    }
}

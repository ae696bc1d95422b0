//! Superheat and subcooling against time, with the turns between: what the trend strip draws and
//! what its table says.

use crate::job::Job;
use crate::log::{What, counted};
use coach::Quarters;
use diagnosis::{Target, check, derive};
use quantity::TemperatureDifference;

/// One reading on the strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// When, milliseconds since 1970, UTC.
    pub at_ms: i64,
    /// Superheat, if it could be derived.
    pub superheat: Option<TemperatureDifference>,
    /// Subcooling, if it could be derived.
    pub subcooling: Option<TemperatureDifference>,
}

/// One turn on the strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnMark {
    /// When, milliseconds since 1970, UTC.
    pub at_ms: i64,
    /// By how much.
    pub by: Quarters,
}

/// Everything the strip shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Trend {
    /// Readings, oldest first.
    pub points: Vec<Point>,
    /// Turns, oldest first.
    pub turns: Vec<TurnMark>,
    /// The band for superheat.
    pub superheat_target: Target,
    /// The band for subcooling.
    pub subcooling_target: Target,
}

impl Job {
    /// The trend of this job; `None` until it is named or while nothing was read.
    pub fn trend(&self) -> Option<Trend> {
        let setup = self.setup()?;
        let derived: Vec<_> = self
            .readings()
            .map(|(at_ms, draft)| (at_ms, derive(&check(&setup, &draft.reading()).0)))
            .collect();
        let newest = &derived.last()?.1;
        let (superheat_target, subcooling_target) =
            (newest.superheat_target, newest.subcooling_target);
        let points = derived
            .iter()
            .map(|(at_ms, derived)| Point {
                at_ms: *at_ms,
                superheat: derived.superheat.map(|banded| banded.value),
                subcooling: derived.subcooling.map(|banded| banded.value),
            })
            .collect();
        let turns = counted(&self.log)
            .filter_map(|line| match line.what {
                What::Turn { by, .. } => Some(TurnMark {
                    at_ms: line.at_ms,
                    by,
                }),
                _ => None,
            })
            .collect();
        Some(Trend {
            points,
            turns,
            superheat_target,
            subcooling_target,
        })
    }
}

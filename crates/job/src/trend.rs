//! Superheat and subcooling against time, with the turns between and the way superheat should take:
//! what the trend strip draws and what its table says.

use crate::job::Job;
use crate::log::{What, counted};
use crate::stem::{Stem, StemView, foretold};
use coach::{PathPoint, Quarters};
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

/// One moment on the way that superheat should take. Nine readings in ten lie from low to high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expected {
    /// When, milliseconds since 1970, UTC.
    pub at_ms: i64,
    /// Lower edge of the band.
    pub low: TemperatureDifference,
    /// Mean.
    pub middle: TemperatureDifference,
    /// Upper edge of the band.
    pub high: TemperatureDifference,
}

/// Everything the strip shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Trend {
    /// Readings, oldest first.
    pub points: Vec<Point>,
    /// Turns, oldest first.
    pub turns: Vec<TurnMark>,
    /// The way that superheat should take after a turn, in order of time; empty where nothing can be
    /// said.
    pub expected: Vec<Expected>,
    /// The turn that `expected` follows, were it made now; `None` where it follows the last turn that
    /// was made.
    pub proposed: Option<Quarters>,
    /// The band for superheat.
    pub superheat_target: Target,
    /// The band for subcooling.
    pub subcooling_target: Target,
}

impl Job {
    /// The trend of this job with the way that superheat should take: after the turn that is proposed,
    /// else after the last one. `None` until the job is named or while nothing was read.
    ///
    /// - `stem`: the stem now.
    /// - `now_ms`: milliseconds since 1970, UTC.
    pub fn trend_ahead(&self, stem: &StemView, now_ms: i64) -> Option<Trend> {
        let mut trend = self.trend()?;
        let (from_ms, path) = match (&stem.state, &stem.advice) {
            (Stem::Turn(by), Some(advice)) => {
                trend.proposed = Some(*by);
                (now_ms, advice.path.clone())
            }
            _ => foretold(self),
        };
        trend.expected = path.iter().map(|point| expected(from_ms, point)).collect();
        Some(trend)
    }

    /// What was read and done, without a look ahead; `None` until the job is named or while nothing
    /// was read.
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
            expected: Vec::new(),
            proposed: None,
            superheat_target,
            subcooling_target,
        })
    }
}

fn expected(from_ms: i64, point: &PathPoint) -> Expected {
    Expected {
        at_ms: from_ms.saturating_add((point.since.get() * 60_000.0) as i64),
        low: point.low,
        middle: point.middle,
        high: point.high,
    }
}

//! The matcher: every cause weighed against every sign that was read.

use crate::cause::Cause;
use crate::checked::Checked;
use crate::derived::Derived;
use crate::lookalike;
use crate::setup::Metering;
use crate::sign::{Observation, Sign};
use crate::table::mark;

/// Marks overlap in what they tell (suction and superheat fall together), so each counts for less
/// than its face value. Judgement, no source.
const TEMPER: f64 = 0.8;

/// What a sign says of a cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Speaks {
    /// For it.
    For,
    /// Against it.
    Against,
    /// Neither, or the tools cannot tell.
    Neither,
}

impl Speaks {
    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::For => "for",
            Self::Against => "against",
            Self::Neither => "neither",
        }
    }
}

/// A cause, how likely it is beside the others, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What may be behind the reading.
    pub cause: Cause,
    /// Its share, 0 to 1; all findings of a reading sum to 1.
    pub weight: f64,
    /// Every sign that was read, strongest first, and what it says of this cause.
    pub evidence: Vec<(Observation, Speaks)>,
    metering: Metering,
}

/// Lighter than this a finding is folded away. Judgement, no source.
const WORTH_SHOWING: f64 = 0.04;
/// Lighter than this nothing is to be done for it. Judgement, no source.
const WORTH_ACTING_ON: f64 = 0.08;

impl Finding {
    /// Whether it weighs enough to be shown and written down.
    pub fn is_worth_showing(&self) -> bool {
        self.weight >= WORTH_SHOWING
    }
    /// Whether it weighs enough to do something about it.
    pub fn is_worth_acting_on(&self) -> bool {
        self.weight >= WORTH_ACTING_ON
    }
    /// The cause's name on this device.
    pub const fn name(&self) -> &'static str {
        self.cause.name(self.metering)
    }
    /// What to do about it on this device.
    pub const fn action(&self) -> &'static str {
        self.cause.action(self.metering)
    }
    /// The cheapest test of this cause that this device allows and that was not done yet.
    pub fn next_test(&self) -> &'static str {
        let done = |sign: Sign| self.evidence.iter().any(|(seen, _)| seen.sign == sign);
        let tests = || self.cause.tests(self.metering);
        tests()
            .find(|test| test.sign.is_none_or(|sign| !done(sign)))
            .or_else(|| tests().last())
            // A cause that this device cannot have keeps its words; its weight is nothing.
            .or_else(|| self.cause.words().tests.first().copied())
            .map_or("", |test| test.says)
    }
}

/// Every cause with its weight, best first; equal weights in the trade's order of action.
pub(crate) fn rank(checked: &Checked, derived: &Derived, seen: &[Observation]) -> Vec<Finding> {
    let metering = checked.setup().metering;
    let likelihood = |cause, observation: &Observation| {
        mark(cause, metering, observation.sign).likelihood(observation.possible())
    };
    // Per sign, the mean over causes: what the sign would be worth if it told nothing.
    let causes = Cause::ALL.len() as f64;
    let mean: Vec<f64> = seen
        .iter()
        .map(|seen| {
            Cause::ALL
                .iter()
                .map(|&cause| likelihood(cause, seen))
                .sum::<f64>()
                / causes
        })
        .collect();

    let mut findings: Vec<Finding> = Cause::ALL
        .iter()
        .map(|&cause| {
            let mut strengths: Vec<(f64, Observation)> = seen
                .iter()
                .zip(&mean)
                .map(|(&seen, &mean)| (libm::log(likelihood(cause, &seen) / mean), seen))
                .collect();
            let sum: f64 = strengths.iter().map(|(strength, _)| strength).sum();
            let prior = cause.words().prior * lookalike::factor(cause, checked, derived);
            strengths.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
            Finding {
                cause,
                weight: prior * libm::exp(TEMPER * sum),
                evidence: strengths
                    .into_iter()
                    .map(|(s, seen)| (seen, speaks(s)))
                    .collect(),
                metering,
            }
        })
        .collect();

    let total: f64 = findings.iter().map(|finding| finding.weight).sum();
    for finding in &mut findings {
        finding.weight /= total;
    }
    findings.sort_by(|a, b| {
        b.weight
            .total_cmp(&a.weight)
            .then_with(|| a.cause.words().order.cmp(&b.cause.words().order))
    });
    findings
}

/// A sign counts when it moves a cause's odds by a quarter or more.
fn speaks(strength: f64) -> Speaks {
    if strength > 0.22 {
        Speaks::For
    } else if strength < -0.22 {
        Speaks::Against
    } else {
        Speaks::Neither
    }
}

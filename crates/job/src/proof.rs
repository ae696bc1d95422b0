//! Proof: superheat and subcooling both shown to be in their bands, or what is still missing.

use crate::job::Job;
use crate::log::{What, counted};
use diagnosis::{Assessment, Metering, Pedigree, Verdict};

/// How far one of the two is proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Proved {
    /// In band, and the tools are good enough to say so.
    Proved,
    /// The number stands in the band; the tools leave room for doubt.
    InBandAsRead,
    /// In a band that is only a rule of thumb: a look, not a pass.
    RuleOfThumbOnly,
    /// Outside its band, or outside it as read.
    Outside,
    /// Still moving, or not enough readings to say.
    NotSettled,
    /// Not measured.
    NotMeasured,
}

impl Proved {
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Proved => "proved",
            Self::InBandAsRead => "in-band-as-read",
            Self::RuleOfThumbOnly => "rule-of-thumb-only",
            Self::Outside => "outside",
            Self::NotSettled => "not-settled",
            Self::NotMeasured => "not-measured",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Proved => "Proved in band",
            Self::InBandAsRead => "In band as read; these tools cannot prove it",
            Self::RuleOfThumbOnly => "In a rule-of-thumb band: not a pass",
            Self::Outside => "Outside its band",
            Self::NotSettled => "Not settled yet",
            Self::NotMeasured => "Not measured",
        }
    }
    /// Whether it may be signed for.
    pub const fn holds(self) -> bool {
        matches!(self, Self::Proved | Self::InBandAsRead)
    }
}

/// What is proved and what is not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// Superheat.
    pub superheat: Proved,
    /// Subcooling. On a fixed orifice it is only looked at.
    pub subcooling: Proved,
    /// The charge was changed after the last reading: go back to superheat.
    pub charge_changed_since: bool,
    /// Not every check of Look first holds: what was read may mean something else.
    pub look_first_open: bool,
}

impl Proof {
    /// Whether both hold and nothing was changed since.
    pub const fn holds(&self) -> bool {
        self.superheat.holds()
            && self.subcooling.holds()
            && !self.charge_changed_since
            && !self.look_first_open
    }
}

impl Job {
    /// How far this job is proved, by its newest kept reading.
    pub fn proof(&self, now_ms: i64) -> Proof {
        let said = self
            .readings()
            .next_back()
            .and_then(|(_, draft)| self.assess(draft));
        let charge_changed_since = counted(&self.log)
            .rev()
            .find_map(|line| match line.what {
                What::Charge { .. } => Some(true),
                What::Reading(_) => Some(false),
                _ => None,
            })
            .unwrap_or(false);
        let stem = self.stem(now_ms);
        let by_readings = stem
            .advice
            .as_ref()
            .is_some_and(|advice| advice.wait == Some(coach::Wait::Settled));
        let settled = by_readings && !stem.is_waiting();
        let (superheat, subcooling) = said
            .map_or((Proved::NotMeasured, Proved::NotMeasured), |said| {
                (superheat(&said, settled), self.subcooling(&said))
            });
        Proof {
            superheat,
            subcooling,
            charge_changed_since,
            look_first_open: self.open_checks().next().is_some(),
        }
    }

    fn subcooling(&self, said: &Assessment) -> Proved {
        let derived = &said.derived;
        let Some(subcooling) = derived.subcooling else {
            return Proved::NotMeasured;
        };
        let target = derived.subcooling_target;
        // A fixed orifice is charged by superheat; its subcooling only must not look starved or
        // stacked.
        let orifice = self.choices.metering == Some(Metering::FixedOrifice);
        judged(
            subcooling.against(&target),
            (target.low..=target.high).contains(&subcooling.value),
            target.pedigree == Pedigree::RuleOfThumb && !orifice,
        )
    }
}

fn superheat(said: &Assessment, settled: bool) -> Proved {
    let derived = &said.derived;
    let Some(superheat) = derived.superheat else {
        return Proved::NotMeasured;
    };
    if said.alarm.is_some() || !derived.superheat_target_known {
        return Proved::Outside;
    }
    let target = derived.superheat_target;
    let inside = (target.low..=target.high).contains(&superheat.value);
    if inside && !settled {
        return Proved::NotSettled;
    }
    judged(
        superheat.against(&target),
        inside,
        target.pedigree == Pedigree::RuleOfThumb,
    )
}

const fn judged(verdict: Verdict, inside: bool, rule_of_thumb: bool) -> Proved {
    match (verdict, inside, rule_of_thumb) {
        (_, false, _) => Proved::Outside,
        (_, true, true) => Proved::RuleOfThumbOnly,
        (Verdict::InBand, true, false) => Proved::Proved,
        (_, true, false) => Proved::InBandAsRead,
    }
}

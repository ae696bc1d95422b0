//! The charge guard: add, remove, leave, recharge or unknown, and why.
//!
//! Order matters and is the safety of it: what forbids comes before what allows.

use crate::alarm::Alarm;
use crate::band::{Pedigree, Target, Verdict};
use crate::cause::Cause;
use crate::derived::{Derived, GOOD_ENOUGH_PSI, ON_CHART_PSI, Standing};
use crate::doubt::Doubt;
use crate::rank::Finding;
use crate::setup::{Metering, Setup};
use crate::sign::{Observation, Reads, Sign};

/// What may be done to the charge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ChargeAdvice {
    /// Add by weight, in small amounts.
    Add,
    /// Recover by weight, in small amounts.
    Remove,
    /// Leave it.
    Leave,
    /// Recover all of it, evacuate, weigh in the plate charge.
    Recharge,
    /// It cannot be said.
    Unknown,
}

impl ChargeAdvice {
    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Add => "add",
            Self::Remove => "remove",
            Self::Leave => "leave",
            Self::Recharge => "recharge",
            Self::Unknown => "unknown",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Add => "Charge: may add",
            Self::Remove => "Charge: may remove",
            Self::Leave => "Charge: leave it",
            Self::Recharge => "Charge: recover all, evacuate, weigh in",
            Self::Unknown => "Charge: cannot say",
        }
    }
}

macro_rules! reasons {
    ($($name:ident $key:literal $advice:ident $says:literal;)*) => {
        /// Why the guard says what it says.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum ChargeReason { $(#[doc = $says] $name,)* }

        impl ChargeReason {
            /// Every reason.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];
            /// Its name in files and on the command line.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$name => $key,)* }
            }
            /// The advice that it gives.
            pub const fn advice(self) -> ChargeAdvice {
                match self { $(Self::$name => ChargeAdvice::$advice,)* }
            }
            /// The reason in one sentence.
            pub const fn says(self) -> &'static str {
                match self { $(Self::$name => $says,)* }
            }
        }
    };
}
reasons! {
    StandingFails "standing-fails" Recharge
        "The standing pressure is off the chart: gas or another refrigerant. Adding or removing some of it cures nothing.";
    SuperheatUnderMinimum "superheat-under-minimum" Unknown
        "Superheat is under its minimum: protect the compressor first, charge later.";
    GateOpen "gate-open" Unknown
        "The checks before the stem do not hold yet: airflow and coils move every reading.";
    ReadingDoubted "reading-doubted" Unknown
        "These pressures cannot be believed as entered.";
    Unsteady "unsteady" Unknown
        "The needle swings: no single reading says what the charge is.";
    NotRead "not-read" Unknown
        "What the charge is judged by was not read.";
    NoWeatherTarget "no-weather-target" Unknown
        "At this load and outdoor air no target superheat of 5 °F or more exists: weigh the charge in instead.";
    TargetIsRuleOfThumb "target-is-rule-of-thumb" Unknown
        "The target is only a rule of thumb: find the plate or the maker's chart before touching the charge.";
    ToolsCannotTell "tools-cannot-tell" Unknown
        "The error band crosses the target's edge: these tools cannot tell.";
    InBand "in-band" Leave
        "It stands in its band. High superheat with this is not a charge fault.";
    SubcoolingNotLow "subcooling-not-low" Leave
        "Superheat is high but subcooling is not low: the coil is starved by something else. Never add to it.";
    HotEnteringAir "hot-entering-air" Leave
        "Hot air is drawn round the condenser and lifts the head. Clear the air, then read again.";
    DirtyFirst "dirty-first" Unknown
        "The condenser may be dirty or its fan weak: clean, then read again.";
    LiquidBacksUp "liquid-backs-up" Leave
        "Superheat is high too: liquid stands behind a valve or a block. Clear the feed first.";
    GasNotRuledOut "gas-not-ruled-out" Unknown
        "Gas paints the same picture as overcharge: do the standing test first.";
    CausesCompete "causes-compete" Unknown
        "Another cause fits these readings as well: settle that first.";
    PlantDisagrees "plant-disagrees" Unknown
        "By the table the charge is at fault; by the model of the plant something else is likelier. Settle that first.";
    LowAndConsistent "low-and-consistent" Add
        "Under target beyond the tools' error, and every other sign agrees. Find the leak, add by weight, read superheat again.";
    HighAndConsistent "high-and-consistent" Remove
        "Over target beyond the tools' error, and gas, dirt and hot air do not explain it. Recover by weight, read superheat again.";
}

impl ChargeReason {
    /// What is left of it when the model of the plant objects: an act on the charge is withheld.
    /// What already forbids stays as it is.
    pub const fn withheld(self) -> Self {
        match self.advice() {
            ChargeAdvice::Add | ChargeAdvice::Remove => Self::PlantDisagrees,
            ChargeAdvice::Leave | ChargeAdvice::Recharge | ChargeAdvice::Unknown => self,
        }
    }
}

/// What the guard looks at.
pub(crate) struct Seen<'a> {
    pub setup: &'a Setup,
    pub derived: &'a Derived,
    pub doubts: &'a [Doubt],
    pub alarm: Option<Alarm>,
    pub observations: &'a [Observation],
    pub findings: &'a [Finding],
}

/// Swing of superheat over a minute beyond which no reading is steady, °F: twice the usual scatter
/// of a quiet system by hand. Common practice, no source.
const STEADY_SWING_F: f64 = 4.0;
/// A rival this likely, beside the favoured cause, stops the hand on the cylinder.
const RIVAL: f64 = 0.25;
/// Gas at this share of overcharge's weight is still in play.
const GAS_IN_PLAY: f64 = 0.05;
/// A cause must be at least this likely to act on the charge for it.
const LIKELY: f64 = 0.5;

/// The guard's reason; its advice is part of the reason.
pub(crate) fn guard(seen: &Seen) -> ChargeReason {
    forbids(seen).unwrap_or_else(|| match seen.setup.metering {
        Metering::FixedOrifice => by_superheat(seen),
        _ => by_subcooling(seen),
    })
}

fn forbids(seen: &Seen) -> Option<ChargeReason> {
    use ChargeReason::*;
    let voided = seen.doubts.iter().any(Doubt::voids_pressures);
    let off_chart = seen
        .derived
        .standing
        .as_ref()
        .is_some_and(Standing::is_off_chart);
    let unsteady = seen
        .derived
        .superheat_swing
        .is_some_and(|(low, high)| (high - low).f().abs() > STEADY_SWING_F);
    [
        (off_chart, StandingFails),
        (voided, ReadingDoubted),
        (seen.alarm.is_some(), SuperheatUnderMinimum),
        (!seen.setup.gate.held, GateOpen),
        (unsteady, Unsteady),
    ]
    .into_iter()
    .find_map(|(holds, reason)| holds.then_some(reason))
}

/// A valve: charge by subcooling.
fn by_subcooling(seen: &Seen) -> ChargeReason {
    let Some(subcooling) = seen.derived.subcooling else {
        return ChargeReason::NotRead;
    };
    let target = &seen.derived.subcooling_target;
    match judged(subcooling.against(target), target) {
        // In band or above: either way the feed or the air comes first.
        Err(ChargeReason::ToolsCannotTell) if subcooling.lowest() >= target.low => {
            reversible_first(seen).unwrap_or(ChargeReason::ToolsCannotTell)
        }
        Err(reason) => reason,
        Ok(Verdict::Below) => low(seen),
        Ok(Verdict::Above) => high(seen),
        Ok(_) => ChargeReason::InBand,
    }
}

/// A fixed orifice: charge by superheat, with subcooling as the guard.
fn by_superheat(seen: &Seen) -> ChargeReason {
    let Some(superheat) = seen.derived.superheat else {
        return ChargeReason::NotRead;
    };
    if !seen.derived.superheat_target_known {
        return ChargeReason::NoWeatherTarget;
    }
    match judged(
        superheat.against(&seen.derived.superheat_target),
        &seen.derived.superheat_target,
    ) {
        Err(reason) => reason,
        Ok(Verdict::Above) => match reads(seen, Sign::Subcooling) {
            None => ChargeReason::NotRead,
            Some(Reads::Below) => low(seen),
            Some(Reads::CannotTell) if may_be_low(seen) => low(seen),
            Some(Reads::CannotTell) => ChargeReason::ToolsCannotTell,
            Some(Reads::Usual | Reads::Above) => ChargeReason::SubcoolingNotLow,
        },
        Ok(Verdict::Below) => high(seen),
        Ok(_) => ChargeReason::InBand,
    }
}

/// Without a plate only a rule of thumb judges an orifice's subcooling: not surely low is then no
/// bar, surely not low still is.
fn may_be_low(seen: &Seen) -> bool {
    let low = seen.derived.subcooling_target.low;
    let subcooling = seen.derived.subcooling;
    seen.setup.subcooling_target.is_none() && subcooling.is_some_and(|it| it.lowest() < low)
}

/// A verdict that may be acted on, or why not.
fn judged(verdict: Verdict, target: &Target) -> Result<Verdict, ChargeReason> {
    match (verdict, target.pedigree) {
        (_, Pedigree::RuleOfThumb) => Err(ChargeReason::TargetIsRuleOfThumb),
        (Verdict::CannotTell, _) => Err(ChargeReason::ToolsCannotTell),
        (verdict, _) => Ok(verdict),
    }
}

fn low(seen: &Seen) -> ChargeReason {
    if weight(seen, Cause::LowCharge) >= LIKELY && rival(seen, Cause::LowCharge) < RIVAL {
        ChargeReason::LowAndConsistent
    } else {
        ChargeReason::CausesCompete
    }
}

fn high(seen: &Seen) -> ChargeReason {
    use ChargeReason::*;
    let gas = weight(seen, Cause::NonCondensables) + weight(seen, Cause::WrongRefrigerant);
    let overcharge = weight(seen, Cause::Overcharge);
    let on_chart = seen.derived.standing.is_some_and(|standing| {
        standing.off_chart.psi().abs() <= ON_CHART_PSI
            && standing.half_width.psi() <= GOOD_ENOUGH_PSI
    });
    if let Some(reason) = reversible_first(seen) {
        reason
    } else if weight(seen, Cause::CondenserFouled) >= RIVAL {
        DirtyFirst
    } else if overcharge + gas < LIKELY {
        CausesCompete
    } else if !on_chart && gas > GAS_IN_PLAY * overcharge {
        GasNotRuledOut
    } else if overcharge >= LIKELY && rival(seen, Cause::Overcharge) < RIVAL {
        HighAndConsistent
    } else {
        CausesCompete
    }
}

/// What comes before the charge because it is free and can be undone.
fn reversible_first(seen: &Seen) -> Option<ChargeReason> {
    if reads(seen, Sign::EnteringAirRise) == Some(Reads::Above) {
        Some(ChargeReason::HotEnteringAir)
    } else if reads(seen, Sign::Superheat) == Some(Reads::Above) {
        Some(ChargeReason::LiquidBacksUp)
    } else {
        None
    }
}

fn reads(seen: &Seen, sign: Sign) -> Option<Reads> {
    seen.observations
        .iter()
        .find(|observation| observation.sign == sign)
        .map(Observation::reads)
}

/// A cause's share among faults: the target is missed, so "nothing wrong" is no rival.
fn weight(seen: &Seen, cause: Cause) -> f64 {
    let of = |cause| {
        seen.findings
            .iter()
            .find(|finding| finding.cause == cause)
            .map_or(0.0, |found| found.weight)
    };
    of(cause) / (1.0 - of(Cause::NoFault)).max(f64::EPSILON)
}

fn rival(seen: &Seen, favoured: Cause) -> f64 {
    Cause::ALL
        .iter()
        .filter(|&&cause| cause != favoured && cause != Cause::NoFault)
        .map(|&cause| weight(seen, cause))
        .fold(0.0, f64::max)
}

//! The charge guard with the model beside it, and what a small step of charge would do.
//!
//! The model may hold a hand back, never loosen one: what the table forbids stays forbidden.

use diagnosis::{Assessment, Banded, Cause, ChargeAdvice, ChargeReason};
use quantity::TemperatureDifference;

use crate::class::scale;
use crate::judge::{State, share};
use crate::library::{Changes, MARKS, Model, STEP};

/// A cause of the charge must be at least this probable before the charge is touched for it.
/// Chosen on simulated calls so that harmful advice stays under one in a hundred.
const LIKELY: f64 = 0.8;
/// Gas or another refrigerant this probable forbids to remove. Judgement, no source.
const GAS: f64 = 0.05;

/// The most to add or take at once, share of the charge: some 5 to 7 °F of subcooling by the
/// project's model, so that half of it is seen in the next reading. Judgement, no source.
pub const LARGEST_STEP: f64 = 0.05;
/// The most at once by weight, ounces: common practice, no source.
pub const LARGEST_STEP_OZ: f64 = 8.0;
/// The least that a scale of the trade weighs truly, ounces: common practice, no source.
const SMALLEST_STEP_OZ: f64 = 1.0;
/// Standard deviations that hold nine in ten of a normal law.
const NINE_IN_TEN: f64 = 1.645;

/// A small step of charge and what it would do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proposal {
    /// Share of the right charge; added positive, recovered negative.
    pub share: f64,
    /// The same by weight, whole ounces, where the plate's charge is known.
    pub ounces: Option<f64>,
    /// Subcooling after it, settled. The band holds the tools' error and how units differ.
    pub subcooling: Option<Banded<TemperatureDifference>>,
    /// Superheat after it, settled.
    pub superheat: Option<Banded<TemperatureDifference>>,
}

/// The table's reason, or the model's objection to it.
pub(crate) fn guarded(reason: ChargeReason, probability: &impl Fn(Cause) -> f64) -> ChargeReason {
    let gas = probability(Cause::NonCondensables) + probability(Cause::WrongRefrigerant);
    let agrees = match reason.advice() {
        ChargeAdvice::Add => probability(Cause::LowCharge) >= LIKELY,
        ChargeAdvice::Remove => probability(Cause::Overcharge) >= LIKELY && gas < GAS,
        ChargeAdvice::Leave | ChargeAdvice::Recharge | ChargeAdvice::Unknown => true,
    };
    if agrees { reason } else { reason.withheld() }
}

/// A small step towards the target.
pub(crate) fn proposal(
    assessment: &Assessment,
    model: &Model,
    states: &[State],
    charge_oz: Option<f64>,
) -> Option<Proposal> {
    let (cause, sign) = match assessment.charge.advice() {
        ChargeAdvice::Add => (Cause::LowCharge, -1.0),
        ChargeAdvice::Remove => (Cause::Overcharge, 1.0),
        ChargeAdvice::Leave | ChargeAdvice::Recharge | ChargeAdvice::Unknown => return None,
    };
    let of = states.iter().filter(|state| state.class.first == cause);
    let state = of.max_by(|a, b| a.probability.total_cmp(&b.probability))?;
    let off = sign * scale(cause)?.at(share(state).0) / 100.0;
    let mut step = -off.clamp(-LARGEST_STEP, LARGEST_STEP);
    let ounces = charge_oz.filter(|oz| *oz > 0.0).map(|oz| {
        let wanted = (step.abs() * oz).min(LARGEST_STEP_OZ);
        let whole = libm::floor(wanted).max(SMALLEST_STEP_OZ).copysign(step);
        step = whole / oz;
        whole
    });
    let learned = &model.steps[usize::from(cause == Cause::Overcharge)];
    let after = |answer: usize, now: Option<Banded<TemperatureDifference>>| {
        let now = now?;
        let (change, spread) = at(&learned.changes[answer], &MARKS[answer], now.value.k());
        let part = step.abs() / STEP;
        let (tools, units) = (now.half_width.k(), NINE_IN_TEN * spread * part);
        Some(Banded {
            value: now.value + TemperatureDifference::from_k(change * part),
            half_width: TemperatureDifference::from_k((tools * tools + units * units).sqrt()),
        })
    };
    Some(Proposal {
        share: step,
        ounces,
        subcooling: after(0, assessment.derived.subcooling),
        superheat: after(1, assessment.derived.superheat),
    })
}

/// Mean and spread of a change at this reading: straight lines between the marks.
fn at(changes: &Changes, marks: &[f64; 8], now: f64) -> (f64, f64) {
    let above = marks.partition_point(|mark| *mark <= now);
    if above == 0 || above == marks.len() {
        return changes[above.saturating_sub(1)];
    }
    let (low, high) = (changes[above - 1], changes[above]);
    let part = (now - marks[above - 1]) / (marks[above] - marks[above - 1]);
    let between = |a: f64, b: f64| a + part * (b - a);
    (between(low.0, high.0), between(low.1, high.1))
}

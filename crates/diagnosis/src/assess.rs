//! The one entry: a setup and a reading in, everything that can be said of them out.

use crate::alarm::{Alarm, alarm};
use crate::checked::{Refusal, check};
use crate::derived::{Derived, derive};
use crate::doubt::{Doubt, doubts};
use crate::field::{Field, Kind};
use crate::guard::{ChargeAdvice, ChargeReason, Seen, guard};
use crate::rank::{Finding, rank};
use crate::reading::Reading;
use crate::setup::Setup;
use crate::sign::observe;

/// Everything that can be said of a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Assessment {
    /// Entries that could not be used, and why. They stay in the reading.
    pub refusals: Vec<Refusal>,
    /// Entries that were used and are questioned.
    pub doubts: Vec<Doubt>,
    /// Every number that follows, with its error band.
    pub derived: Derived,
    /// Floodback, if superheat is too low.
    pub alarm: Option<Alarm>,
    /// Every cause with its weight, best first; the weights sum to 1.
    pub findings: Vec<Finding>,
    /// What may be done to the charge, and why.
    pub charge: ChargeReason,
}

impl Assessment {
    /// What may be done to the charge.
    pub const fn charge_advice(&self) -> ChargeAdvice {
        self.charge.advice()
    }
}

/// Says everything that can be said of one reading.
///
/// Never fails: what cannot be used is named in `refusals`, what is odd in `doubts`, and the rest
/// is derived from what is left. Where the pressures cannot be believed (hoses swapped, compressor
/// off) the findings are weighed without them.
///
/// # Example
/// ```
/// use diagnosis::{assess, Cause, ChargeAdvice, Field, Gate, Metering, Pedigree, Reading, Setup, Target};
/// use refrigerant::Refrigerant;
/// let setup = Setup {
///     subcooling_target: Some(Target::from_f(7.0, 13.0, Pedigree::DataPlate)),
///     gate: Gate::HELD,
///     ..Setup::new(Refrigerant::R410A, Metering::AdjustableTxv)
/// };
/// // A starved coil with plenty of liquid behind the valve: not a charge fault.
/// let starved = Reading::of(&[
///     (Field::SuctionPressure, 92.0), (Field::SuctionLine, 62.0),
///     (Field::LiquidPressure, 340.0), (Field::LiquidLine, 93.0), (Field::LiquidLineEnd, 92.5),
/// ]);
/// let said = assess(&setup, &starved);
/// assert_eq!(said.findings[0].cause, Cause::ValveUnderfeeding);
/// assert_ne!(said.charge_advice(), ChargeAdvice::Add);
/// ```
pub fn assess(setup: &Setup, reading: &Reading) -> Assessment {
    let (checked, refusals) = check(setup, reading);
    let derived = derive(&checked);
    let doubts = doubts(reading, &checked, &derived);
    let voided = doubts.iter().any(Doubt::voids_pressures);
    // Neither signs nor the rules that part look-alikes may lean on such pressures.
    let weighed = if voided {
        let (checked, _) = check(setup, &without_running_pressures(reading));
        let derived = derive(&checked);
        (checked, derived)
    } else {
        (checked.clone(), derived.clone())
    };
    let observations = observe(&weighed.0, &weighed.1);
    let findings = rank(&weighed.0, &weighed.1, &observations);
    // Swapped hoses show a superheat far under zero: no liquid, and nothing to turn for.
    let alarm = alarm(setup, &derived).filter(|_| !voided);
    let charge = guard(&Seen {
        setup,
        derived: &derived,
        doubts: &doubts,
        alarm,
        observations: &observations,
        findings: &findings,
    });
    Assessment {
        refusals,
        doubts,
        derived,
        alarm,
        findings,
        charge,
    }
}

fn without_running_pressures(reading: &Reading) -> Reading {
    let mut left = reading.clone();
    for &field in Field::ALL {
        let pressure = matches!(field.row().kind, Kind::LowPressure | Kind::HighPressure);
        if pressure && field != Field::StandingPressure {
            left.set(field, None);
        }
    }
    left
}

//! What the job is, before anything is read: equipment, tools, targets, and whether the gate holds.

use crate::band::{Pedigree, Target};
use crate::instruments::Instruments;
use quantity::{AbsolutePressure, GaugeReference, PressureDifference, TemperatureDifference};
use refrigerant::Refrigerant;

/// What feeds the coil.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Metering {
    /// A thermostatic expansion valve with a stem to turn.
    AdjustableTxv,
    /// A thermostatic expansion valve without one.
    FixedTxv,
    /// An electronic expansion valve: its controller holds superheat.
    Electronic,
    /// A fixed orifice: charge sets superheat.
    FixedOrifice,
}

impl Metering {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 4] = [
        Self::AdjustableTxv,
        Self::FixedTxv,
        Self::Electronic,
        Self::FixedOrifice,
    ];

    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::AdjustableTxv => "txv",
            Self::FixedTxv => "txv-fixed",
            Self::Electronic => "eev",
            Self::FixedOrifice => "orifice",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::AdjustableTxv => "TXV, adjustable",
            Self::FixedTxv => "TXV, not adjustable",
            Self::Electronic => "Electronic valve",
            Self::FixedOrifice => "Fixed orifice",
        }
    }
    /// Whether a sensing bulb drives it.
    pub const fn has_bulb(self) -> bool {
        matches!(self, Self::AdjustableTxv | Self::FixedTxv)
    }
    /// Whether it answers superheat by itself.
    pub const fn holds_superheat(self) -> bool {
        !matches!(self, Self::FixedOrifice)
    }
}

/// Where suction pressure and temperature belong to: two different superheats.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum MeasuringPoint {
    /// At the sensing bulb, the evaporator outlet: the superheat the valve controls.
    #[default]
    Bulb,
    /// At the outdoor unit's service valve: what reaches the compressor.
    ServiceValve,
}

impl MeasuringPoint {
    /// Both, in the order they are offered.
    pub const ALL: [Self; 2] = [Self::Bulb, Self::ServiceValve];

    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Bulb => "bulb",
            Self::ServiceValve => "service-valve",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Bulb => "at the bulb",
            Self::ServiceValve => "at the service valve",
        }
    }
    /// At or under this superheat the alarm sounds, whatever the minimum is set to.
    ///
    /// # Source
    /// A unit maker's valve check (2 °F is low at the vapour valve corrected to the coil) and
    /// charging charts (never under 5 °F at the suction port); see DEVELOPERS.md.
    pub const fn alarm_superheat(self) -> TemperatureDifference {
        match self {
            Self::Bulb => TemperatureDifference::from_f(2.0),
            Self::ServiceValve => TemperatureDifference::from_f(5.0),
        }
    }
}

/// Whether the checks that come before the stem hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gate {
    /// All of them hold.
    pub held: bool,
    /// The bulb's place, contact, strap and insulation were seen to be right.
    pub bulb_seen_right: bool,
}

impl Gate {
    /// Everything was checked and holds.
    pub const HELD: Self = Self {
        held: true,
        bulb_seen_right: true,
    };
    /// Nothing was checked yet.
    pub const OPEN: Self = Self {
        held: false,
        bulb_seen_right: false,
    };
}

/// What the job is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setup {
    /// What is in the circuit, by its plate.
    pub refrigerant: Refrigerant,
    /// What feeds the coil.
    pub metering: Metering,
    /// Nominal capacity in tons of refrigeration (12 000 Btu/h each), if known.
    pub nominal_tons: Option<f64>,
    /// Where the suction readings belong to.
    pub point: MeasuringPoint,
    /// The point the superheat target is meant for.
    pub target_point: MeasuringPoint,
    /// Added to the suction gauge when the gauge is at the service valve and the thermometer at
    /// the bulb: the pressure lost along the suction line.
    pub line_loss: PressureDifference,
    /// What the gauges' zero stands on.
    pub gauge: GaugeReference,
    /// The air where the gauges are.
    pub local_air: AbsolutePressure,
    /// What the tools may be wrong by.
    pub instruments: Instruments,
    /// Superheat never to go under.
    pub minimum_superheat: TemperatureDifference,
    /// The maker's band for superheat, if known.
    pub superheat_target: Option<Target>,
    /// The plate's band for subcooling, if known.
    pub subcooling_target: Option<Target>,
    /// Whether the checks before the stem hold.
    pub gate: Gate,
}

/// Least superheat by default, at either point. No agreed figure exists; charging charts stop at
/// 5 °F (California RA3.2.2.6.1 step 3: no valid test under it).
pub const DEFAULT_MINIMUM_SUPERHEAT_F: f64 = 5.0;

impl Setup {
    /// A setup with the usual defaults: readings at the bulb, vented gauges at sea level, protocol
    /// instruments, no plate targets, gate not yet held.
    pub fn new(refrigerant: Refrigerant, metering: Metering) -> Self {
        Self {
            refrigerant,
            metering,
            nominal_tons: None,
            point: MeasuringPoint::Bulb,
            target_point: MeasuringPoint::Bulb,
            line_loss: PressureDifference::ZERO,
            gauge: GaugeReference::Vented,
            local_air: AbsolutePressure::STANDARD_ATMOSPHERE,
            instruments: Instruments::default(),
            minimum_superheat: TemperatureDifference::from_f(DEFAULT_MINIMUM_SUPERHEAT_F),
            superheat_target: None,
            subcooling_target: None,
            gate: Gate::OPEN,
        }
    }
}

/// The superheat band used where no maker's band is at hand.
///
/// # Source
/// At the bulb 8 to 12 °F: one unit maker's factory setting. At the service valve 7 to 14 °F: the
/// span of three unit makers' sheets. Other makers differ, so it is a rule of thumb.
pub const fn rule_of_thumb_superheat(point: MeasuringPoint) -> Target {
    match point {
        MeasuringPoint::Bulb => Target::from_f(8.0, 12.0, Pedigree::RuleOfThumb),
        MeasuringPoint::ServiceValve => Target::from_f(7.0, 14.0, Pedigree::RuleOfThumb),
    }
}

/// The subcooling band used where no plate is at hand.
///
/// # Source
/// The usual 10 °F with the code's ±3 °F for a valve; makers' sheets without a plate span 6 to
/// 15 °F. A fixed orifice has no subcooling target: 3 to 18 °F only tells starved from stacked
/// (common practice, no source).
pub const fn rule_of_thumb_subcooling(metering: Metering) -> Target {
    match metering {
        Metering::FixedOrifice => Target::from_f(3.0, 18.0, Pedigree::RuleOfThumb),
        _ => Target::from_f(7.0, 13.0, Pedigree::RuleOfThumb),
    }
}

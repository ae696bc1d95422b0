//! Why there is no system, or no answer.

use core::fmt;

use refrigerant::{OutsideStates, OutsideTable};

/// A value outside the range the model was made for. The limits are inclusive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// What was given, with its unit.
    pub quantity: &'static str,
    /// The value that was given.
    pub value: f64,
    /// The lowest that is accepted.
    pub low: f64,
    /// The highest that is accepted.
    pub high: f64,
}

/// One limit: what is limited, its value, lowest and highest.
pub(crate) type Limit = (&'static str, f64, f64, f64);

impl OutOfRange {
    /// The first row whose value is outside; not-a-number is outside.
    pub(crate) fn check(rows: &[Limit]) -> Result<(), Self> {
        let outside = rows
            .iter()
            .find(|(_, value, low, high)| !(low..=high).contains(&value));
        match outside.copied() {
            None => Ok(()),
            Some((quantity, value, low, high)) => Err(Self {
                quantity,
                value,
                low,
                high,
            }),
        }
    }
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            quantity,
            value,
            low,
            high,
        } = self;
        write!(f, "{quantity}: {value:.4} is outside {low} to {high}.")
    }
}

impl core::error::Error for OutOfRange {}

/// Why no system can be built from a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BuildError {
    /// One value is outside its range.
    OutOfRange(OutOfRange),
    /// The design point is outside the refrigerant's tables.
    Outside(OutsideStates),
    /// No coil or condenser, however large, reaches the design point: which one, and the share of
    /// the best possible that was asked for (1 or more, or below 0).
    Unreachable {
        /// `evaporator` or `condenser`.
        coil: &'static str,
        /// Effectiveness asked for.
        effectiveness: f64,
    },
    /// The compressor's map gives another size at the design point than the plate.
    MapAgainstPlate {
        /// Capacity with the flow of the map, tons.
        map_tons: f64,
        /// Nominal tons of the plate.
        plate_tons: f64,
    },
}

impl From<OutOfRange> for BuildError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}
impl From<OutsideStates> for BuildError {
    fn from(error: OutsideStates) -> Self {
        Self::Outside(error)
    }
}
impl From<OutsideTable> for BuildError {
    fn from(error: OutsideTable) -> Self {
        Self::Outside(error.into())
    }
}

impl fmt::Display for BuildError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange(error) => error.fmt(f),
            Self::Outside(error) => write!(f, "The design point cannot be computed: {error}."),
            Self::Unreachable {
                coil,
                effectiveness,
            } => write!(
                f,
                "No {coil} reaches the design point: it would need {effectiveness:.2} of the most \
                 that the air can do. Check tons, superheat, subcooling and air flow.",
            ),
            Self::MapAgainstPlate {
                map_tons,
                plate_tons,
            } => write!(
                f,
                "The compressor's coefficients give {map_tons:.1} tons, the plate says \
                 {plate_tons:.1}. Are the coefficients those of mass flow in lb/h, with °F?",
            ),
        }
    }
}

impl core::error::Error for BuildError {}

/// What the model solves for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unknown {
    /// Evaporating (dew) temperature, K: suction pressure.
    Evaporating,
    /// How far liquid reaches through the coil, 1 is full.
    LiquidFront,
    /// Condensing (bubble) temperature, K: head.
    Condensing,
    /// Temperature of the suction line at the bulb, K.
    CoilOutlet,
    /// Temperature of the bulb, K.
    Bulb,
    /// Temperature of the compressor's shell, K.
    Shell,
    /// Density before the valve over that of liquid: 1 without flash gas.
    FeedDensity,
    /// Feed on its way through the distributor, over design flow.
    FeedFirst,
    /// Feed that reaches the front, over design flow.
    FeedSecond,
    /// Integral of the electronic valve's controller, share of its travel.
    Controller,
    /// Liquid in the condenser, share of its tubes; a result of charge.
    CondenserLiquid,
    /// Vapour in the liquid that leaves a condenser short of charge, by mass.
    LeavingQuality,
    /// Superheat of the discharge gas, K.
    DischargeSuperheat,
    /// Liquid that leaves the coil, share of the flow.
    Floodback,
    /// Flow by the compressor's coefficients over design flow.
    MapFlow,
}

impl Unknown {
    /// A temperature out of its range is out of the model; the others have natural ends, such as an
    /// empty coil or a shut valve.
    pub(crate) const fn is_temperature(self) -> bool {
        matches!(
            self,
            Self::Evaporating | Self::Condensing | Self::CoilOutlet | Self::Bulb | Self::Shell
        )
    }

    /// Hangs on by the valve and its feed alone; the rest of the round does not see it.
    pub(crate) const fn is_of_the_valve(self) -> bool {
        matches!(
            self,
            Self::Bulb | Self::FeedDensity | Self::FeedFirst | Self::FeedSecond | Self::Controller
        )
    }

    /// In words, with its unit where it has one.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Evaporating => "evaporating temperature, K",
            Self::LiquidFront => "liquid front in the coil, share",
            Self::Condensing => "condensing temperature (head), K",
            Self::CoilOutlet => "suction line at the bulb, K",
            Self::Bulb => "bulb temperature, K",
            Self::Shell => "compressor shell, K",
            Self::FeedDensity => "feed density, share of liquid",
            Self::FeedFirst => "feed in the distributor, share of design",
            Self::FeedSecond => "feed at the front, share of design",
            Self::Controller => "controller of the electronic valve, share",
            Self::CondenserLiquid => "liquid in the condenser, share",
            Self::LeavingQuality => "vapour leaving the condenser, share",
            Self::DischargeSuperheat => "discharge superheat, K",
            Self::Floodback => "liquid out of the coil, share of the flow",
            Self::MapFlow => "flow by the compressor's coefficients, share of design",
        }
    }
}

/// Which end of a range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Bound {
    /// The lower.
    Low,
    /// The upper.
    High,
}

/// Why the model gives no operating point. Never a number in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoSolution {
    /// A fault, a setting or the weather is outside what the model was made for.
    OutOfRange(OutOfRange),
    /// An unknown ran out of the model.
    Beyond {
        /// Which.
        unknown: Unknown,
        /// Out of which end.
        bound: Bound,
        /// Where that end is, in the unit of [`Unknown::name`].
        limit: f64,
    },
    /// The plant does not come to rest from any start tried: its fastest unknown, and how fast it
    /// still changes for each second, in the unit of [`Unknown::name`].
    Restless {
        /// Which.
        unknown: Unknown,
        /// Change for each second.
        per_second: f64,
    },
}

impl NoSolution {
    /// The head ran out of the model: where a real system is stopped by its high-pressure switch.
    pub const fn is_head_beyond_model(self) -> bool {
        matches!(
            self,
            Self::Beyond {
                unknown: Unknown::Condensing,
                bound: Bound::High,
                ..
            }
        )
    }
}

impl From<OutOfRange> for NoSolution {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

impl fmt::Display for NoSolution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange(error) => error.fmt(f),
            Self::Beyond {
                unknown,
                bound,
                limit,
            } => {
                let side = match bound {
                    Bound::Low => "below",
                    Bound::High => "above",
                };
                write!(
                    f,
                    "{} runs {side} {limit:.2}, out of the model.",
                    unknown.name()
                )?;
                if self.is_head_beyond_model() {
                    write!(f, " A real system would stop at its high-pressure switch.")?;
                }
                Ok(())
            }
            Self::Restless {
                unknown,
                per_second,
            } => write!(
                f,
                "The plant finds no rest: {} still moves by {per_second:.2e} each second.",
                unknown.name()
            ),
        }
    }
}

impl core::error::Error for NoSolution {}

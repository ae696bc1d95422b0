//! What may be wrong with a state of air.

use core::fmt;

/// A value outside the range for which an equation holds. The limits are inclusive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// What was given, with its unit: `"altitude, ft"`.
    pub quantity: &'static str,
    /// The value that was given.
    pub value: f64,
    /// The lowest that is accepted.
    pub low: f64,
    /// The highest that is accepted.
    pub high: f64,
}

impl OutOfRange {
    /// The value itself when it lies within the limits; not-a-number never does.
    pub(crate) fn check(
        quantity: &'static str,
        value: f64,
        low: f64,
        high: f64,
    ) -> Result<f64, Self> {
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(Self {
                quantity,
                value,
                low,
                high,
            })
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

/// Why some readings are no state of air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AirError {
    /// One value is outside the range of the equations.
    OutOfRange(OutOfRange),
    /// The wet bulb reads above the dry bulb, which no air can do.
    WetAboveDry {
        /// Dry bulb, °F.
        dry_f: f64,
        /// Wet bulb, °F.
        wet_f: f64,
    },
    /// So low a wet bulb would need less than no water in the air.
    WetBulbTooLow {
        /// Dry bulb, °F.
        dry_f: f64,
        /// Wet bulb, °F.
        wet_f: f64,
    },
    /// More water than air can hold as vapour at this temperature and pressure.
    Supersaturated {
        /// The humidity ratio that was given, kg water per kg dry air.
        ratio: f64,
        /// The most that this air can hold.
        most: f64,
    },
    /// At this pressure water boils below this temperature: there is no saturated air.
    Boils {
        /// The temperature, °F.
        temperature_f: f64,
        /// The air pressure, psia.
        pressure_psia: f64,
    },
}

impl From<OutOfRange> for AirError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

impl fmt::Display for AirError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange(error) => error.fmt(f),
            Self::WetAboveDry { dry_f, wet_f } => write!(
                f,
                "Wet bulb {wet_f:.1} °F is above dry bulb {dry_f:.1} °F. Are the two swapped?"
            ),
            Self::WetBulbTooLow { dry_f, wet_f } => write!(
                f,
                "Wet bulb {wet_f:.1} °F is lower than the driest air at {dry_f:.1} °F can give. \
                 Check both thermometers."
            ),
            Self::Supersaturated { ratio, most } => {
                write!(
                    f,
                    "Humidity ratio {ratio:.5} is above {most:.5}, the most this air holds."
                )
            }
            Self::Boils {
                temperature_f,
                pressure_psia,
            } => {
                write!(
                    f,
                    "Water boils below {temperature_f:.1} °F at {pressure_psia:.3} psia."
                )
            }
        }
    }
}

impl core::error::Error for AirError {}

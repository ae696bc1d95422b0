//! What cannot be done now, and why.

use core::fmt;

/// Why an action was refused. The session is as it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refused {
    /// The case is over.
    Over,
    /// The plant was stopped by a safety switch.
    Stopped,
    /// The plant runs: there is nothing to start.
    Runs,
    /// The gauges are not connected.
    GaugesFirst,
    /// There is no stem on this device.
    NoStem,
    /// There is no bulb on this device.
    NoBulb,
    /// A step is a quarter to two turns.
    Step {
        /// What was asked, quarters.
        quarters: i32,
    },
    /// A weight is over 0 and at most 64 oz.
    Weight {
        /// What was asked, ounces.
        ounces: f64,
    },
    /// There would be less in it than a plant can run on, or more than it can hold.
    Charge,
    /// A wait is at most four hours, and a visit at most a day.
    TooLong,
    /// A call names a cause once, and at most four.
    Call,
}

impl Refused {
    /// Its name in files.
    pub const fn key(&self) -> &'static str {
        match self {
            Self::Over => "over",
            Self::Stopped => "stopped",
            Self::Runs => "runs",
            Self::GaugesFirst => "gauges-first",
            Self::NoStem => "no-stem",
            Self::NoBulb => "no-bulb",
            Self::Step { .. } => "step",
            Self::Weight { .. } => "weight",
            Self::Charge => "charge",
            Self::TooLong => "too-long",
            Self::Call => "call",
        }
    }
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Over => f.write_str("The case is over; begin another."),
            Self::Stopped => f.write_str(
                "A safety switch has stopped the plant. Find out why, mend it, then start it again.",
            ),
            Self::Runs => f.write_str("The plant runs; there is nothing to start."),
            Self::GaugesFirst => f.write_str("Connect the gauges first."),
            Self::NoStem => f.write_str("This metering device has no stem to turn."),
            Self::NoBulb => f.write_str("This metering device has no bulb."),
            Self::Step { quarters } => write!(
                f,
                "{quarters} quarter turns in one step. A step is 1 to 8, clockwise positive."
            ),
            Self::Weight { ounces } => write!(
                f,
                "{ounces} oz in one weighing. A weighing is over 0 and at most 64 oz."
            ),
            Self::Charge => f.write_str(
                "The plant cannot hold more than 160 % of its charge, nor run on less than 40 %.",
            ),
            Self::TooLong => f.write_str("A wait is at most 4 hours, a visit at most 24."),
            Self::Call => f.write_str("Name each cause once, four at most."),
        }
    }
}

impl core::error::Error for Refused {}

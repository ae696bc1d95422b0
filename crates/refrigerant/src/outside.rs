//! The one way a property can be refused: it lies outside the table.

use core::fmt;

use quantity::{AbsolutePressure, Temperature};

use crate::{Line, Refrigerant};

/// A request outside the table of a saturation line. It holds what was asked and both limits; a
/// number that is not a number is outside too.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OutsideTable {
    /// The pressure asked for is outside.
    Pressure {
        /// Whose table.
        refrigerant: Refrigerant,
        /// Which line of it.
        line: Line,
        /// What was asked for.
        asked: AbsolutePressure,
        /// The lowest pressure the table knows.
        lowest: AbsolutePressure,
        /// The highest pressure the table knows.
        highest: AbsolutePressure,
    },
    /// The temperature asked for is outside.
    Temperature {
        /// Whose table.
        refrigerant: Refrigerant,
        /// Which line of it.
        line: Line,
        /// What was asked for.
        asked: Temperature,
        /// The lowest temperature the table knows.
        lowest: Temperature,
        /// The highest temperature the table knows.
        highest: Temperature,
    },
}

impl fmt::Display for OutsideTable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Pressure {
                refrigerant,
                line,
                asked,
                lowest,
                highest,
            } => write!(
                f,
                "{:.1} psia is outside the {} line of {}, which runs from {:.1} to {:.1} psia. \
                 Check the refrigerant and which hose is on which port.",
                asked.psia(),
                line.key(),
                refrigerant.name(),
                lowest.psia(),
                highest.psia(),
            ),
            Self::Temperature {
                refrigerant,
                line,
                asked,
                lowest,
                highest,
            } => write!(
                f,
                "{:.1} °F is outside the {} line of {}, which runs from {:.0} to {:.0} °F. \
                 Check the refrigerant and the unit of the temperature.",
                asked.f(),
                line.key(),
                refrigerant.name(),
                lowest.f(),
                highest.f(),
            ),
        }
    }
}

impl core::error::Error for OutsideTable {}

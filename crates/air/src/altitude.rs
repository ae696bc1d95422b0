//! The air pressure that goes with an altitude.

use quantity::AbsolutePressure;

use crate::OutOfRange;

/// Metres in one foot, exact. NIST SP 811 (2008), B.8.
const FOOT: f64 = 0.3048;
/// Below the lowest dry land (about -1400 ft), so that no place is turned away.
const LOWEST_FT: f64 = -1_500.0;
/// Within the lower atmosphere, for which equation 3 is printed (to 36 000 ft).
const HIGHEST_FT: f64 = 30_000.0;

/// Height above mean sea level. Held in metres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Altitude(f64);

impl Altitude {
    /// Sea level.
    pub const SEA_LEVEL: Self = Self(0.0);
    /// From feet.
    pub const fn from_ft(feet: f64) -> Self {
        Self(feet * FOOT)
    }
    /// From metres.
    pub const fn from_m(metres: f64) -> Self {
        Self(metres)
    }
    /// In feet.
    pub const fn ft(self) -> f64 {
        self.0 / FOOT
    }
    /// In metres.
    pub const fn m(self) -> f64 {
        self.0
    }
}

/// The pressure of the standard atmosphere at an altitude. Weather moves the true value by a few
/// per cent; a barometer that reads the pressure of the place is better.
///
/// `p = 101.325 kPa (1 - 2.25577e-5 Z)^5.2559`, `Z` in metres.
///
/// Range: -1500 to 30 000 ft.
///
/// # Errors
/// [`OutOfRange`] beyond that, with both limits in feet.
///
/// # Source
/// ASHRAE Handbook Fundamentals (2017), chapter 1, equation 3.
///
/// # Example
/// ```
/// use air::{Altitude, standard_atmosphere};
/// // Table 1 of the same chapter.
/// assert!((standard_atmosphere(Altitude::from_m(1000.0))?.pa() - 89_875.0).abs() < 1.0);
/// assert!(standard_atmosphere(Altitude::from_ft(40_000.0)).is_err());
/// # Ok::<(), air::OutOfRange>(())
/// ```
pub fn standard_atmosphere(altitude: Altitude) -> Result<AbsolutePressure, OutOfRange> {
    // A limit typed in feet must not fall out by the rounding of its metres.
    let rounded_ft = libm::round(altitude.ft() * 1000.0) / 1000.0;
    OutOfRange::check("altitude, ft", rounded_ft, LOWEST_FT, HIGHEST_FT)?;
    let kept = 1.0 - 2.255_77e-5 * altitude.m();
    Ok(AbsolutePressure::from_kpa(
        101.325 * libm::pow(kept, 5.2559),
    ))
}

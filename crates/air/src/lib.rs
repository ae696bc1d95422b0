//! Moist air and the air pressure at an altitude, by the equations of the ASHRAE Handbook.
//!
//! Where to start: [`standard_atmosphere`] turns an [`Altitude`] into the local air pressure, and
//! [`MoistAir::from_dry_and_wet_bulb`] turns what two thermometers say into everything else.
//!
//! ```
//! use air::{Altitude, MoistAir, standard_atmosphere};
//! use quantity::Temperature;
//!
//! let pressure = standard_atmosphere(Altitude::from_ft(1000.0))?;
//! let indoors = MoistAir::from_dry_and_wet_bulb(
//!     Temperature::from_f(80.0),
//!     Temperature::from_f(67.0),
//!     pressure,
//! )?;
//! assert!(indoors.dew_point() < indoors.wet_bulb());
//! # Ok::<(), air::AirError>(())
//! ```
//!
//! # Source
//! ASHRAE Handbook Fundamentals (2017), chapter 1, equations 3 (atmosphere), 5 and 6 (Hyland and
//! Wexler's saturation pressure), 20, 26, 30, 33 and 35. Checked against that chapter's tables 1
//! to 3 and its example in `tests/published.rs`. Perfect-gas mixing without an enhancement factor,
//! as the chapter's own equations: humidity ratio is about 0.5 % under its tables.

mod altitude;
mod error;
mod moist;
mod vapour;

pub use altitude::{Altitude, standard_atmosphere};
pub use error::{AirError, OutOfRange};
pub use moist::{MoistAir, SpecificEnthalpy};
pub use vapour::{humidity_ratio, saturation_vapour_pressure};

//! Units: what a number means, and which numbers may meet.
//!
//! Where to start: [`Temperature`] and [`TemperatureDifference`] are different types, and so are
//! [`GaugePressure`], [`AbsolutePressure`] and [`PressureDifference`]. Adding two temperatures, or
//! a gauge pressure to an absolute one, does not compile:
//!
//! ```compile_fail
//! use quantity::Temperature;
//! let nonsense = Temperature::from_f(40.0) + Temperature::from_f(50.0);
//! ```
//!
//! ```compile_fail
//! use quantity::{AbsolutePressure, GaugePressure};
//! let nonsense = AbsolutePressure::from_psia(14.7) + GaugePressure::from_psig(118.0);
//! ```
//!
//! Inside: kelvin and pascal. At the edges the unit stands in the name of the function.

mod pressure;
mod shown;
mod temperature;

pub use pressure::{AbsolutePressure, GaugePressure, GaugeReference, PressureDifference};
pub use shown::{PressureUnit, TemperatureUnit, Units, tenth};
pub use temperature::{Temperature, TemperatureDifference};

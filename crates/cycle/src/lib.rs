//! The plant: valve, bulb, coils, compressor, lines and charge of a split air conditioner, at rest
//! and in time. Knows nothing of what a person read.
//!
//! Where to start: a [`Plate`] (what a technician can give) makes a [`System`];
//! [`System::steady`] gives the [`Point`] at which it rests in some [`Weather`] with some
//! [`Faults`]; a [`Run`] is the same plant in time.

mod charge;
mod compressor;
mod condenser;
mod design;
mod eigen;
mod error;
mod evaporator;
mod faults;
mod fluid;
mod plant;
mod plate;
mod point;
mod round;
mod run;
mod smooth;
mod stability;
mod steady;
mod system;
mod valve;
mod weather;

pub use compressor::Coefficients;
pub use error::{Bound, BuildError, NoSolution, OutOfRange, Unknown};
pub use faults::Faults;
pub use plate::{Equalizer, LineSet, Metering, Plate, Traits};
pub use point::{Corner, Point};
pub use run::{Run, Tail};
pub use stability::Stability;
pub use steady::Rested;
pub use system::System;
pub use weather::{Weather, WeatherError};

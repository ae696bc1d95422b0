//! What a refrigerant does at a pressure or a temperature. Knows no machine.
//!
//! Where to start: [`Refrigerant`], then [`SaturationLine`] from [`Refrigerant::dew`] (superheat)
//! or [`Refrigerant::bubble`] (subcooling). For a model of a plant: [`State`] from
//! [`Refrigerant::vapour`] and [`Refrigerant::saturated_liquid`].
//!
//! ```
//! use quantity::AbsolutePressure;
//! use refrigerant::Refrigerant;
//! let suction = AbsolutePressure::from_psia(80.0 + 14.696);
//! let dew = Refrigerant::R407C.dew().temperature(suction)?;
//! assert!((dew.f() - 50.8).abs() < 0.2);
//! // A request outside the table is an error that holds the limits, never a guess.
//! assert!(Refrigerant::R22.dew().temperature(AbsolutePressure::from_psia(900.0)).is_err());
//! # Ok::<(), refrigerant::OutsideTable>(())
//! ```

mod chebyshev;
mod line;
mod name;
mod outside;
mod state;
// The generator lays the numbers out.
#[rustfmt::skip]
mod state_table;
#[rustfmt::skip]
mod table;

pub use line::{Limits, Line, SaturationLine};
pub use name::{Refrigerant, SafetyClass};
pub use outside::OutsideTable;
pub use state::{OutsideStates, State};

//! The air on both sides.

use core::fmt;

use air::{AirError, MoistAir};
use quantity::{AbsolutePressure, Temperature};

use crate::error::OutOfRange;

/// Rows of the saturated-air table, K: from an iced coil to the warmest evaporator.
const COLDEST: f64 = 230.0;
const ROWS: usize = 101;

/// What surrounds a system. Open air is what is read in open shade; the condenser may breathe
/// warmer air, see [`crate::Faults::recirculation`].
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    outdoor: Temperature,
    indoor: MoistAir,
    /// Enthalpy of saturated air, J per kg dry, a row for each kelvin.
    saturated: [f64; ROWS],
}

/// Why this is no weather for the model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WeatherError {
    /// The return air cannot exist.
    Air(AirError),
    /// A value is outside what the model was made for.
    OutOfRange(OutOfRange),
}

impl From<AirError> for WeatherError {
    fn from(error: AirError) -> Self {
        Self::Air(error)
    }
}
impl From<OutOfRange> for WeatherError {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}
impl fmt::Display for WeatherError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Air(error) => error.fmt(f),
            Self::OutOfRange(error) => error.fmt(f),
        }
    }
}
impl core::error::Error for WeatherError {}

fn check_air(outdoor: Temperature, return_dry: Temperature) -> Result<(), OutOfRange> {
    OutOfRange::check(&[
        ("outdoor air, °F", outdoor.f(), 50.0, 130.0),
        ("return dry bulb, °F", return_dry.f(), 55.0, 110.0),
    ])
}

impl Weather {
    /// From four thermometers' worth of air.
    ///
    /// - `outdoor`: dry bulb of the open air, 50 to 130 °F.
    /// - `return_dry`, `return_wet`: air on its way to the indoor coil, 55 to 110 °F dry.
    /// - `pressure`: of the local air, 60 to 110 kPa.
    ///
    /// # Errors
    /// [`WeatherError`] when the return air cannot exist or a value is out of range.
    pub fn new(
        outdoor: Temperature,
        return_dry: Temperature,
        return_wet: Temperature,
        pressure: AbsolutePressure,
    ) -> Result<Self, WeatherError> {
        check_air(outdoor, return_dry)?;
        OutOfRange::check(&[("local air pressure, kPa", pressure.kpa(), 60.0, 110.0)])?;
        let mut saturated = [0.0; ROWS];
        for (row, place) in saturated.iter_mut().enumerate() {
            let t = Temperature::from_k(COLDEST + row as f64);
            *place = MoistAir::saturated(t, pressure)?.enthalpy().j_per_kg();
        }
        let indoor = MoistAir::from_dry_and_wet_bulb(return_dry, return_wet, pressure)?;
        Ok(Self {
            outdoor,
            indoor,
            saturated,
        })
    }

    /// Other air under the same pressure, as [`Self::new`]; cheaper.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn with(
        &self,
        outdoor: Temperature,
        return_dry: Temperature,
        return_wet: Temperature,
    ) -> Result<Self, WeatherError> {
        check_air(outdoor, return_dry)?;
        let pressure = self.indoor.pressure();
        Ok(Self {
            outdoor,
            indoor: MoistAir::from_dry_and_wet_bulb(return_dry, return_wet, pressure)?,
            saturated: self.saturated,
        })
    }

    /// At sea level, in °F: outdoor dry bulb, return dry and wet bulb.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn at_sea_level_f(outdoor: f64, dry: f64, wet: f64) -> Result<Self, WeatherError> {
        let [outdoor, dry, wet] = [outdoor, dry, wet].map(Temperature::from_f);
        Self::new(outdoor, dry, wet, AbsolutePressure::STANDARD_ATMOSPHERE)
    }

    /// Dry bulb of the open air.
    pub fn outdoor(&self) -> Temperature {
        self.outdoor
    }

    /// Air on its way to the indoor coil.
    pub fn indoor(&self) -> &MoistAir {
        &self.indoor
    }

    /// Enthalpy of saturated air, J per kg dry; held inside the table.
    pub(crate) fn saturated(&self, kelvin: f64) -> f64 {
        let steps = (kelvin - COLDEST).clamp(0.0, (ROWS - 1) as f64);
        let row = (steps as usize).min(ROWS - 2);
        let [low, high] = [self.saturated[row], self.saturated[row + 1]];
        low + (steps - row as f64) * (high - low)
    }

    /// Temperature (K) of saturated air with this enthalpy; held inside the table.
    pub(crate) fn saturation_of(&self, enthalpy: f64) -> f64 {
        let above = self.saturated.partition_point(|row| *row <= enthalpy);
        let row = above.clamp(1, ROWS - 1) - 1;
        let [low, high] = [self.saturated[row], self.saturated[row + 1]];
        COLDEST + row as f64 + ((enthalpy - low) / (high - low)).clamp(0.0, 1.0)
    }
}

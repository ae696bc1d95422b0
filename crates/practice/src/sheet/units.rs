//! The units that a person reads, as the page names them.

use job::Measure;
use quantity::{PressureUnit, TemperatureUnit, Units};
use serde::Deserialize;

/// The signs of both units: `{"pressure": "psi", "temperature": "°F"}`. What is not known is the usual.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
pub(crate) struct Shown {
    #[serde(default)]
    pressure: String,
    #[serde(default)]
    temperature: String,
}

impl Shown {
    /// As types.
    pub(crate) fn units(&self) -> Units {
        let pressures = [PressureUnit::Kilopascal, PressureUnit::Bar];
        let pressure = pressures
            .into_iter()
            .find(|unit| unit.difference_sign() == self.pressure);
        let celsius = self.temperature == TemperatureUnit::Celsius.sign();
        Units {
            pressure: pressure.unwrap_or(PressureUnit::Psi),
            temperature: if celsius {
                TemperatureUnit::Celsius
            } else {
                TemperatureUnit::Fahrenheit
            },
        }
    }
}

/// From one to another.
pub(super) fn band(measure: Measure, low: f64, high: f64, units: Units) -> String {
    format!(
        "{} to {}",
        measure.digits(low, units),
        measure.says(high, units)
    )
}

//! A number as it was typed: kept letter by letter, with the units that stood beside it.

use crate::measure::Measure;
use crate::number::{NumberFault, read_number};
use quantity::{PressureUnit, TemperatureUnit, Units};
use serde::{Deserialize, Serialize};

/// What was typed, and in which units. Switching units never changes it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Typed {
    /// Letter by letter.
    pub text: String,
    #[serde(with = "units_by_key")]
    units: Units,
}

/// Why an entry cannot be used as it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EntryFault {
    /// It is not one number.
    Number(NumberFault),
    /// It is outside what can be; limits and value in the key unit.
    OutOfRange {
        /// What was read.
        value: f64,
        /// Lowest usable.
        low: f64,
        /// Highest usable.
        high: f64,
    },
}

impl EntryFault {
    /// What is wrong, the range, and what to do, in the units shown.
    pub fn says(&self, measure: Measure, units: Units) -> String {
        match *self {
            Self::Number(fault) => fault.says().to_owned(),
            Self::OutOfRange { low, high, .. } => format!(
                "Outside {} to {}. Check the number and its unit.",
                measure.digits(low, units),
                measure.says(high, units)
            ),
        }
    }
}

impl Typed {
    /// From what was typed and the units shown beside it.
    pub fn new(text: &str, units: Units) -> Self {
        Self {
            text: text.to_owned(),
            units,
        }
    }

    /// Whether there is nothing in it.
    pub fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }

    /// As a number in the key unit.
    ///
    /// # Errors
    /// The [`NumberFault`] of its text.
    pub fn value(&self, measure: Measure) -> Result<f64, NumberFault> {
        Ok(measure.read(read_number(&self.text)?, self.units))
    }

    /// As a number in the key unit, inside a range in the key unit.
    ///
    /// # Errors
    /// [`EntryFault`] with the limits.
    pub fn within(&self, measure: Measure, (low, high): (f64, f64)) -> Result<f64, EntryFault> {
        let value = match self.value(measure) {
            // "1,013" bar can only be decimals, "1,500" ft only thousands: the range knows.
            Err(NumberFault::Ambiguous) => self.only_reading_within(measure, (low, high))?,
            other => other.map_err(EntryFault::Number)?,
        };
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(EntryFault::OutOfRange { value, low, high })
        }
    }

    fn only_reading_within(
        &self,
        measure: Measure,
        (low, high): (f64, f64),
    ) -> Result<f64, EntryFault> {
        let fits = |text: String| {
            let value = measure.read(read_number(&text).ok()?, self.units);
            (low..=high).contains(&value).then_some(value)
        };
        match (
            fits(self.text.replace(',', ".")),
            fits(self.text.replace(',', "")),
        ) {
            (Some(value), None) | (None, Some(value)) => Ok(value),
            _ => Err(EntryFault::Number(NumberFault::Ambiguous)),
        }
    }

    /// What to show in other units: the text itself while its own unit is shown, the converted
    /// number otherwise.
    pub fn shown(&self, measure: Measure, units: Units) -> String {
        if measure.sign(self.units) == measure.sign(units) {
            return self.text.clone();
        }
        self.value(measure)
            .map_or_else(|_| self.text.clone(), |key| measure.digits(key, units))
    }
}

mod units_by_key {
    use super::{PressureUnit, TemperatureUnit, Units};
    use serde::{Deserialize, Deserializer, Serializer, de::Error};

    const ALL: [(&str, PressureUnit, TemperatureUnit); 6] = [
        ("psi-f", PressureUnit::Psi, TemperatureUnit::Fahrenheit),
        (
            "kpa-f",
            PressureUnit::Kilopascal,
            TemperatureUnit::Fahrenheit,
        ),
        ("bar-f", PressureUnit::Bar, TemperatureUnit::Fahrenheit),
        ("psi-c", PressureUnit::Psi, TemperatureUnit::Celsius),
        ("kpa-c", PressureUnit::Kilopascal, TemperatureUnit::Celsius),
        ("bar-c", PressureUnit::Bar, TemperatureUnit::Celsius),
    ];

    pub fn serialize<S: Serializer>(units: &Units, to: S) -> Result<S::Ok, S::Error> {
        let key = ALL
            .iter()
            .find(|(_, pressure, temperature)| {
                *pressure == units.pressure && *temperature == units.temperature
            })
            .map_or("psi-f", |(key, ..)| key);
        to.serialize_str(key)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Units, D::Error> {
        let key = String::deserialize(from)?;
        ALL.iter()
            .find(|(of, ..)| *of == key)
            .map(|&(_, pressure, temperature)| Units {
                temperature,
                pressure,
            })
            .ok_or_else(|| D::Error::custom(format!("{key} is not a pair of units")))
    }
}

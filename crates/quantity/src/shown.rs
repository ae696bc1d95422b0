//! The units a person may read and type. They change what is shown, never what is kept.

use crate::{GaugePressure, PressureDifference, Temperature, TemperatureDifference};

/// A unit for temperatures and their differences.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum TemperatureUnit {
    /// °F, and Fahrenheit degrees of difference.
    #[default]
    Fahrenheit,
    /// °C, and kelvin of difference.
    Celsius,
}

impl TemperatureUnit {
    /// The sign beside a temperature.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Fahrenheit => "°F",
            Self::Celsius => "°C",
        }
    }
    /// The sign beside a difference: kelvin where the scale is Celsius, so that no one adds 32.
    pub const fn difference_sign(self) -> &'static str {
        match self {
            Self::Fahrenheit => "°F",
            Self::Celsius => "K",
        }
    }
    /// A typed number as a temperature.
    pub const fn read(self, number: f64) -> Temperature {
        match self {
            Self::Fahrenheit => Temperature::from_f(number),
            Self::Celsius => Temperature::from_c(number),
        }
    }
    /// A temperature as a number in this unit.
    pub const fn show(self, temperature: Temperature) -> f64 {
        match self {
            Self::Fahrenheit => temperature.f(),
            Self::Celsius => temperature.c(),
        }
    }
    /// A typed number as a difference.
    pub const fn read_difference(self, number: f64) -> TemperatureDifference {
        match self {
            Self::Fahrenheit => TemperatureDifference::from_f(number),
            Self::Celsius => TemperatureDifference::from_k(number),
        }
    }
    /// A difference as a number in this unit.
    pub const fn show_difference(self, difference: TemperatureDifference) -> f64 {
        match self {
            Self::Fahrenheit => difference.f(),
            Self::Celsius => difference.k(),
        }
    }
}

/// A unit for pressures and their differences.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum PressureUnit {
    /// Pounds per square inch.
    #[default]
    Psi,
    /// Kilopascal.
    Kilopascal,
    /// Bar.
    Bar,
}

impl PressureUnit {
    /// The sign beside a gauge pressure.
    pub const fn gauge_sign(self) -> &'static str {
        match self {
            Self::Psi => "psig",
            Self::Kilopascal => "kPa (gauge)",
            Self::Bar => "bar (gauge)",
        }
    }
    /// The sign beside a difference.
    pub const fn difference_sign(self) -> &'static str {
        match self {
            Self::Psi => "psi",
            Self::Kilopascal => "kPa",
            Self::Bar => "bar",
        }
    }
    /// A typed number as what a gauge shows.
    pub const fn read(self, number: f64) -> GaugePressure {
        match self {
            Self::Psi => GaugePressure::from_psig(number),
            Self::Kilopascal => GaugePressure::from_kpa(number),
            Self::Bar => GaugePressure::from_bar(number),
        }
    }
    /// A gauge pressure as a number in this unit.
    pub const fn show(self, pressure: GaugePressure) -> f64 {
        match self {
            Self::Psi => pressure.psig(),
            Self::Kilopascal => pressure.kpa(),
            Self::Bar => pressure.bar(),
        }
    }
    /// A difference as a number in this unit.
    pub const fn show_difference(self, difference: PressureDifference) -> f64 {
        match self {
            Self::Psi => difference.psi(),
            Self::Kilopascal => difference.kpa(),
            Self::Bar => difference.bar(),
        }
    }
}

/// The units one person chose to see. Formats numbers for eyes; nothing is computed from the text.
///
/// # Example
/// ```
/// use quantity::{TemperatureDifference, TemperatureUnit, Units};
/// let si = Units { temperature: TemperatureUnit::Celsius, ..Units::default() };
/// assert_eq!(si.difference(TemperatureDifference::from_f(18.0)), "10.0 K");
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Units {
    /// For temperatures and their differences.
    pub temperature: TemperatureUnit,
    /// For pressures and their differences.
    pub pressure: PressureUnit,
}

impl Units {
    /// A temperature with its unit, to a tenth.
    pub fn temperature(self, temperature: Temperature) -> String {
        format!(
            "{} {}",
            tenth(self.temperature.show(temperature)),
            self.temperature.sign()
        )
    }
    /// A difference with its unit, to a tenth.
    pub fn difference(self, difference: TemperatureDifference) -> String {
        format!(
            "{} {}",
            tenth(self.temperature.show_difference(difference)),
            self.temperature.difference_sign()
        )
    }
    /// A gauge pressure with its unit; bar to a hundredth, the others to a tenth.
    pub fn gauge(self, pressure: GaugePressure) -> String {
        format!(
            "{} {}",
            self.pressure_digits(self.pressure.show(pressure)),
            self.pressure.gauge_sign()
        )
    }
    /// A pressure difference with its unit; bar to a hundredth, the others to a tenth.
    pub fn pressure_difference(self, difference: PressureDifference) -> String {
        format!(
            "{} {}",
            self.pressure_digits(self.pressure.show_difference(difference)),
            self.pressure.difference_sign()
        )
    }
    /// The digits of a pressure without its unit.
    pub fn pressure_digits(self, number: f64) -> String {
        match self.pressure {
            PressureUnit::Bar => without_minus_nothing(format!("{number:.2}")),
            PressureUnit::Psi | PressureUnit::Kilopascal => tenth(number),
        }
    }
}

/// To a tenth, never as "-0.0".
pub fn tenth(number: f64) -> String {
    without_minus_nothing(format!("{number:.1}"))
}

/// "-0.0" is 0.0 to a person.
fn without_minus_nothing(text: String) -> String {
    match text.strip_prefix('-') {
        Some(digits) if digits.bytes().all(|digit| matches!(digit, b'0' | b'.')) => {
            digits.to_owned()
        }
        _ => text,
    }
}

//! What an entry measures: between the number typed in the units shown and the number in the unit
//! that its key names.

use air::Altitude;
use diagnosis::Kind;
use quantity::{
    AbsolutePressure, GaugePressure, PressureDifference, PressureUnit, Temperature,
    TemperatureDifference, TemperatureUnit, Units, tenth,
};

/// What an entry measures. Its "key unit" is the one that its key ends in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measure {
    /// Key unit °F.
    Temperature,
    /// Key unit °F of difference.
    Difference,
    /// Key unit psig.
    Gauge,
    /// Key unit psi.
    PressureDifference,
    /// Key unit psia.
    Barometer,
    /// Key unit ft.
    Altitude,
    /// Key unit oz of refrigerant.
    Mass,
    /// Percent.
    Percent,
    /// Tons of refrigeration.
    Tons,
    /// Minutes.
    Minutes,
}

/// Gram in an avoirdupois ounce. NIST SP 811 (2008), B.8.
const GRAMS_IN_OUNCE: f64 = 28.349_523_125;

impl From<Kind> for Measure {
    fn from(kind: Kind) -> Self {
        match kind {
            Kind::LowPressure | Kind::HighPressure => Self::Gauge,
            Kind::Temperature => Self::Temperature,
            Kind::Percent => Self::Percent,
        }
    }
}

impl Measure {
    /// A typed number in the key unit. In the key unit itself it comes back to the last digit.
    pub fn read(self, number: f64, units: Units) -> f64 {
        let metric = units.temperature == TemperatureUnit::Celsius;
        match self {
            Self::Temperature if metric => units.temperature.read(number).f(),
            Self::Difference if metric => units.temperature.read_difference(number).f(),
            Self::Gauge | Self::PressureDifference | Self::Barometer
                if units.pressure != PressureUnit::Psi =>
            {
                units.pressure.read(number).psig()
            }
            Self::Altitude if metric => Altitude::from_m(number).ft(),
            Self::Mass if metric => number / GRAMS_IN_OUNCE,
            _ => number,
        }
    }

    /// A number in the key unit as one in the units shown.
    pub fn show(self, key: f64, units: Units) -> f64 {
        let metric = units.temperature == TemperatureUnit::Celsius;
        match self {
            Self::Temperature => units.temperature.show(Temperature::from_f(key)),
            Self::Difference => units
                .temperature
                .show_difference(TemperatureDifference::from_f(key)),
            Self::Gauge => units.pressure.show(GaugePressure::from_psig(key)),
            Self::PressureDifference => units
                .pressure
                .show_difference(PressureDifference::from_psi(key)),
            Self::Barometer => units.pressure.show(GaugePressure::from_pa(
                AbsolutePressure::from_psia(key).pa(),
            )),
            Self::Altitude if metric => Altitude::from_ft(key).m(),
            Self::Mass if metric => key * GRAMS_IN_OUNCE,
            _ => key,
        }
    }

    /// The unit shown beside the number.
    pub const fn sign(self, units: Units) -> &'static str {
        let metric = matches!(units.temperature, TemperatureUnit::Celsius);
        match self {
            Self::Temperature => units.temperature.sign(),
            Self::Difference => units.temperature.difference_sign(),
            Self::Gauge => units.pressure.gauge_sign(),
            Self::PressureDifference => units.pressure.difference_sign(),
            Self::Barometer => match units.pressure {
                PressureUnit::Psi => "psia",
                PressureUnit::Kilopascal => "kPa (absolute)",
                PressureUnit::Bar => "bar (absolute)",
            },
            Self::Altitude => {
                if metric {
                    "m"
                } else {
                    "ft"
                }
            }
            Self::Mass => {
                if metric {
                    "g"
                } else {
                    "oz"
                }
            }
            Self::Percent => "%",
            Self::Tons => "tons",
            Self::Minutes => "min",
        }
    }

    /// A number in the key unit as text in the units shown, without the unit.
    pub fn digits(self, key: f64, units: Units) -> String {
        let shown = self.show(key, units);
        match self {
            Self::Gauge | Self::PressureDifference | Self::Barometer => {
                units.pressure_digits(shown)
            }
            // Adding nothing makes "-0" a "0".
            Self::Altitude | Self::Minutes => format!("{:.0}", shown.round() + 0.0),
            _ => tenth(shown),
        }
    }

    /// The same with its unit.
    pub fn says(self, key: f64, units: Units) -> String {
        format!("{} {}", self.digits(key, units), self.sign(units))
    }

    /// Whether it makes sense below zero in the units shown, so that a minus key is offered.
    pub fn goes_below_zero(self, lowest: f64, units: Units) -> bool {
        self.show(lowest, units) < 0.0
    }
}

//! What the tools in the bag may be wrong by.

use quantity::{PressureDifference, Temperature, TemperatureDifference};

/// How a pressure gauge states its limit of error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PressureLimit {
    /// The same everywhere on the scale.
    Fixed(PressureDifference),
    /// A share of the full scale, as dial gauges are rated: 1 % of 500 psi is 5 psi anywhere.
    OfFullScale {
        /// In percent, for example 1.0.
        percent: f64,
        /// The highest mark on the scale.
        full_scale: PressureDifference,
    },
}

impl PressureLimit {
    /// Half the width of the band around a reading.
    pub fn half_width(self) -> PressureDifference {
        match self {
            Self::Fixed(limit) => limit,
            Self::OfFullScale {
                percent,
                full_scale,
            } => full_scale * (percent / 100.0),
        }
    }
}

/// How a thermometer states its limit of error: a fixed part and a share of the reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThermometerLimit {
    /// The fixed part.
    pub fixed: TemperatureDifference,
    /// Percent of the reading in °F, added to the fixed part.
    pub percent_of_reading: f64,
}

impl ThermometerLimit {
    /// Half the width of the band around a reading.
    pub fn half_width(self, at: Temperature) -> TemperatureDifference {
        self.fixed + TemperatureDifference::from_f(at.f().abs() * self.percent_of_reading / 100.0)
    }
}

/// The limits of error of one set of tools.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instruments {
    /// The gauge on the suction side.
    pub low: PressureLimit,
    /// The gauge on the liquid side.
    pub high: PressureLimit,
    /// Every thermometer.
    pub thermometer: ThermometerLimit,
}

impl Default for Instruments {
    /// The loosest tools the protocol allows: suction ±3.5 psi, liquid ±7.0 psi, thermometers
    /// ±(0.1 % of reading + 1.3 °F).
    ///
    /// # Source
    /// California Energy Commission, Reference Residential Appendix RA3.2.2.2 (2008 edition for the
    /// thermometer, 2013 edition for the gauges).
    fn default() -> Self {
        Self {
            low: PressureLimit::Fixed(PressureDifference::from_psi(3.5)),
            high: PressureLimit::Fixed(PressureDifference::from_psi(7.0)),
            thermometer: ThermometerLimit {
                fixed: TemperatureDifference::from_f(1.3),
                percent_of_reading: 0.1,
            },
        }
    }
}

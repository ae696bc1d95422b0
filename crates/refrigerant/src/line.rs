//! A saturation line: the temperature of a pressure, and the pressure of a temperature.

use quantity::{AbsolutePressure, PressureDifference, Temperature, TemperatureDifference};

use crate::chebyshev::Chebyshev;
use crate::table;
use crate::{OutsideTable, Refrigerant};

/// Which edge of the two-phase region. They are one for a pure refrigerant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Line {
    /// Where the last drop has gone: superheat counts from here.
    Dew,
    /// Where the first bubble comes: subcooling counts from here.
    Bubble,
}

impl Line {
    /// Both lines.
    pub const ALL: [Self; 2] = [Self::Dew, Self::Bubble];

    /// Its name in files and messages: `dew` or `bubble`.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Dew => "dew",
            Self::Bubble => "bubble",
        }
    }
}

/// How far a table reaches, ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// The lowest temperature.
    pub lowest_temperature: Temperature,
    /// The highest temperature.
    pub highest_temperature: Temperature,
    /// The lowest pressure; at the lowest temperature.
    pub lowest_pressure: AbsolutePressure,
    /// The highest pressure; at the highest temperature.
    pub highest_pressure: AbsolutePressure,
}

/// One saturation line of one refrigerant.
///
/// # Source
/// Chebyshev expansions in both directions, after I. H. Bell and B. K. Alpert, International
/// Journal of Thermophysics 42 (2021) 75 (cited from memory); fitted to CoolProp 8.0.0 by
/// `cargo xtask generate`. The table states the error measured for each line, all under
/// 0.0001 °F and 0.0001 %.
#[derive(Clone, Copy, Debug)]
pub struct SaturationLine {
    pub(crate) refrigerant: Refrigerant,
    pub(crate) line: Line,
    pub(crate) lowest_kelvin: f64,
    pub(crate) highest_kelvin: f64,
    pub(crate) lowest_pascal: f64,
    pub(crate) highest_pascal: f64,
    pub(crate) ln_pascal_of_kelvin: Chebyshev,
    pub(crate) kelvin_of_ln_pascal: Chebyshev,
}

impl SaturationLine {
    /// Saturation temperature at a pressure. The answer stays inside the table, so that it may be
    /// asked back.
    ///
    /// # Errors
    /// [`OutsideTable::Pressure`] when `p` is outside [`Self::limits`] or not a number.
    ///
    /// # Example
    /// ```
    /// use quantity::AbsolutePressure;
    /// use refrigerant::Refrigerant;
    /// // Normal boiling point of R-134a: -26 °C, ASHRAE Standard 34.
    /// let boiling = Refrigerant::R134a.dew().temperature(AbsolutePressure::STANDARD_ATMOSPHERE)?;
    /// assert!((boiling.c() + 26.0).abs() < 0.5);
    /// # Ok::<(), refrigerant::OutsideTable>(())
    /// ```
    pub fn temperature(&self, p: AbsolutePressure) -> Result<Temperature, OutsideTable> {
        let ln_p = libm::log(self.inside(p)?);
        let kelvin = self.kelvin_of_ln_pascal.value(ln_p);
        Ok(Temperature::from_k(
            kelvin.clamp(self.lowest_kelvin, self.highest_kelvin),
        ))
    }

    /// Saturation pressure at a temperature. The answer stays inside the table, so that it may be
    /// asked back.
    ///
    /// # Errors
    /// [`OutsideTable::Temperature`] when `t` is outside [`Self::limits`] or not a number.
    ///
    /// # Example
    /// ```
    /// use quantity::Temperature;
    /// use refrigerant::{OutsideTable, Refrigerant};
    /// let hot = Refrigerant::R32.bubble().pressure(Temperature::from_f(200.0));
    /// assert!(matches!(hot, Err(OutsideTable::Temperature { .. })));
    /// ```
    pub fn pressure(&self, t: Temperature) -> Result<AbsolutePressure, OutsideTable> {
        let Limits {
            lowest_temperature,
            highest_temperature,
            ..
        } = self.limits();
        if !(lowest_temperature..=highest_temperature).contains(&t) {
            return Err(OutsideTable::Temperature {
                refrigerant: self.refrigerant,
                line: self.line,
                asked: t,
                lowest: lowest_temperature,
                highest: highest_temperature,
            });
        }
        let pascal = libm::exp(self.ln_pascal_of_kelvin.value(t.k()));
        Ok(AbsolutePressure::from_pa(
            pascal.clamp(self.lowest_pascal, self.highest_pascal),
        ))
    }

    /// How much the saturation temperature moves when the pressure is off by `half_width`:
    /// `|dT/dp| * half_width`, the slope being that of the table at `p`. Never negative.
    ///
    /// # Errors
    /// [`OutsideTable::Pressure`] when `p` is outside [`Self::limits`] or not a number.
    pub fn temperature_band(
        &self,
        p: AbsolutePressure,
        half_width: PressureDifference,
    ) -> Result<TemperatureDifference, OutsideTable> {
        let pascal = self.inside(p)?;
        let (_, kelvin_per_ln) = self.kelvin_of_ln_pascal.value_and_slope(libm::log(pascal));
        Ok(TemperatureDifference::from_k(kelvin_per_ln / pascal * half_width.pa()).abs())
    }

    /// How fast the saturation pressure rises at a temperature, Pa/K: the slope of the table.
    ///
    /// # Errors
    /// [`OutsideTable::Temperature`] when `t` is outside [`Self::limits`] or not a number.
    pub fn pascal_per_kelvin(&self, t: Temperature) -> Result<f64, OutsideTable> {
        let pressure = self.pressure(t)?;
        Ok(pressure.pa() * self.ln_pascal_of_kelvin.value_and_slope(t.k()).1)
    }

    /// How far this line reaches, ends included.
    pub const fn limits(&self) -> Limits {
        Limits {
            lowest_temperature: Temperature::from_k(self.lowest_kelvin),
            highest_temperature: Temperature::from_k(self.highest_kelvin),
            lowest_pressure: AbsolutePressure::from_pa(self.lowest_pascal),
            highest_pressure: AbsolutePressure::from_pa(self.highest_pascal),
        }
    }

    /// Pascal, when inside the table. Written so that a number that is not a number is outside.
    fn inside(&self, p: AbsolutePressure) -> Result<f64, OutsideTable> {
        if (self.lowest_pascal..=self.highest_pascal).contains(&p.pa()) {
            return Ok(p.pa());
        }
        let Limits {
            lowest_pressure,
            highest_pressure,
            ..
        } = self.limits();
        Err(OutsideTable::Pressure {
            refrigerant: self.refrigerant,
            line: self.line,
            asked: p,
            lowest: lowest_pressure,
            highest: highest_pressure,
        })
    }
}

/// Looks the line up in the generated table.
macro_rules! lines {
    ($($refrigerant:ident: $dew:ident, $bubble:ident;)*) => {
        impl Refrigerant {
            /// The dew line: for superheat, and for nothing else.
            pub const fn dew(self) -> &'static SaturationLine {
                match self {
                    $(Self::$refrigerant => &table::$dew,)*
                }
            }

            /// The bubble line: for subcooling, and for nothing else.
            pub const fn bubble(self) -> &'static SaturationLine {
                match self {
                    $(Self::$refrigerant => &table::$bubble,)*
                }
            }
        }
    };
}
lines! {
    R22: R22_DEW, R22_BUBBLE;
    R134a: R134A_DEW, R134A_BUBBLE;
    R32: R32_DEW, R32_BUBBLE;
    R410A: R410A_DEW, R410A_BUBBLE;
    R407C: R407C_DEW, R407C_BUBBLE;
    R404A: R404A_DEW, R404A_BUBBLE;
    R507A: R507A_DEW, R507A_BUBBLE;
    R290: R290_DEW, R290_BUBBLE;
    R1234yf: R1234YF_DEW, R1234YF_BUBBLE;
    R454B: R454B_DEW, R454B_BUBBLE;
    R448A: R448A_DEW, R448A_BUBBLE;
    R449A: R449A_DEW, R449A_BUBBLE;
    R421A: R421A_DEW, R421A_BUBBLE;
    R422D: R422D_DEW, R422D_BUBBLE;
    R427A: R427A_DEW, R427A_BUBBLE;
}

impl Refrigerant {
    /// The line asked for by name.
    pub const fn line(self, line: Line) -> &'static SaturationLine {
        match line {
            Line::Dew => self.dew(),
            Line::Bubble => self.bubble(),
        }
    }

    /// Mean of dew and bubble temperature at a pressure: what a coil or condenser split is
    /// measured from.
    ///
    /// # Errors
    /// [`OutsideTable::Pressure`] when either line does not reach `p`; names that line.
    ///
    /// # Source
    /// Common practice for blends with glide (hvacrschool.com, on the mid-point of blends).
    pub fn midpoint_temperature(self, p: AbsolutePressure) -> Result<Temperature, OutsideTable> {
        let bubble = self.bubble().temperature(p)?;
        Ok(bubble + (self.dew().temperature(p)? - bubble) / 2.0)
    }

    /// Glide: dew temperature less bubble temperature at the same pressure; zero for a pure
    /// refrigerant.
    ///
    /// # Errors
    /// [`OutsideTable::Pressure`] when either line does not reach `p`; names that line.
    pub fn glide(self, p: AbsolutePressure) -> Result<TemperatureDifference, OutsideTable> {
        Ok(self.dew().temperature(p)? - self.bubble().temperature(p)?)
    }
}

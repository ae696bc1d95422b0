//! One state of moist air.

use quantity::{AbsolutePressure, Temperature};

use crate::vapour::{COLDEST_K, HOTTEST_K, ratio_from_pa, saturation_pa, vapour_pa};
use crate::{AirError, OutOfRange};

/// Halvings of a bracket of at most 300 K: to 1e-13 K, the end of what a double holds.
const HALVINGS: u32 = 52;
/// Slack for a humidity ratio that came from this crate's own saturation, relative; and for one
/// that should be zero, kg/kg.
const ROUNDING: f64 = 1e-9;
/// From a mountain top to below any dry land; psia 2.9 to 17.4.
const PRESSURE_KPA: (f64, f64) = (20.0, 120.0);
/// Joule per kilogram in one Btu per pound, international table. NIST SP 811 (2008), B.8.
const BTU_PER_LB: f64 = 2326.0;
/// Specific heat of dry air, J/(kg K), equation 30.
const DRY_AIR_HEAT: f64 = 1006.0;

/// Enthalpy of moist air for each kilogram of its dry air. Held in J/kg above dry air and liquid
/// water at 0 °C, the handbook's SI zero.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SpecificEnthalpy(f64);

impl SpecificEnthalpy {
    /// J per kg of dry air; zero for dry air and liquid water at 0 °C.
    pub const fn j_per_kg(self) -> f64 {
        self.0
    }
    /// Btu per lb of dry air. The handbook's inch-pound tables put dry air's zero at 0 °F, so
    /// this adds the 7.69 Btu/lb between 0 °F and 0 °C; differences are not touched by it.
    pub const fn btu_per_lb(self) -> f64 {
        (self.0 + DRY_AIR_HEAT * 32.0 / 1.8) / BTU_PER_LB
    }
}

/// A state of moist air that can exist: dry bulb, water and pressure.
///
/// # Example
/// ```
/// use air::{AirError, MoistAir};
/// use quantity::{AbsolutePressure, Temperature};
///
/// let sea_level = AbsolutePressure::STANDARD_ATMOSPHERE;
/// let (cool, warm) = (Temperature::from_f(67.0), Temperature::from_f(80.0));
/// let indoors = MoistAir::from_dry_and_wet_bulb(warm, cool, sea_level)?;
/// assert!((indoors.wet_bulb().f() - 67.0).abs() < 1e-6);
/// assert!(MoistAir::from_dry_and_wet_bulb(cool, warm, sea_level).is_err());
/// # Ok::<(), AirError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoistAir {
    dry: Temperature,
    ratio: f64,
    pressure: AbsolutePressure,
}

impl MoistAir {
    /// From a dry and a wet bulb thermometer.
    ///
    /// Range: -100 to 200 °C and 20 to 120 kPa. The wick holds ice below 0 °C.
    ///
    /// # Errors
    /// `WetAboveDry`, `WetBulbTooLow`, `Boils`, `OutOfRange`.
    ///
    /// # Source
    /// ASHRAE Handbook Fundamentals (2017), chapter 1, equations 33 and 35.
    pub fn from_dry_and_wet_bulb(
        dry: Temperature,
        wet: Temperature,
        pressure: AbsolutePressure,
    ) -> Result<Self, AirError> {
        check(dry, pressure)?;
        check(wet, pressure)?;
        let (dry_f, wet_f) = (dry.f(), wet.f());
        if wet > dry {
            return Err(AirError::WetAboveDry { dry_f, wet_f });
        }
        let ratio = ratio_from_wet_bulb(dry.c(), wet.c(), saturated_ratio(wet, pressure)?);
        if ratio < -ROUNDING {
            return Err(AirError::WetBulbTooLow { dry_f, wet_f });
        }
        Self::from_humidity_ratio(dry, ratio.max(0.0), pressure)
    }

    /// From the water it carries, kg per kg of dry air.
    ///
    /// # Errors
    /// `Supersaturated`, or `OutOfRange` for a negative ratio or a value outside the equations.
    pub fn from_humidity_ratio(
        dry: Temperature,
        ratio: f64,
        pressure: AbsolutePressure,
    ) -> Result<Self, AirError> {
        check(dry, pressure)?;
        OutOfRange::check("humidity ratio, kg/kg", ratio, 0.0, 1.0)?;
        // Where water would boil any share of vapour is possible.
        if let Ok(most) = saturated_ratio(dry, pressure)
            && ratio > most * (1.0 + ROUNDING)
        {
            return Err(AirError::Supersaturated { ratio, most });
        }
        Ok(Self {
            dry,
            ratio,
            pressure,
        })
    }

    /// From relative humidity, 0 to 1.
    ///
    /// # Errors
    /// `OutOfRange` for a humidity outside 0 to 1 or a value outside the equations; `Boils` when
    /// the vapour alone would exceed the pressure.
    ///
    /// # Source
    /// ASHRAE Handbook Fundamentals (2017), chapter 1, equation 22.
    pub fn from_relative_humidity(
        dry: Temperature,
        humidity: f64,
        pressure: AbsolutePressure,
    ) -> Result<Self, AirError> {
        check(dry, pressure)?;
        OutOfRange::check("relative humidity, 0 to 1", humidity, 0.0, 1.0)?;
        let vapour = humidity * saturation_pa(dry.k());
        let ratio = ratio_below_boiling(vapour, dry, pressure)?;
        Self::from_humidity_ratio(dry, ratio, pressure)
    }

    /// Air that holds all the water it can.
    ///
    /// # Errors
    /// `Boils` when there is no such air, or `OutOfRange`.
    pub fn saturated(
        temperature: Temperature,
        pressure: AbsolutePressure,
    ) -> Result<Self, AirError> {
        check(temperature, pressure)?;
        let ratio = saturated_ratio(temperature, pressure)?;
        Ok(Self {
            dry: temperature,
            ratio,
            pressure,
        })
    }

    /// What a dry thermometer reads.
    pub fn dry_bulb(&self) -> Temperature {
        self.dry
    }

    /// The air's pressure.
    pub fn pressure(&self) -> AbsolutePressure {
        self.pressure
    }

    /// Water over dry air by mass, kg/kg.
    pub fn humidity_ratio(&self) -> f64 {
        self.ratio
    }

    /// Vapour pressure over saturation pressure at the dry bulb, 0 to 1.
    ///
    /// # Source
    /// ASHRAE Handbook Fundamentals (2017), chapter 1, equation 22.
    pub fn relative_humidity(&self) -> f64 {
        vapour_pa(self.ratio, self.pressure.pa()) / saturation_pa(self.dry.k())
    }

    /// What a wetted, well ventilated thermometer settles at.
    ///
    /// Bisection of equations 33 and 35 between dew point and dry bulb. The two equations do not
    /// quite meet at 0 °C (ice or water on the wick), so within about 0.3 K of it the answer
    /// depends on which was meant.
    pub fn wet_bulb(&self) -> Temperature {
        halve(self.dew_point().k(), self.dry.k(), |kelvin| {
            let wet = Temperature::from_k(kelvin);
            saturated_ratio(wet, self.pressure)
                .is_ok_and(|most| ratio_from_wet_bulb(self.dry.c(), wet.c(), most) <= self.ratio)
        })
    }

    /// Where this air, cooled at its pressure, starts to wet a surface (frost below 0 °C).
    /// Air too dry for the equations reads their lower end, -100 °C.
    ///
    /// # Source
    /// The temperature whose saturation pressure is the vapour's: ASHRAE Handbook Fundamentals
    /// (2017), chapter 1, equation 36, solved by bisection rather than by the fitted equations
    /// 37 and 38.
    pub fn dew_point(&self) -> Temperature {
        let vapour = vapour_pa(self.ratio, self.pressure.pa());
        halve(COLDEST_K, self.dry.k(), |kelvin| {
            saturation_pa(kelvin) <= vapour
        })
    }

    /// Enthalpy for each kilogram of dry air: `1.006 t + W (2501 + 1.86 t)` kJ/kg, t in °C.
    ///
    /// # Source
    /// ASHRAE Handbook Fundamentals (2017), chapter 1, equation 30.
    pub fn enthalpy(&self) -> SpecificEnthalpy {
        let t = self.dry.c();
        SpecificEnthalpy(DRY_AIR_HEAT * t + self.ratio * (2_501_000.0 + 1860.0 * t))
    }

    /// Volume for each kilogram of dry air, m³/kg.
    ///
    /// # Source
    /// ASHRAE Handbook Fundamentals (2017), chapter 1, equation 26.
    pub fn specific_volume_m3_per_kg(&self) -> f64 {
        0.287_042 * self.dry.k() * (1.0 + 1.607_858 * self.ratio) / self.pressure.kpa()
    }
}

/// Keeps both inside the range of the equations.
fn check(temperature: Temperature, pressure: AbsolutePressure) -> Result<(), OutOfRange> {
    let (coldest, hottest) = (
        Temperature::from_k(COLDEST_K),
        Temperature::from_k(HOTTEST_K),
    );
    OutOfRange::check("temperature, °C", temperature.c(), coldest.c(), hottest.c())?;
    let (low, high) = PRESSURE_KPA;
    OutOfRange::check("air pressure, kPa", pressure.kpa(), low, high)?;
    Ok(())
}

/// The humidity ratio of saturated air.
fn saturated_ratio(temperature: Temperature, pressure: AbsolutePressure) -> Result<f64, AirError> {
    ratio_below_boiling(saturation_pa(temperature.k()), temperature, pressure)
}

/// Equation 20, refused when the vapour alone makes up the pressure.
fn ratio_below_boiling(
    vapour_pa: f64,
    temperature: Temperature,
    pressure: AbsolutePressure,
) -> Result<f64, AirError> {
    if vapour_pa >= 0.99 * pressure.pa() {
        return Err(AirError::Boils {
            temperature_f: temperature.f(),
            pressure_psia: pressure.psia(),
        });
    }
    Ok(ratio_from_pa(vapour_pa, pressure.pa()))
}

/// Equation 33 (water on the wick) or 35 (ice), both bulbs in °C; `most` is the humidity ratio of
/// saturated air at the wet bulb.
fn ratio_from_wet_bulb(dry: f64, wet: f64, most: f64) -> f64 {
    if wet >= 0.0 {
        ((2501.0 - 2.326 * wet) * most - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
    } else {
        ((2830.0 - 0.24 * wet) * most - 1.006 * (dry - wet)) / (2830.0 + 1.86 * dry - 2.1 * wet)
    }
}

/// The highest kelvin between two limits that is still `below`, by halving.
fn halve(mut low: f64, mut high: f64, below: impl Fn(f64) -> bool) -> Temperature {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if below(middle) {
            low = middle
        } else {
            high = middle
        }
    }
    Temperature::from_k(0.5 * (low + high))
}

//! Water vapour: its saturation pressure, and its share of the air.

use quantity::{AbsolutePressure, Temperature};

use crate::OutOfRange;

/// Where ice gives way to water.
pub(crate) const TRIPLE_POINT_K: f64 = 273.16;
/// The coldest that the equation over ice holds: -100 °C.
pub(crate) const COLDEST_K: f64 = 173.15;
/// The hottest that the equation over water holds: 200 °C.
pub(crate) const HOTTEST_K: f64 = 473.15;
/// Molar mass of water over that of dry air.
const MASS_RATIO: f64 = 0.621_945;

/// The pressure of water vapour in balance with ice (below the triple point) or water.
///
/// Range: -100 to 200 °C.
///
/// # Errors
/// [`OutOfRange`] beyond that, with both limits in °C.
///
/// # Source
/// Hyland and Wexler, as ASHRAE Handbook Fundamentals (2017), chapter 1, equations 5 and 6.
pub fn saturation_vapour_pressure(
    temperature: Temperature,
) -> Result<AbsolutePressure, OutOfRange> {
    let (low, high) = (
        Temperature::from_k(COLDEST_K).c(),
        Temperature::from_k(HOTTEST_K).c(),
    );
    OutOfRange::check("temperature, °C", temperature.c(), low, high)?;
    Ok(AbsolutePressure::from_pa(saturation_pa(temperature.k())))
}

/// Water over dry air by mass, from the vapour's share of the pressure: kg/kg.
///
/// `W = 0.621945 p_w / (p - p_w)`
///
/// # Errors
/// [`OutOfRange`] when the vapour pressure is negative or not below 99 % of the whole.
///
/// # Source
/// ASHRAE Handbook Fundamentals (2017), chapter 1, equation 20.
pub fn humidity_ratio(
    vapour: AbsolutePressure,
    pressure: AbsolutePressure,
) -> Result<f64, OutOfRange> {
    OutOfRange::check(
        "vapour pressure, Pa",
        vapour.pa(),
        0.0,
        0.99 * pressure.pa(),
    )?;
    Ok(ratio_from_pa(vapour.pa(), pressure.pa()))
}

/// Equation 20 in pascal; the caller keeps `vapour < pressure`.
pub(crate) fn ratio_from_pa(vapour: f64, pressure: f64) -> f64 {
    MASS_RATIO * vapour / (pressure - vapour)
}

/// Equation 20 the other way round.
pub(crate) fn vapour_pa(ratio: f64, pressure: f64) -> f64 {
    pressure * ratio / (MASS_RATIO + ratio)
}

/// Equations 5 and 6 in pascal and kelvin; the caller keeps the range.
pub(crate) fn saturation_pa(kelvin: f64) -> f64 {
    let t = kelvin;
    let ln_pa = if t < TRIPLE_POINT_K {
        -5.674_535_9e3 / t
            + 6.392_524_7
            + t * (-9.677_843e-3 + t * (6.221_570_1e-7 + t * (2.074_782_5e-9 + t * -9.484_024e-13)))
            + 4.163_501_9 * libm::log(t)
    } else {
        -5.800_220_6e3 / t
            + 1.391_499_3
            + t * (-4.864_023_9e-2 + t * (4.176_476_8e-5 + t * -1.445_209_3e-8))
            + 6.545_967_3 * libm::log(t)
    };
    libm::exp(ln_pa)
}

//! What the air should lose across the coil at 400 cfm per ton.

use air::MoistAir;
use quantity::{AbsolutePressure, Temperature, TemperatureDifference};

/// Share of the air that passes the coil untouched: `e^-1.5`, from an air-side NTU of 1.5 at
/// 400 cfm per ton. An engineering default; with the resistance below it gives 20 °F at the rating
/// point of AHRI 210/240 (80/67 °F return, 45 °F coil saturation).
pub const BYPASS_FACTOR: f64 = 0.223;

/// Kelvin between coil saturation and coil surface for each J/kg taken from the air, at 400 cfm
/// per ton. Set so that one ton (12 000 Btu/h) is moved at the same rating point.
const SURFACE_RESISTANCE_K_PER_J_KG: f64 = 3.32e-4;

/// Specific heat of moist air, J/(kg K). ASHRAE Fundamentals 2017, chapter 1: 1006 + 1860 W.
const AIR_HEAT_J_PER_KG_K: f64 = 1020.0;

const TOLERANCE_K: f64 = 1e-4;

/// Dry-bulb drop from return to supply expected at 400 cfm per ton, given the coil saturation
/// that is measured.
///
/// The air leaving is the return air mixed with air saturated at the coil's surface, in the ratio
/// of [`BYPASS_FACTOR`]; the surface stands above the refrigerant by the heat it passes. More drop
/// than this says the air lingers (too little of it), less says the coil is short of refrigerant.
///
/// - `return_air`: dry and wet bulb at the equipment.
/// - `coil`: saturation in the coil, mid-point for a blend.
/// - `pressure`: of the local air.
///
/// `None` when the coil is not colder than the air, or the state is outside moist-air formulas.
///
/// # Source
/// Apparatus dew point and bypass factor: ASHRAE Handbook, HVAC Systems and Equipment, on cooling
/// coils. One maker's table gives 18 °F at 80/67 and 15 °F at 72/64, ±3 °F.
pub fn expected_air_split(
    return_air: &MoistAir,
    coil: Temperature,
    pressure: AbsolutePressure,
) -> Option<TemperatureDifference> {
    let (mut cold, mut warm) = (coil, return_air.dry_bulb());
    if cold >= warm {
        return None;
    }
    // The warmer the surface the less heat the air gives, and the less the surface can stand above
    // the refrigerant: one crossing, found by halving.
    while (warm - cold).k() > TOLERANCE_K {
        let surface = cold + (warm - cold) / 2.0;
        let heat = heat_given(return_air, surface, pressure)?;
        if (surface - coil).k() < heat * SURFACE_RESISTANCE_K_PER_J_KG {
            cold = surface;
        } else {
            warm = surface;
        }
    }
    Some((return_air.dry_bulb() - cold) * (1.0 - BYPASS_FACTOR))
}

/// J per kg of dry air, total on a wet coil, sensible on a dry one: whichever is larger.
fn heat_given(return_air: &MoistAir, surface: Temperature, p: AbsolutePressure) -> Option<f64> {
    let saturated = MoistAir::saturated(surface, p).ok()?;
    let wet = return_air.enthalpy().j_per_kg() - saturated.enthalpy().j_per_kg();
    let dry = (return_air.dry_bulb() - surface).k() * AIR_HEAT_J_PER_KG_K;
    Some(wet.max(dry) * (1.0 - BYPASS_FACTOR))
}

//! Fixed orifice: the superheat that the weather asks for.

use quantity::{Temperature, TemperatureDifference};

/// Half-width of the band round the target of a fixed orifice, °F.
///
/// # Source
/// California Energy Commission, RA3.2.2.6.1 step 5: actual within ±5 °F of target.
pub const ORIFICE_TOLERANCE_F: f64 = 5.0;

/// How far the field formula may be from a maker's chart, °F. Worked out against one printed chart
/// at 64 °F wet bulb: 28.5 against 30 at 55 °F, 13.5 against 11 at 85 °F.
pub const FORMULA_FAIR_TO_F: f64 = 3.0;

/// No test is possible under this target, °F.
///
/// # Source
/// California Energy Commission, RA3.2.2.6.1 step 3.
const LOWEST_TARGET_F: f64 = 5.0;

/// Target superheat at the service valve of a fixed-orifice system: `(3 wb - 80 - db) / 2` in °F.
///
/// - `return_wet_bulb`: indoor wet bulb at the equipment.
/// - `condenser_air`: dry bulb entering the condenser.
///
/// `None` where the formula falls under 5 °F: too little load or too hot outside to charge by it.
///
/// # Source
/// Common practice, no standard; fair to about [`FORMULA_FAIR_TO_F`]. A maker's chart overrides.
///
/// # Example
/// ```
/// use diagnosis::orifice_target;
/// use quantity::Temperature;
/// let target = orifice_target(Temperature::from_f(64.0), Temperature::from_f(85.0)).unwrap();
/// assert!((target.f() - 13.5).abs() < 1e-9);
/// assert!(orifice_target(Temperature::from_f(57.0), Temperature::from_f(105.0)).is_none());
/// ```
pub fn orifice_target(
    return_wet_bulb: Temperature,
    condenser_air: Temperature,
) -> Option<TemperatureDifference> {
    let target = (3.0 * return_wet_bulb.f() - 80.0 - condenser_air.f()) / 2.0;
    (target >= LOWEST_TARGET_F).then(|| TemperatureDifference::from_f(target))
}

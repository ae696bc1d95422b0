//! The plant switched off and come to the air's temperature.

use cycle::{Faults, System};
use quantity::{AbsolutePressure, PressureDifference, Temperature};

/// Inner volumes, m3 for each ton: coil, condenser, compressor shell. As in the model of the plant
/// (engineering defaults, no source).
const COIL: f64 = 0.85e-3;
const CONDENSER: f64 = 2.2e-3;
const SHELL: f64 = 0.7e-3;
/// Temperature for which gas is given, K.
const GAS_AT: f64 = 315.0;

/// Pressure of the whole circuit at rest, all of it at one temperature, with the gas that does not
/// condense spread over the room that liquid leaves. `None` outside the refrigerant's tables.
///
/// Most of the charge is liquid then, so a blend stands near its bubble line: seven tenths of the way
/// up from dew (judgement, no source).
pub(crate) fn pressure(
    system: &System,
    faults: &Faults,
    air: Temperature,
) -> Option<AbsolutePressure> {
    let plate = system.plate();
    let refrigerant = plate.refrigerant;
    let dew = refrigerant.dew().pressure(air).ok()?;
    let bubble = refrigerant.bubble().pressure(air).ok()?;
    let density = refrigerant.saturated_liquid(air).ok()?.density_kg_m3;
    let tube = |mm: f64| core::f64::consts::FRAC_PI_4 * mm * mm * 1e-6 * plate.lines.length_m;
    let lines = tube(plate.lines.liquid_inner_mm) + tube(plate.lines.suction_inner_mm);
    let volume = plate.tons * (COIL + CONDENSER + SHELL) + lines;
    let liquid = system.charge_kg() * faults.charge / density;
    let room = (volume - liquid).max(0.2 * volume);
    let gas = faults.non_condensables.pa() * 0.5 * CONDENSER * plate.tons / room * air.k() / GAS_AT;
    Some(dew + PressureDifference::from_pa(0.7 * (bubble - dew).pa() + gas))
}

//! What may be wrong, with sizes.

use quantity::PressureDifference;

use crate::error::OutOfRange;

/// Everything that may be wrong with a circuit at once; [`Faults::NONE`] is sound. Each line names
/// the cause as files do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Faults {
    /// `low-charge`, `overcharge`: charge over the right one.
    pub charge: f64,
    /// `valve-underfeeding`, `valve-overfeeding`: area of the device over its own.
    pub valve_area: f64,
    /// `valve-underfeeding`, `valve-overfeeding`: the needle stuck at this lift, 0 to 1.
    pub stuck_at: Option<f64>,
    /// `valve-underfeeding`: share of the bulb's pressure lost with its charge.
    pub bulb_charge_lost: f64,
    /// `valve-underfeeding`: resistance of the valve's screen in units of the liquid line's own; the
    /// line ahead of it stays warm.
    pub screen: f64,
    /// `bulb-contact`: share of the bulb that the line heats, the rest being room air. Sound 1;
    /// loose 0.6 to 0.85.
    pub bulb_contact: f64,
    /// `liquid-restriction`: resistance of liquid line and drier over their own.
    pub liquid_restriction: f64,
    /// `suction-restriction`: resistance of the suction line over its own.
    pub suction_restriction: f64,
    /// `low-airflow`: indoor air over its own.
    pub indoor_air: f64,
    /// `condenser-fouled`: condenser air over its own.
    pub condenser_air: f64,
    /// `hot-air-recirculation`: share of condenser air that has been through it before.
    pub recirculation: f64,
    /// `non-condensables`: their pressure at the design point, in half of the condenser's volume.
    pub non_condensables: PressureDifference,
    /// `weak-compressor`: flow over its own at the same pressures.
    pub pumping: f64,
}

impl Faults {
    /// Nothing wrong.
    pub const NONE: Self = Self {
        charge: 1.0,
        valve_area: 1.0,
        stuck_at: None,
        bulb_charge_lost: 0.0,
        screen: 0.0,
        bulb_contact: 1.0,
        liquid_restriction: 1.0,
        suction_restriction: 1.0,
        indoor_air: 1.0,
        condenser_air: 1.0,
        recirculation: 0.0,
        non_condensables: PressureDifference::ZERO,
        pumping: 1.0,
    };

    pub(crate) fn check(&self) -> Result<(), OutOfRange> {
        OutOfRange::check(&[
            ("charge, share of the right one", self.charge, 0.4, 1.6),
            ("valve area, share", self.valve_area, 0.1, 4.0),
            ("stuck lift, share", self.stuck_at.unwrap_or(0.5), 0.0, 1.0),
            ("bulb charge lost, share", self.bulb_charge_lost, 0.0, 1.0),
            ("screen, times the liquid line", self.screen, 0.0, 300.0),
            ("bulb contact, share", self.bulb_contact, 0.0, 1.0),
            (
                "liquid restriction, times",
                self.liquid_restriction,
                0.2,
                300.0,
            ),
            (
                "suction restriction, times",
                self.suction_restriction,
                0.2,
                60.0,
            ),
            ("indoor air, share", self.indoor_air, 0.3, 1.6),
            ("condenser air, share", self.condenser_air, 0.2, 1.6),
            ("recirculation, share", self.recirculation, 0.0, 0.5),
            (
                "non-condensables, kPa",
                self.non_condensables.pa() / 1000.0,
                0.0,
                600.0,
            ),
            ("pumping, share", self.pumping, 0.3, 1.1),
        ])
    }
}

impl Default for Faults {
    fn default() -> Self {
        Self::NONE
    }
}

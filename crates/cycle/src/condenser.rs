//! The condenser: hot gas, condensing, liquid. Each zone meets fresh air over its share of tubes.

use crate::fluid::Saturated;
use crate::smooth::softplus;

/// Transfer of the gas and liquid zones over that of the condensing zone, at equal area.
/// Engineering defaults, no source.
const GAS_SHARE: f64 = 0.45;
const LIQUID_SHARE: f64 = 0.55;
/// The condensing zone never quite closes, share of the tubes; and the rounding of that corner.
const LEAST_ZONE: f64 = 0.03;
const ROUND: f64 = 0.005;
/// How much a gas that does not condense hinders the rest; default, no source.
const BLANKET: f64 = 1.5;
/// Of the hot-gas effectiveness, so that its logarithm stays finite.
const MOST_EFFECTIVENESS: f64 = 0.999;

/// What the air can do at this moment.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HotSide {
    /// Heat capacity rate of its air, W/K.
    pub(crate) air: f64,
    /// Transfer units of the condensing zone over all tubes.
    pub(crate) transfer: f64,
    /// Air that enters, K.
    pub(crate) entering: f64,
    /// Effectiveness of the air over each square metre of a zone: gas, condensing, liquid.
    reach: [f64; 3],
}

/// What comes in.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HotGas {
    /// kg/s.
    pub(crate) flow: f64,
    /// J/kg.
    pub(crate) enthalpy: f64,
}

/// One look at the condenser.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Zones {
    /// Discharge superheat over the dew temperature of the condenser, K.
    pub(crate) superheat: f64,
    /// Share of tubes with hot gas.
    pub(crate) gas: f64,
    /// Share of the flow that has to condense: 1 for dry gas.
    pub(crate) to_condense: f64,
    /// Heat given up by zone, W.
    pub(crate) gas_heat: f64,
    pub(crate) condensing_heat: f64,
    pub(crate) liquid_heat: f64,
    /// How far the liquid is cooled, K.
    pub(crate) subcooling: f64,
}

impl HotSide {
    /// Air of this heat capacity rate (W/K) that enters with `entering` (K).
    pub(crate) fn new(air: f64, transfer: f64, entering: f64) -> Self {
        Self {
            air,
            transfer,
            entering,
            reach: [GAS_SHARE, 1.0, LIQUID_SHARE].map(|share| -libm::expm1(-share * transfer)),
        }
    }

    /// The same with other air (K) and non-condensable gas of this pressure (Pa) in the way.
    pub(crate) fn with(&self, entering: f64, gas: f64, saturation: f64) -> Self {
        if gas > 0.0 {
            let transfer = self.transfer / (1.0 + BLANKET * gas / saturation);
            Self::new(self.air, transfer, entering)
        } else {
            Self { entering, ..*self }
        }
    }

    /// The three zones with this share of the tubes full of liquid.
    ///
    /// # Source
    /// Zones closed in turn by their effectiveness, as in I. Bell's open cycle code (from memory).
    pub(crate) fn look(&self, high: &Saturated, gas: &HotGas, liquid: f64) -> Zones {
        let rise = gas.enthalpy - high.h_vapour;
        let superheat = high.superheat_of_enthalpy(gas.enthalpy);
        let (gas_zone, gas_heat) = if superheat > 0.0 {
            let discharge = high.dew + superheat;
            let effectiveness =
                (superheat / (discharge - self.entering).max(superheat)).min(MOST_EFFECTIVENESS);
            let capacity = gas.flow * rise / superheat;
            let zone = -libm::log1p(-effectiveness) * capacity / (self.air * self.reach[0]);
            (zone, gas.flow * rise)
        } else {
            (0.0, 0.0)
        };
        let over = 1.0 - liquid - gas_zone - LEAST_ZONE;
        let condensing = LEAST_ZONE + softplus(over, ROUND);
        let middle = high.bubble + high.glide() / 2.0;
        let liquid_rate = gas.flow * high.c_liquid;
        let effectiveness = -libm::expm1(-self.air * liquid * self.reach[2] / liquid_rate);
        let subcooling = effectiveness * (high.bubble - self.entering).max(0.0);
        Zones {
            superheat,
            gas: gas_zone,
            to_condense: (1.0 + rise / high.latent()).min(1.0),
            gas_heat,
            condensing_heat: condensing * self.air * self.reach[1] * (middle - self.entering),
            liquid_heat: liquid_rate * subcooling,
            subcooling,
        }
    }

    /// Share of tubes that must hold liquid for this subcooling (K).
    pub(crate) fn liquid_for(&self, high: &Saturated, flow: f64, subcooling: f64) -> f64 {
        let effectiveness = subcooling / (high.bubble - self.entering);
        -libm::log1p(-effectiveness) * flow * high.c_liquid / (self.air * self.reach[2])
    }
}

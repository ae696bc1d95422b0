//! The compressor and the suction line before it.

use quantity::Temperature;

use crate::fluid::{Fluid, Saturated};

/// Efficiencies: engineering defaults, no source. Volumetric: `a - b PR`; isentropic with the
/// motor: `peak max(least, 1 - bend (PR - best)^2)`.
const VOLUMETRIC: (f64, f64) = (0.98, 0.022);
const LEAST_VOLUMETRIC: f64 = 0.2;
const PEAK: f64 = 0.66;
const BEND: f64 = 0.05;
const BEST_RATIO: f64 = 3.0;
const LEAST_SHARE: f64 = 0.6;
/// Share of the work that leaves with the gas; the shell gives off the rest. Default, no source.
pub(crate) const WORK_IN_GAS: f64 = 0.9;
/// How far the shell warms what enters the cylinder. Default, no source.
const SHELL_WARMING: f64 = 0.075;
/// kg in a pound and seconds in an hour. NIST SP 811 (2008), B.8.
const POUND: f64 = 0.453_592_37;
const HOUR: f64 = 3600.0;
/// How far flow follows density when the return gas is not that of the map, and the map's superheat,
/// K (20 °F). As coded in a compressor model, see `ahri_540_polynomial.csv`.
const DENSITY_SHARE: f64 = 0.75;
const MAP_SUPERHEAT: f64 = 11.1;
/// The least flow by a map that is worked with, over design; less is no solution.
pub(crate) const LEAST_MAP_FLOW: f64 = 0.02;

/// A maker's ten coefficients, for flow in lb/h and power in W, with dew temperatures in °F:
///
/// `X = c0 + c1 S + c2 D + c3 S2 + c4 SD + c5 D2 + c6 S3 + c7 DS2 + c8 SD2 + c9 D3`
///
/// # Source
/// Form and order of terms: AHRI 540 (`ahri_540_polynomial.csv`).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Mass flow, lb/h.
    pub flow_lb_h: [f64; 10],
    /// Power, W.
    pub power_w: [f64; 10],
}

impl Coefficients {
    /// Flow (kg/s) and power (W) between two dew temperatures, at the map's own superheat.
    pub(crate) fn at(&self, suction_dew: f64, discharge_dew: f64) -> (f64, f64) {
        let [s, d] = [suction_dew, discharge_dew].map(|kelvin| Temperature::from_k(kelvin).f());
        let terms = [
            1.0,
            s,
            d,
            s * s,
            s * d,
            d * d,
            s * s * s,
            d * s * s,
            s * d * d,
            d * d * d,
        ];
        let sum = |c: &[f64; 10]| c.iter().zip(terms).map(|(c, term)| c * term).sum::<f64>();
        (sum(&self.flow_lb_h) * POUND / HOUR, sum(&self.power_w))
    }

    /// The same with the return gas as it is: its volume, m3/kg, against that of the map's.
    pub(crate) fn corrected(
        &self,
        suction: &Saturated,
        volume: f64,
        discharge_dew: f64,
    ) -> (f64, f64) {
        let (flow, power) = self.at(suction.dew, discharge_dew);
        let usual = suction.vapour(MAP_SUPERHEAT).v;
        (flow * (1.0 + DENSITY_SHARE * (usual / volume - 1.0)), power)
    }
}

/// How it pumps.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Pump {
    /// Swept volume, m3/s.
    Swept(f64),
    /// By a map; with the design flow (kg/s) that floors it.
    Map(Coefficients, f64),
}

/// The compressor with its suction line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Compressor {
    pub(crate) pump: Pump,
    /// Suction line: pressure drop is this times flow squared over density, 1/m4.
    pub(crate) line_loss: f64,
    /// Heat gain of the suction line, W/K.
    pub(crate) line_ua: f64,
}

/// What comes to the suction line and stands against the compressor.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Intake<'a> {
    pub(crate) coil: &'a Saturated,
    /// Enthalpy of the dry vapour that leaves the coil, J/kg, and its temperature, K.
    pub(crate) enthalpy: f64,
    pub(crate) outlet: f64,
    /// Liquid that leaves the coil, kg/s.
    pub(crate) carry: f64,
    /// Shell and surrounding air, K.
    pub(crate) shell: f64,
    pub(crate) surroundings: f64,
    /// The refrigerant at the pressure against it.
    pub(crate) against: &'a Saturated,
    /// Shares: see [`crate::Faults`].
    pub(crate) pumping: f64,
    pub(crate) restriction: f64,
}

/// One look at the compressor.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Compression {
    /// kg/s.
    pub(crate) flow: f64,
    /// Suction pressure at its inlet, Pa, and gas temperature there, K.
    pub(crate) suction: f64,
    pub(crate) inlet: f64,
    /// J/kg, before and after.
    pub(crate) inlet_enthalpy: f64,
    pub(crate) discharge_enthalpy: f64,
    /// W.
    pub(crate) power: f64,
    /// Dew temperature at its inlet, K.
    pub(crate) suction_dew: f64,
}

/// Heat capacity of dry vapour near the dew line, J/(kg K), for the line's own heat gain.
fn vapour_heat(coil: &Saturated) -> f64 {
    (coil.vapour(10.0).h - coil.h_vapour) / 10.0
}

/// Work and what it does, for one kilogram: J/kg electric, and m3/kg in the cylinder.
pub(crate) struct Stroke {
    pub(crate) work: f64,
    pub(crate) volume: f64,
}

/// Compression by efficiencies of gas that enters at a dew point and superheat.
pub(crate) fn stroke(
    suction: &Saturated,
    superheat: f64,
    shell: f64,
    against: &Saturated,
) -> Stroke {
    let inlet = suction.dew + superheat;
    let warmed = superheat + SHELL_WARMING * (shell - inlet);
    let gas = suction.vapour(warmed);
    let end = against.superheat_of_entropy(gas.s);
    let ideal = against.vapour(end).h - gas.h;
    let off = against.p / suction.p - BEST_RATIO;
    let efficiency = PEAK * (1.0 - BEND * off * off).max(LEAST_SHARE);
    Stroke {
        work: ideal.max(0.0) / efficiency,
        volume: gas.v,
    }
}

/// Share of the swept volume that is filled.
pub(crate) fn filling(ratio: f64) -> f64 {
    (VOLUMETRIC.0 - VOLUMETRIC.1 * ratio).max(LEAST_VOLUMETRIC)
}

impl Compressor {
    /// Heat that the suction line takes up, J/kg.
    pub(crate) fn line_gain(
        &self,
        coil: &Saturated,
        outlet: f64,
        surroundings: f64,
        flow: f64,
    ) -> f64 {
        let heat = vapour_heat(coil);
        heat * (surroundings - outlet) * (1.0 - libm::exp(-self.line_ua / (flow * heat)))
    }

    /// Where to start: flow as dense as saturated gas, and its loss in the line.
    pub(crate) fn guess(&self, intake: &Intake) -> Compression {
        let (coil, density) = (intake.coil, intake.coil.rho_vapour());
        let flow = match self.pump {
            Pump::Swept(swept) => {
                intake.pumping * swept * filling(intake.against.p / coil.p) * density
            }
            Pump::Map(_, design) => intake.pumping * design,
        };
        let lost = self.line_loss * intake.restriction * flow * flow / (density * coil.p);
        // A lower suction pressure thins the gas and the flow with it.
        let share = 1.0 / (1.0 + lost);
        Compression {
            flow: flow * share,
            suction: coil.p * share,
            ..Compression::default()
        }
    }

    /// Flow, suction pressure and power, from those of the last look: suction drop and flow depend on
    /// each other, and each look brings them closer.
    pub(crate) fn look(&self, fluid: &Fluid, intake: &Intake, last: Compression) -> Compression {
        let coil = intake.coil;
        let gain = self.line_gain(coil, intake.outlet, intake.surroundings, last.flow);
        // Heat that the flow takes up on the way, W: from the line, less what its liquid lacks.
        let heat = gain * last.flow - intake.carry.min(last.flow) * coil.latent();
        let enthalpy = intake.enthalpy + heat / last.flow;
        let suction = fluid.low.at_pressure(last.suction);
        let superheat = suction.superheat_of_enthalpy(enthalpy);
        let stroke = stroke(&suction, superheat, intake.shell, intake.against);
        let volume = suction.vapour(superheat).v;
        let (flow, power) = match self.pump {
            Pump::Swept(swept) => {
                let ratio = intake.against.p / suction.p;
                let flow = intake.pumping * swept * filling(ratio) / stroke.volume;
                (flow, flow * stroke.work)
            }
            Pump::Map(map, design) => {
                let (flow, power) = map.corrected(&suction, volume, intake.against.dew);
                (
                    (intake.pumping * flow).max(LEAST_MAP_FLOW * design),
                    power.max(0.0),
                )
            }
        };
        // Density goes with pressure, so that the drop is a share of the suction pressure.
        let lost = self.line_loss * intake.restriction * flow * flow * volume / suction.p;
        // The same heat to the flow that has come out, so that energy closes whatever was guessed.
        let enthalpy = intake.enthalpy + heat / flow;
        Compression {
            flow,
            suction: coil.p / (1.0 + lost),
            inlet: suction.dew + superheat,
            inlet_enthalpy: enthalpy,
            discharge_enthalpy: enthalpy + WORK_IN_GAS * power / flow,
            power,
            suction_dew: suction.dew,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each coefficient alone, against the powers listed in the published order of terms.
    #[test]
    fn coefficients_stand_in_the_order_of_the_standard() {
        let table = include_str!("../tests/data/ahri_540_polynomial.csv");
        let mut checked = 0;
        for line in table
            .lines()
            .filter(|line| line.starts_with(|c: char| c.is_ascii_digit()))
        {
            let numbers: Vec<i32> = line
                .split(',')
                .map(|n| n.parse().expect("a number"))
                .collect();
            let [index, s, d] = numbers[..] else {
                panic!("three columns: {line}")
            };
            let mut power_w = [0.0; 10];
            power_w[index as usize] = 1.0;
            let map = Coefficients {
                flow_lb_h: power_w,
                power_w,
            };
            let (suction, discharge) = (Temperature::from_f(43.0), Temperature::from_f(117.0));
            let (flow, power) = map.at(suction.k(), discharge.k());
            let expected = f64::powi(43.0, s) * f64::powi(117.0, d);
            assert!(
                (power / expected - 1.0).abs() < 1e-9,
                "{line}: {power} {expected}"
            );
            // 0.000125998 kg/s in a lb/h, as in the same table's head.
            assert!(
                (flow / expected / 0.000_125_998 - 1.0).abs() < 1e-5,
                "{line}: {flow}"
            );
            checked += 1;
        }
        assert_eq!(checked, 10);
    }
}

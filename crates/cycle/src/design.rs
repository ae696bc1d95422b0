//! From what a technician can give to a whole system: everything is sized so that the model rests at
//! the design point.

use quantity::Temperature;

use crate::charge::{Spread, Vessel};
use crate::compressor::{Coefficients, Compressor, Pump, WORK_IN_GAS, filling, stroke};
use crate::condenser::{HotGas, HotSide, Zones};
use crate::error::BuildError;
use crate::evaporator::{Coil, FRONT_ROUND, RoomAir};
use crate::fluid::{Fluid, Saturated, Vapour};
use crate::plate::{Equalizer, Metering, Plate, Traits};
use crate::smooth::softplus_inverse;
use crate::system::System;
use crate::valve::{Balance, CHOKING, Device, Valve, lift as lift_of};
use crate::weather::{Weather, WeatherError};

/// Watt in a ton of refrigeration, 12 000 Btu/h (international table). NIST SP 811 (2008), B.8.
pub(crate) const TON: f64 = 3516.853;
/// The design point, °F. Air: AHRI 210/240 condition A. Refrigerant: common practice, no source.
const AIR: (f64, f64, f64) = (95.0, 80.0, 67.0);
const EVAPORATING: f64 = 45.0;
const CONDENSING: f64 = 115.0;

// Engineering defaults without a source, for each ton where it says so.
/// Inner volume of coil, condenser and compressor shell, m3/ton.
const COIL_VOLUME: f64 = 0.85e-3;
const CONDENSER_VOLUME: f64 = 2.2e-3;
const SHELL_VOLUME: f64 = 0.7e-3;
/// Holdings over the void model's; chosen, with the condenser's volume, on the charge rows of
/// `nist_tn1848_charge_check_cases.csv` (R-410A), so that those test the shape and predict nothing.
const COIL_HOLDING: f64 = 1.6;
const CONDENSER_HOLDING: f64 = 1.28;
/// Metal with its water film, J/K/ton.
const COIL_METAL: f64 = 2300.0;
const CONDENSER_METAL: f64 = 3500.0;
/// Condenser air, W/K/ton: 0.42 kg/s of dry air.
const CONDENSER_AIR: f64 = 0.42 * 1006.0;
/// Air-side transfer units of the coil.
const AIR_TRANSFER: f64 = 1.5;
/// Vapour side of the coil and heat gain of the suction line, W/K/ton.
const VAPOUR_UA: f64 = 58.0;
const LINE_UA: f64 = 1.33;
/// Bare liquid line in still air, W/(m2 K) of its inner wall: about 0.25 W/K for each metre.
const LIQUID_LINE_FILM: f64 = 10.0;
/// Pressure drops at design flow: suction line of suction; liquid line with drier, and condenser,
/// of head; coil with distributor of coil pressure.
const SUCTION_DROP: f64 = 0.014;
const LIQUID_DROP: f64 = 0.01;
const CONDENSER_DROP: f64 = 0.01;
const COIL_DROP: f64 = 0.05;
/// Lift at the design point; opening of an electronic valve there.
const DESIGN_LIFT: f64 = 0.55;
const DESIGN_OPENING: f64 = 0.5;
/// Halvings of a bracket, and passes over the shell temperature.
const HALVINGS: usize = 60;
const PASSES: usize = 60;
/// Most transfer units a condenser may need.
const MOST_TRANSFER: f64 = 30.0;
/// How far a map's capacity may be from the plate's.
const MAP_TOLERANCE: (f64, f64) = (0.6, 1.6);

impl System {
    /// Builds a system from a plate, with the usual values for what no one can see.
    ///
    /// # Errors
    /// [`BuildError`]: a value out of range, a design point outside the tables, coils that cannot
    /// reach it, or a compressor map of another size.
    ///
    /// # Example
    /// ```
    /// use cycle::{Equalizer, Faults, Metering, Plate, System, Weather};
    /// use refrigerant::Refrigerant;
    /// let valve = Metering::Txv(Equalizer::External);
    /// let system = System::build(&Plate::new(Refrigerant::R410A, 3.0, valve))?;
    /// let hot_day = Weather::at_sea_level_f(95.0, 80.0, 67.0)?;
    /// let point = system.steady(&hot_day, &Faults::NONE, 0.0)?;
    /// assert!((point.superheat().f() - 10.0).abs() < 0.5);
    /// assert!(System::build(&Plate::new(Refrigerant::R410A, 300.0, valve)).is_err());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn build(plate: &Plate) -> Result<Self, BuildError> {
        Self::build_with(plate, &Traits::default())
    }

    /// The same with values for what no one can see, as fitted or drawn.
    ///
    /// # Errors
    /// As [`Self::build`].
    pub fn build_with(plate: &Plate, traits: &Traits) -> Result<Self, BuildError> {
        plate.check()?;
        traits.check()?;
        let weather = design_weather()?;
        let fluid = Fluid::of(plate.refrigerant);
        let [t_e, t_c] = [EVAPORATING, CONDENSING].map(|f| Temperature::from_f(f).k());
        let (low, high) = (fluid.low.at(t_e), fluid.high.at(t_c));
        let superheat = plate.superheat.k();
        let outlet = low.vapour(superheat);
        let leaving = high.h_liquid - high.c_liquid * plate.subcooling.k();
        let outdoor = weather.outdoor().k();

        // Flow, then compressor and suction line.
        let suction = fluid.low.at_pressure(low.p * (1.0 - SUCTION_DROP));
        let line_ua = LINE_UA * plate.tons;
        let mut compressor = Compressor {
            pump: Pump::Swept(0.0),
            line_loss: 0.0,
            line_ua,
        };
        let discharge_dew = high.dew;
        let end = LineEnd {
            suction: &suction,
            outlet,
            surroundings: outdoor,
            discharge_dew,
        };
        let bare = LIQUID_LINE_FILM * core::f64::consts::PI * plate.lines.liquid_inner_mm * 1e-3;
        let liquid_line_ua = bare * plate.lines.length_m;
        let cooled = high.bubble - plate.subcooling.k();
        let line_cooling =
            |flow: f64| (outdoor - cooled) * libm::expm1(-liquid_line_ua / (flow * high.c_liquid));
        let flow = match &plate.compressor {
            None => {
                let mut flow = plate.tons * TON / (outlet.h - leaving);
                for _ in 0..PASSES {
                    let feed = leaving - high.c_liquid * line_cooling(flow);
                    flow = plate.tons * TON / (outlet.h - feed);
                }
                flow
            }
            Some(map) => map_flow(map, &compressor, &low, &end),
        };
        let line = line_cooling(flow);
        let feed = leaving - high.c_liquid * line;
        let map_tons = flow * (outlet.h - feed) / TON;
        if !(MAP_TOLERANCE.0..=MAP_TOLERANCE.1).contains(&(map_tons / plate.tons)) {
            return Err(BuildError::MapAgainstPlate {
                map_tons,
                plate_tons: plate.tons,
            });
        }
        let inlet_enthalpy = outlet.h + compressor.line_gain(&low, outlet.t, outdoor, flow);
        let inlet_superheat = suction.superheat_of_enthalpy(inlet_enthalpy);
        let inlet = suction.vapour(inlet_superheat);
        compressor.line_loss = SUCTION_DROP * low.p / (flow * flow * inlet.v);
        let mut shell = 0.5 * (t_c + 30.0 + inlet.t);
        let mut discharge_enthalpy = inlet_enthalpy;
        for _ in 0..PASSES {
            let cylinder = stroke(&suction, inlet_superheat, shell, &high);
            let work = match &plate.compressor {
                None => cylinder.work,
                Some(map) => map.at(suction.dew, discharge_dew).1 / flow,
            };
            discharge_enthalpy = inlet_enthalpy + WORK_IN_GAS * work;
            let discharge = discharge_dew + high.superheat_of_enthalpy(discharge_enthalpy);
            shell = (discharge + inlet.t) / 2.0;
            compressor.pump = match plate.compressor {
                None => Pump::Swept(flow * cylinder.volume / filling(high.p / suction.p)),
                Some(map) => Pump::Map(map, flow),
            };
        }

        // Indoor coil.
        let airflow = traits.airflow_m3_s_ton * plate.tons;
        let room = RoomAir::new(&weather, airflow, 1.0, AIR_TRANSFER);
        let mut coil = Coil {
            air_transfer: AIR_TRANSFER,
            boiling_ua: 0.0,
            vapour_ua: VAPOUR_UA * plate.tons,
        };
        let dry = coil.dry_share(&low, room.dry_bulb, superheat, flow);
        let quality = (feed - low.h_liquid) / low.latent();
        let boiling = (1.0 - quality) * flow * low.latent();
        coil.boiling_ua = room
            .boiling_ua(&weather, &low, 1.0 - dry, boiling)
            .map_err(|effectiveness| BuildError::Unreachable {
                coil: "evaporator",
                effectiveness,
            })?;
        let front = 1.0 - softplus_inverse(dry, FRONT_ROUND);

        // Condenser.
        let gas = HotGas {
            flow,
            enthalpy: discharge_enthalpy,
        };
        let sought = Sought {
            high: &high,
            gas: &gas,
            subcooling: plate.subcooling.k(),
        };
        let air = CONDENSER_AIR * plate.tons;
        let condenser = sought.condenser(air, outdoor)?;
        let (liquid, zones) = sought.zones(&condenser);

        // Valve and lines.
        let valve = valve(
            plate,
            traits,
            fluid,
            &Fed {
                low: &low,
                high: &high,
                liquid: cooled - line,
                flow,
            },
        );

        // Charge.
        let bore = |mm: f64| core::f64::consts::FRAC_PI_4 * mm * mm * 1e-6 * plate.lines.length_m;
        let vessel = Vessel {
            coil: COIL_VOLUME * plate.tons,
            condenser: CONDENSER_VOLUME * plate.tons,
            liquid_line: bore(plate.lines.liquid_inner_mm),
            suction_line: bore(plate.lines.suction_inner_mm) + SHELL_VOLUME * plate.tons,
            coil_holding: COIL_HOLDING,
            condenser_holding: CONDENSER_HOLDING,
        };
        let spread = Spread::new(&low, &high, front, quality, zones.gas);
        let charge = vessel.charge(&spread, liquid);

        Ok(Self {
            plate: plate.clone(),
            traits: *traits,
            fluid,
            vessel,
            coil,
            compressor,
            valve,
            condenser,
            liquid_line_ua,
            airflow,
            coil_metal: COIL_METAL * plate.tons,
            condenser_metal: CONDENSER_METAL * plate.tons,
            charge,
            design: [
                t_e,
                front,
                t_c,
                outlet.t,
                outlet.t,
                shell,
                1.0,
                1.0,
                1.0,
                DESIGN_OPENING,
            ],
            design_quality: quality,
            design_gas: zones.gas,
            design_heat: flow * (discharge_enthalpy - leaving),
        })
    }
}

/// Condition A. Constants, so that an error would be a mistake in this file.
fn design_weather() -> Result<Weather, BuildError> {
    Weather::at_sea_level_f(AIR.0, AIR.1, AIR.2).map_err(|error| match error {
        WeatherError::OutOfRange(error) => error.into(),
        WeatherError::Air(_) => BuildError::Unreachable {
            coil: "evaporator",
            effectiveness: 0.0,
        },
    })
}

/// Flow (kg/s) of a map at the design point, with its own return gas: the suction line warms the gas
/// by so much that flow and warming depend on each other.
fn map_flow(map: &Coefficients, line: &Compressor, low: &Saturated, end: &LineEnd) -> f64 {
    let mut flow = map
        .at(end.suction.dew, end.discharge_dew)
        .0
        .max(f64::MIN_POSITIVE);
    for _ in 0..PASSES {
        let gain = line.line_gain(low, end.outlet.t, end.surroundings, flow);
        let superheat = end.suction.superheat_of_enthalpy(end.outlet.h + gain);
        let volume = end.suction.vapour(superheat).v;
        flow = map
            .corrected(end.suction, volume, end.discharge_dew)
            .0
            .max(f64::MIN_POSITIVE);
    }
    flow
}

/// Both ends of the suction line, and what the compressor works against.
struct LineEnd<'a> {
    suction: &'a Saturated,
    outlet: Vapour,
    surroundings: f64,
    discharge_dew: f64,
}

/// A condenser that gives a subcooling.
struct Sought<'a> {
    high: &'a Saturated,
    gas: &'a HotGas,
    subcooling: f64,
}

impl Sought<'_> {
    fn zones(&self, hot: &HotSide) -> (f64, Zones) {
        let liquid = hot.liquid_for(self.high, self.gas.flow, self.subcooling);
        (liquid, hot.look(self.high, self.gas, liquid))
    }

    /// How much more (W) it condenses than comes.
    fn surplus(&self, hot: &HotSide) -> f64 {
        let (_, zones) = self.zones(hot);
        zones.condensing_heat - self.gas.flow * self.high.latent()
    }

    /// The size that condenses what comes, by halving: more always condenses more.
    fn condenser(&self, air: f64, entering: f64) -> Result<HotSide, BuildError> {
        let of = |transfer| HotSide::new(air, transfer, entering);
        let (mut small, mut large) = (0.01, MOST_TRANSFER);
        if self.surplus(&of(large)) < 0.0 {
            let most = air * (self.high.bubble - entering);
            let effectiveness = self.gas.flow * self.high.latent() / most;
            return Err(BuildError::Unreachable {
                coil: "condenser",
                effectiveness,
            });
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (small + large);
            if self.surplus(&of(middle)) < 0.0 {
                small = middle
            } else {
                large = middle
            }
        }
        Ok(of(0.5 * (small + large)))
    }
}

struct Fed<'a> {
    low: &'a Saturated,
    high: &'a Saturated,
    /// Liquid before it, K.
    liquid: f64,
    flow: f64,
}

/// The device with its spring and area, from the balance of forces and the flow law.
fn valve(plate: &Plate, traits: &Traits, fluid: &Fluid, fed: &Fed) -> Valve {
    let Fed {
        low,
        high,
        liquid,
        flow,
    } = *fed;
    let superheat = plate.superheat.k();
    let cold = fluid.high.at(liquid);
    let rho = cold.rho_liquid;
    let per_drop = high.p * high.rho_liquid / (flow * flow);
    let (line_loss, condenser_loss) = (LIQUID_DROP * per_drop, CONDENSER_DROP * per_drop);
    let inlet = high.p - (line_loss + condenser_loss) * flow * flow / rho;
    let against = match plate.metering {
        Metering::Orifice => CHOKING * cold.p.min(inlet),
        Metering::Txv(_) | Metering::TxvFixed(_) | Metering::Eev => low.p,
    };
    let area_now = flow / libm::sqrt(2.0 * rho * (inlet - against));
    let bulb = low.dew + superheat;
    // Over one kelvin.
    let slope = fluid.low.pressure(low.dew + 0.5) - fluid.low.pressure(low.dew - 0.5);
    let balance = |equalizer: Equalizer| {
        let inner_drop = match equalizer {
            Equalizer::External => 0.0,
            Equalizer::Internal => COIL_DROP * low.p,
        };
        let mut balance = Balance {
            spring: 0.0,
            turn: slope * traits.superheat_per_turn.k(),
            stroke: slope * traits.stroke.k() * traits.bulb_slope,
            bulb_design: bulb,
            bulb_slope: traits.bulb_slope,
            bulb_limit: traits.bulb_limit.map(|limit| limit.pa()),
            inner_drop,
        };
        // With no spring the force exceeds what the design lift asks for by exactly the spring.
        let free = balance.force(fluid, bulb, 0.0, low.p, 1.0, 0.0);
        balance.spring = (free - force_for(DESIGN_LIFT)) * balance.stroke;
        Device::Txv(balance)
    };
    let (device, share) = match plate.metering {
        Metering::Txv(equalizer) | Metering::TxvFixed(equalizer) => {
            let open = 2.0 * DESIGN_LIFT - DESIGN_LIFT * DESIGN_LIFT;
            (
                balance(equalizer),
                traits.bleed + (1.0 - traits.bleed) * open,
            )
        }
        Metering::Eev => (Device::Eev(superheat), DESIGN_OPENING),
        Metering::Orifice => (Device::Orifice, 1.0),
    };
    Valve {
        device,
        area: area_now / share * traits.valve_size,
        bleed: traits.bleed,
        line_loss,
        condenser_loss,
        flow,
    }
}

/// The force (in lifts) whose lift is this, by halving.
fn force_for(lift: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if lift_of(middle) < lift {
            low = middle
        } else {
            high = middle
        }
    }
    0.5 * (low + high)
}

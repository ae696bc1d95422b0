//! What there is to read and to know at one moment.

use quantity::{AbsolutePressure, Temperature, TemperatureDifference};

use crate::charge::Spread;
use crate::design::TON;
use crate::plant::Seen;
use crate::round::Scene;
use crate::system::State;

/// Pounds in a kilogram times seconds in an hour. NIST SP 811 (2008), B.8.
const LB_H: f64 = 3600.0 / 0.453_592_37;
/// Watt in 1 Btu/h, international table. NIST SP 811 (2008), B.8.
const BTU_H: f64 = TON / 12_000.0;

/// A state of the refrigerant on its way round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Pressure.
    pub pressure: AbsolutePressure,
    /// Temperature.
    pub temperature: Temperature,
    /// Enthalpy, J/kg; as in `refrigerant`, 200 kJ/kg for liquid at 0 °C.
    pub enthalpy_j_kg: f64,
}

/// An operating point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Out of the coil, at the bulb.
    pub coil_outlet: Corner,
    /// At the compressor's inlet, where the suction port is.
    pub compressor_inlet: Corner,
    /// Behind the compressor.
    pub discharge: Corner,
    /// Behind the condenser, where the liquid port is.
    pub liquid_port: Corner,
    /// End of the liquid line, before the valve and its screen.
    pub line_end: Corner,
    /// Into the coil. Temperature: bubble of the boiling mixture.
    pub coil_inlet: Corner,
    /// Dew temperature at the coil.
    pub evaporating: Temperature,
    /// Dew temperature at the suction port.
    pub suction_dew: Temperature,
    /// Bubble temperature at the pressure of the liquid port, what a gauge reads as condensing.
    pub liquid_saturation: Temperature,
    /// Bubble temperature of the refrigerant in the condenser: lower than the gauge says when gas
    /// that does not condense is in it.
    pub condensing: Temperature,
    /// Temperature of the bulb.
    pub bulb: Temperature,
    /// Through the compressor, kg/s.
    pub mass_flow_kg_s: f64,
    /// Through the device, kg/s; equal at rest.
    pub feed_kg_s: f64,
    /// Heat taken from the room air, W: boiling and superheating.
    pub capacity_w: f64,
    /// Of it, water that condenses on the coil, kg/s.
    pub water_kg_s: f64,
    /// Compressor, W electric; fans are not in it.
    pub power_w: f64,
    /// Heat to the condenser's air, W.
    pub rejected_w: f64,
    /// Heat that the suction line takes up, W.
    pub line_gain_w: f64,
    /// Heat that the liquid line gives off, W; below zero where it takes it up.
    pub liquid_line_loss_w: f64,
    /// Air behind the coil, before the fan's heat.
    pub supply_air: Temperature,
    /// Air that enters the condenser.
    pub condenser_air: Temperature,
    /// Air that leaves it.
    pub condenser_leaving_air: Temperature,
    /// Turns of the stem, clockwise positive, from the design setting.
    pub stem_turns: f64,
    /// Lift of the needle, 0 to 1; opening of an electronic valve.
    pub lift: f64,
    /// Share of the coil that boils.
    pub wetted: f64,
    /// Share of the condenser full of liquid.
    pub condenser_liquid: f64,
    /// Vapour in what leaves the condenser, by mass.
    pub leaving_quality: f64,
    /// Vapour before the needle, by mass: flash gas.
    pub flash_gas: f64,
    /// Quality at the coil's inlet.
    pub inlet_quality: f64,
    /// Liquid that leaves the coil unboiled, kg/s: floodback.
    pub floodback_kg_s: f64,
    /// Charge given and charge found zone by zone, kg.
    pub charge_kg: f64,
    /// See [`Self::charge_kg`].
    pub charge_found_kg: f64,
}

impl Point {
    /// Superheat at the bulb: line less dew at the coil's pressure.
    pub fn superheat(&self) -> TemperatureDifference {
        self.coil_outlet.temperature - self.evaporating
    }

    /// Superheat at the suction port: line less dew at the port's pressure.
    pub fn superheat_at_port(&self) -> TemperatureDifference {
        self.compressor_inlet.temperature - self.suction_dew
    }

    /// Subcooling at the liquid port.
    pub fn subcooling(&self) -> TemperatureDifference {
        self.liquid_saturation - self.liquid_port.temperature
    }

    /// lb/h.
    pub fn mass_flow_lb_h(&self) -> f64 {
        self.mass_flow_kg_s * LB_H
    }

    /// Btu/h.
    pub fn capacity_btu_h(&self) -> f64 {
        self.capacity_w / BTU_H
    }

    /// Tons of 12 000 Btu/h.
    pub fn capacity_tons(&self) -> f64 {
        self.capacity_w / TON
    }

    /// From the unknowns and what was seen with them.
    pub(crate) fn of(scene: &Scene, state: &State, seen: &Seen) -> Self {
        let &[_, front, _, t_out, t_bulb, ..] = state;
        let round = &seen.round;
        let (low, high, fluid) = (&round.low, &round.high, scene.system.fluid);
        let corner = |p: f64, t: f64, h: f64| Corner {
            pressure: AbsolutePressure::from_pa(p),
            temperature: Temperature::from_k(t),
            enthalpy_j_kg: h,
        };
        let compression = &round.compression;
        let head = high.p + round.foreign;
        let discharge = if round.zones.superheat > 0.0 {
            high.dew + round.zones.superheat
        } else {
            high.dew
        };
        let port = fluid.high.temperature(seen.fed.feed.port);
        let line_end = fluid.high.temperature(seen.fed.feed.line_end);
        let capacity = round.boiling_heat + round.vapour_heat;
        let supply = scene.room().leaving(scene.weather, capacity);
        let zones = &round.zones;
        let spread = Spread::new(low, high, front, round.inlet_quality, zones.gas);
        let rejected = zones.gas_heat + zones.condensing_heat + zones.liquid_heat;
        let line_gain = scene.system.compressor.line_gain(
            low,
            t_out.max(low.dew),
            scene.weather.outdoor().k(),
            compression.flow,
        );
        Self {
            coil_outlet: corner(low.p, t_out, round.outlet_enthalpy),
            compressor_inlet: corner(
                compression.suction,
                compression.inlet,
                compression.inlet_enthalpy,
            ),
            discharge: corner(head, discharge, compression.discharge_enthalpy),
            liquid_port: corner(
                seen.fed.feed.port,
                round.liquid.min(port),
                round.leaving_enthalpy,
            ),
            line_end: corner(
                seen.fed.feed.line_end,
                round.fed_liquid.min(line_end),
                round.feed_enthalpy,
            ),
            coil_inlet: corner(low.p, low.bubble, round.feed_enthalpy),
            evaporating: Temperature::from_k(low.dew),
            suction_dew: Temperature::from_k(compression.suction_dew),
            liquid_saturation: Temperature::from_k(port),
            condensing: Temperature::from_k(high.bubble),
            bulb: Temperature::from_k(t_bulb),
            mass_flow_kg_s: compression.flow,
            feed_kg_s: seen.fed.feed.flow,
            capacity_w: capacity,
            water_kg_s: supply.water,
            power_w: compression.power,
            rejected_w: rejected,
            line_gain_w: line_gain * compression.flow,
            liquid_line_loss_w: (round.leaving_enthalpy - round.feed_enthalpy) * compression.flow,
            supply_air: Temperature::from_k(supply.dry_bulb),
            condenser_air: Temperature::from_k(round.entering),
            condenser_leaving_air: Temperature::from_k(
                round.entering + rejected / scene.condenser_air(),
            ),
            stem_turns: scene.turns,
            lift: seen.fed.lift,
            wetted: round.wetted,
            condenser_liquid: round.level.liquid,
            leaving_quality: round.level.quality,
            flash_gas: seen.fed.feed.flash,
            inlet_quality: round.inlet_quality,
            floodback_kg_s: round.carry,
            charge_kg: scene.charge(),
            charge_found_kg: scene.system.vessel.found(&spread, &round.level),
        }
    }
}

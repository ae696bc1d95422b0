//! The whole circuit at one moment: from the unknowns to how fast they change. Rest and motion are
//! both made of this one function.

use crate::charge::{Level, Spread};
use crate::compressor::{Compression, Intake};
use crate::condenser::{HotGas, HotSide, Zones};
use crate::error::OutOfRange;
use crate::evaporator::{RoomAir, shares, spill};
use crate::faults::Faults;
use crate::fluid::Saturated;
use crate::system::{Lags, State, System};
use crate::valve::{Device, Drive, Feed, lift};
use crate::weather::Weather;

/// Sweeps over charge, compressor and condenser, which lean on each other a little. With three the
/// charge closes to a few thousandths, energy to a ten-thousandth; see `tests/laws.rs`.
const SWEEPS: usize = 3;
/// Mass of vapour that follows the saturation pressure, share of vapour density a kelvin.
const SWING: f64 = 0.03;
/// Share of the coil's metal that the moving front warms or cools. The minutes that a valve takes to
/// settle come from this; without it the loop is several times too fast (prototype).
const QUENCH: f64 = 0.6;
/// Non-condensable gas is given for this temperature (K) in this share of the condenser.
const GAS_GIVEN: (f64, f64) = (315.0, 0.5);
/// The electronic valve's controller: share of travel for each kelvin. Engineering default, no
/// source.
const GAIN: f64 = 0.02;
/// The least it opens, share of travel.
const LEAST_OPENING: f64 = 0.05;
/// A loose bulb lags more: by its contact, down to this share of it. Default, no source.
const LOOSEST: f64 = 0.3;
/// Standard atmosphere, Pa: the air for which the condenser is sized.
const SEA_LEVEL: f64 = 101_325.0;

/// What holds the needle at this moment.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Needle {
    /// Nothing: it stands where the forces or the controller put it.
    Free,
    /// Friction: it was there, and follows when pulled further than half the band.
    Rubbing { held: f64, half_band: f64 },
    /// A motor that stands there.
    Motor(f64),
}

/// Everything that stays the same while the unknowns are looked for.
#[derive(Clone, Debug)]
pub(crate) struct Scene<'a> {
    pub(crate) system: &'a System,
    pub(crate) weather: &'a Weather,
    pub(crate) faults: Faults,
    pub(crate) turns: f64,
    room: RoomAir,
    outdoor: f64,
    /// Condenser air, W/K, and transfer units without gas in the way.
    hot_air: f64,
    hot_transfer: f64,
    charge: f64,
}

/// All there is to see at one moment.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Seen {
    pub(crate) rates: State,
    pub(crate) low: Saturated,
    pub(crate) high: Saturated,
    pub(crate) level: Level,
    pub(crate) compression: Compression,
    pub(crate) zones: Zones,
    pub(crate) feed: Feed,
    /// Pressure of the gas that does not condense, Pa.
    pub(crate) foreign: f64,
    /// Air that enters the condenser, K.
    pub(crate) entering: f64,
    /// Before friction and ends, lifts; and the lift.
    pub(crate) force: f64,
    pub(crate) lift: f64,
    /// Liquid and mixture to the valve: K and J/kg.
    pub(crate) liquid: f64,
    pub(crate) feed_enthalpy: f64,
    pub(crate) inlet_quality: f64,
    /// Share of the coil that boils.
    pub(crate) wetted: f64,
    /// Heat from the room air, boiling and superheating, W.
    pub(crate) boiling_heat: f64,
    pub(crate) vapour_heat: f64,
    /// Vapour out of the coil, J/kg, and liquid with it, kg/s.
    pub(crate) outlet_enthalpy: f64,
    pub(crate) carry: f64,
}

impl<'a> Scene<'a> {
    /// `turns` of the stem, clockwise positive, from the design setting.
    pub(crate) fn new(
        system: &'a System,
        weather: &'a Weather,
        faults: &Faults,
        turns: f64,
    ) -> Result<Self, OutOfRange> {
        faults.check()?;
        let (out, inward) = system.stem_ends();
        OutOfRange::check(&[("stem, turns clockwise", turns, -out, inward)])?;
        Ok(Self::of_checked(system, weather, faults, turns))
    }

    /// The same from what has been checked before.
    pub(crate) fn of_checked(
        system: &'a System,
        weather: &'a Weather,
        faults: &Faults,
        turns: f64,
    ) -> Self {
        let pressure = weather.indoor().pressure().pa() / SEA_LEVEL;
        let fan = faults.condenser_air;
        Self {
            system,
            weather,
            faults: *faults,
            turns,
            room: RoomAir::new(
                weather,
                system.airflow,
                faults.indoor_air,
                system.coil.air_transfer,
            ),
            outdoor: weather.outdoor().k(),
            hot_air: system.condenser.air * pressure * fan,
            hot_transfer: system.condenser.transfer / libm::sqrt(pressure * fan),
            charge: system.charge * faults.charge,
        }
    }

    pub(crate) fn room(&self) -> &RoomAir {
        &self.room
    }

    /// Heat capacity rate of the condenser's air, W/K.
    pub(crate) fn condenser_air(&self) -> f64 {
        self.hot_air
    }

    /// Charge in the circuit, kg.
    pub(crate) fn charge(&self) -> f64 {
        self.charge
    }

    /// The circuit with these unknowns.
    pub(crate) fn look(&self, state: &State, lags: &Lags, needle: Needle) -> Seen {
        let Self { system, faults, .. } = self;
        let &[
            t_e,
            front,
            t_c,
            t_out,
            t_bulb,
            t_shell,
            density,
            feed1,
            feed2,
            drive,
        ] = state;
        let fluid = system.fluid;
        let (low, high) = (fluid.low.at(t_e), fluid.high.at(t_c));
        let outlet = low.vapour(t_out - low.dew);
        let carry = system.valve.flow * spill(front);

        // High side: charge, compressor, condenser.
        let mut quality = system.design_quality;
        let mut heat = system.design_heat;
        let mut last: Option<Compression> = None;
        let recycled = faults.recirculation / (1.0 - faults.recirculation) / self.hot_air;
        let mut sweeps = SWEEPS;
        let mut spread = Spread::new(&low, &high, front, quality, system.design_gas);
        let (level, compression, zones, foreign, entering, feed_enthalpy) = loop {
            let level = system.vessel.level(self.charge, &spread);
            let foreign = self.foreign_gas(t_c, level.vapour_volume);
            let against = if foreign > 0.0 {
                fluid.high.at_pressure(high.p + foreign)
            } else {
                high
            };
            let intake = Intake {
                coil: &low,
                enthalpy: outlet.h,
                outlet: outlet.t,
                carry,
                shell: t_shell,
                surroundings: self.outdoor,
                against: &against,
                pumping: faults.pumping,
                restriction: faults.suction_restriction,
            };
            let before = last.unwrap_or_else(|| system.compressor.guess(&intake));
            let compression = system.compressor.look(fluid, &intake, before);
            last = Some(compression);
            let entering = self.outdoor + recycled * heat;
            let hot = HotSide {
                air: self.hot_air,
                transfer: HotSide::hindered(self.hot_transfer, foreign, high.p),
                entering,
            };
            let inflow = HotGas {
                flow: compression.flow,
                enthalpy: compression.discharge_enthalpy,
            };
            let zones = hot.look(&high, &inflow, level.liquid);
            let leaving =
                high.h_liquid - high.c_liquid * zones.subcooling + level.quality * high.latent();
            heat = compression.flow * (compression.discharge_enthalpy - leaving);
            quality = (leaving - low.h_liquid) / low.latent();
            spread = spread.with(quality, zones.gas);
            sweeps -= 1;
            if sweeps == 0 {
                break (level, compression, zones, foreign, entering, leaving);
            }
        };

        // The valve between the two.
        let liquid = t_c - zones.subcooling;
        let cold = fluid.high.at(liquid);
        let force = self.force_at(&low, t_bulb, feed1, drive);
        let lift = self.lift(force, needle);
        let feed = system.valve.look(
            fluid,
            &Drive {
                head: high.p + foreign,
                coil: low.p,
                liquid,
                liquid_density: cold.rho_liquid,
                bubble_pressure: cold.p,
                quality: level.quality,
                latent: high.latent(),
                liquid_heat: high.c_liquid,
                density_share: density,
                area: system.valve.area_at(lift) * faults.valve_area,
                restriction: faults.liquid_restriction,
                screen: faults.screen,
            },
        );

        // The coil.
        let (dry, wetted) = shares(front);
        let boiling_heat = self.room.heat(self.weather, &low, &system.coil, wetted);
        let outlet_aim = system
            .coil
            .outlet(&low, self.room.dry_bulb, dry, compression.flow);
        let vapour_heat = compression.flow * (low.vapour(outlet_aim - low.dew).h - low.h_vapour);

        // Masses and heats, kg/s and K/s.
        let latent = low.latent();
        let arriving = system.valve.flow * feed2;
        let boiled = boiling_heat / latent;
        let metal = system.coil_metal / latent;
        let swing = SWING * low.rho_vapour() * (system.vessel.coil + system.vessel.suction_line);
        let quench = QUENCH * metal * (self.room.dry_bulb - t_e);
        let front_mass = level.coil_liquid + quench;
        let liquid_gain = (1.0 - quality) * arriving - boiled - carry;
        let vapour_gain = boiled + quality * feed.flow - (compression.flow - carry);
        // [-metal, front_mass; swing + metal, -quench] [dT_e; dfront] = [liquid_gain; vapour_gain]
        let whole = metal * quench - front_mass * (swing + metal);
        let d_t_e = (-quench * liquid_gain - front_mass * vapour_gain) / whole;
        let d_front = (-metal * vapour_gain - (swing + metal) * liquid_gain) / whole;
        let hot_metal = system.condenser_metal / high.latent()
            + SWING * high.rho_vapour() * system.vessel.condenser;
        let condensed = zones.condensing_heat / high.latent();
        let d_t_c = (compression.flow * zones.to_condense - level.quality * feed.flow - condensed)
            / hot_metal;
        let discharge = high.dew + zones.superheat;
        let bulb_aim =
            faults.bulb_contact * t_out + (1.0 - faults.bulb_contact) * self.room.dry_bulb;
        let controller_aim = match system.valve.device {
            Device::Eev(_) => self.controlled(&low, t_bulb, drive),
            Device::Txv(_) | Device::Orifice => drive,
        };
        let rates = [
            d_t_e,
            d_front,
            d_t_c,
            (outlet_aim - t_out) / lags.tube,
            (bulb_aim - t_bulb) * faults.bulb_contact.max(LOOSEST) / lags.bulb,
            ((discharge + compression.inlet) / 2.0 - t_shell) / lags.shell,
            (feed.density_aim - density) / lags.line,
            (feed.flow / system.valve.flow - feed1) / lags.feed,
            (feed1 - feed2) / lags.feed,
            (controller_aim - drive) / lags.integral,
        ];
        Seen {
            rates,
            low,
            high,
            level,
            compression,
            zones,
            feed,
            foreign,
            entering,
            force,
            lift,
            liquid,
            feed_enthalpy,
            inlet_quality: quality,
            wetted,
            boiling_heat,
            vapour_heat,
            outlet_enthalpy: outlet.h,
            carry,
        }
    }

    /// Pressure of gas that does not condense, squeezed by liquid and warmed, Pa.
    fn foreign_gas(&self, t_c: f64, volume: f64) -> f64 {
        let given = self.faults.non_condensables.pa();
        given * GAS_GIVEN.1 * self.system.vessel.condenser / volume * t_c / GAS_GIVEN.0
    }

    /// Where the needle would stand without friction or motor: lifts, or share of travel.
    pub(crate) fn force(&self, state: &State) -> f64 {
        let &[t_e, _, _, _, t_bulb, _, _, feed1, _, drive] = state;
        self.force_at(&self.system.fluid.low.at(t_e), t_bulb, feed1, drive)
    }

    fn force_at(&self, low: &Saturated, t_bulb: f64, flow_share: f64, drive: f64) -> f64 {
        let Self { system, faults, .. } = self;
        match system.valve.device {
            Device::Txv(balance) => balance.force(
                system.fluid,
                t_bulb,
                faults.bulb_charge_lost,
                low.p,
                flow_share,
                self.turns,
            ),
            Device::Eev(_) => self.controlled(low, t_bulb, drive),
            Device::Orifice => 1.0,
        }
    }

    /// Lift of the needle under this force.
    fn lift(&self, force: f64, needle: Needle) -> f64 {
        if let Some(lift) = self.faults.stuck_at {
            return lift;
        }
        match (self.system.valve.device, needle) {
            (Device::Orifice, _) => 1.0,
            (Device::Eev(_), Needle::Motor(position)) => position,
            (Device::Eev(_), _) => force,
            (Device::Txv(_), Needle::Rubbing { held, half_band }) => {
                lift(held.clamp(force - half_band, force + half_band))
            }
            (Device::Txv(_), _) => lift(force),
        }
    }

    /// Where the electronic valve's controller wants its motor, share of travel.
    fn controlled(&self, low: &Saturated, sensor: f64, drive: f64) -> f64 {
        let target = match self.system.valve.device {
            Device::Eev(target) => target,
            Device::Txv(_) | Device::Orifice => return drive,
        };
        (drive + GAIN * (sensor - low.dew - target)).clamp(LEAST_OPENING, 1.0)
    }
}

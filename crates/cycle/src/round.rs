//! All of the circuit but the valve: charge, compressor, condenser, liquid line, coil. They lean on
//! each other a little, and are swept over until they agree.

use crate::charge::{Level, Spread};
use crate::compressor::{Compression, Intake};
use crate::condenser::{HotGas, HotSide, Zones};
use crate::error::OutOfRange;
use crate::evaporator::{RoomAir, shares, spill};
use crate::faults::Faults;
use crate::fluid::Saturated;
use crate::system::{State, System};
use crate::weather::Weather;

/// Sweeps from nothing but the unknowns: the charge closes to a few thousandths then, energy to a
/// ten-thousandth. At rest and in time each look starts where the last one ended, and both close to
/// the last digits; see `tests/laws.rs`.
const SWEEPS: usize = 3;
/// A sweep that moves nothing by more than this share was enough.
const AGREED: f64 = 1e-3;
/// Non-condensable gas is given for this temperature (K) in this share of the condenser.
const GAS_GIVEN: (f64, f64) = (315.0, 0.5);
/// Standard atmosphere, Pa: the air for which the condenser is sized.
const SEA_LEVEL: f64 = 101_325.0;

/// Everything that stays the same while the unknowns are looked for.
#[derive(Clone, Debug)]
pub(crate) struct Scene<'a> {
    pub(crate) system: &'a System,
    pub(crate) weather: &'a Weather,
    pub(crate) faults: Faults,
    pub(crate) turns: f64,
    room: RoomAir,
    outdoor: f64,
    /// The condenser with its air as it is now, without gas in the way.
    hot: HotSide,
    charge: f64,
}

/// What the sweeps start from: where the last ones ended, or the design point.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Start {
    /// Quality at the coil's inlet.
    quality: f64,
    /// Share of the condenser with hot gas.
    gas: f64,
    /// Heat to the condenser's air, W.
    heat: f64,
    compression: Option<Compression>,
}

impl Start {
    /// Where these sweeps ended.
    pub(crate) fn of(round: &Round) -> Self {
        Self {
            quality: round.inlet_quality,
            gas: round.zones.gas,
            heat: round.heat,
            compression: Some(round.compression),
        }
    }

    /// Whether a sweep moved it by next to nothing, so that another would by less.
    pub(crate) fn agrees_with(&self, swept: &Self) -> bool {
        let near = |one: f64, other: f64, size: f64| (one - other).abs() < AGREED * size;
        let flows = [self, swept].map(|one| one.compression.map_or(0.0, |one| one.flow));
        near(self.quality, swept.quality, 1.0)
            && near(self.gas, swept.gas, 1.0)
            && near(self.heat, swept.heat, swept.heat.abs())
            && near(flows[0], flows[1], flows[1].abs())
    }

    /// As far ahead of `self` as that is of `before`.
    pub(crate) fn ahead_of(&self, before: &Self) -> Self {
        // Never to half or below: what is divided by stays well above nothing.
        let ahead = |now: f64, before: f64| (2.0 * now - before).max(0.5 * now);
        Self {
            quality: 2.0 * self.quality - before.quality,
            gas: ahead(self.gas, before.gas),
            heat: ahead(self.heat, before.heat),
            compression: self
                .compression
                .zip(before.compression)
                .map(|(now, before)| Compression {
                    flow: ahead(now.flow, before.flow),
                    suction: ahead(now.suction, before.suction),
                    ..now
                }),
        }
    }
}

/// The circuit without its valve, at one moment.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Round {
    pub(crate) low: Saturated,
    pub(crate) high: Saturated,
    pub(crate) level: Level,
    pub(crate) compression: Compression,
    pub(crate) zones: Zones,
    /// Pressure of the gas that does not condense, Pa.
    pub(crate) foreign: f64,
    /// Air that enters the condenser, K.
    pub(crate) entering: f64,
    /// Liquid out of the condenser, K, and what leaves it, J/kg.
    pub(crate) liquid: f64,
    pub(crate) leaving_enthalpy: f64,
    /// The same at the end of the liquid line.
    pub(crate) fed_liquid: f64,
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
    /// Where the coil's outlet is heading, K.
    pub(crate) outlet_aim: f64,
    heat: f64,
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
        let outdoor = weather.outdoor().k();
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
            outdoor,
            hot: HotSide::new(
                system.condenser.air * pressure * fan,
                system.condenser.transfer / libm::sqrt(pressure * fan),
                outdoor,
            ),
            charge: system.charge * faults.charge,
        }
    }

    pub(crate) fn room(&self) -> &RoomAir {
        &self.room
    }

    /// Heat capacity rate of the condenser's air, W/K.
    pub(crate) fn condenser_air(&self) -> f64 {
        self.hot.air
    }

    /// Charge in the circuit, kg.
    pub(crate) fn charge(&self) -> f64 {
        self.charge
    }

    /// All but the valve, from nothing but the unknowns.
    pub(crate) fn round(&self, state: &State) -> Round {
        let system = self.system;
        let design = Start {
            quality: system.design_quality,
            gas: system.design_gas,
            heat: system.design_heat,
            compression: None,
        };
        self.swept(state, design, SWEEPS)
    }

    /// The same from a place near by, with fewer sweeps.
    pub(crate) fn round_from(&self, state: &State, near: &Round, sweeps: usize) -> Round {
        self.swept(state, Start::of(near), sweeps)
    }

    /// The same from a start.
    pub(crate) fn swept(&self, state: &State, start: Start, sweeps: usize) -> Round {
        let Self { system, faults, .. } = self;
        let &[t_e, front, t_c, t_out, _, t_shell, ..] = state;
        let fluid = system.fluid;
        let (low, high) = (fluid.low.at(t_e), fluid.high.at(t_c));
        let outlet = low.vapour(t_out - low.dew);
        let carry = system.valve.flow * spill(front);
        let recycled = faults.recirculation / (1.0 - faults.recirculation) / self.hot.air;
        let (dry, wetted) = shares(front);

        let Start {
            quality,
            gas,
            mut heat,
            compression: mut last,
        } = start;
        let mut spread = Spread::new(&low, &high, front, quality, gas);
        let mut left = sweeps;
        loop {
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
            let hot = self.hot.with(entering, foreign, high.p);
            let inflow = HotGas {
                flow: compression.flow,
                enthalpy: compression.discharge_enthalpy,
            };
            let zones = hot.look(&high, &inflow, level.liquid);
            let leaving_enthalpy =
                high.h_liquid - high.c_liquid * zones.subcooling + level.quality * high.latent();
            heat = compression.flow * (compression.discharge_enthalpy - leaving_enthalpy);
            let liquid = t_c - zones.subcooling;
            let line = self.line_cooling(liquid, compression.flow * high.c_liquid);
            let feed_enthalpy = leaving_enthalpy - high.c_liquid * line;
            let inlet_quality = (feed_enthalpy - low.h_liquid) / low.latent();
            left = left.saturating_sub(1);
            if left > 0 {
                spread = spread.with(inlet_quality, zones.gas);
                continue;
            }

            let boiling_heat = self.room.heat(self.weather, &low, &system.coil, wetted);
            let outlet_aim = system
                .coil
                .outlet(&low, self.room.dry_bulb, dry, compression.flow);
            let gain = low.vapour(outlet_aim - low.dew).h - low.h_vapour;
            return Round {
                low,
                high,
                level,
                compression,
                zones,
                foreign,
                entering,
                liquid,
                leaving_enthalpy,
                fed_liquid: liquid - line,
                feed_enthalpy,
                inlet_quality,
                wetted,
                boiling_heat,
                vapour_heat: compression.flow * gain,
                outlet_enthalpy: outlet.h,
                carry,
                outlet_aim,
                heat,
            };
        }
    }

    /// How far the liquid line cools liquid of this temperature (K) and heat capacity rate (W/K), K:
    /// towards the open air, below zero where that is warmer.
    fn line_cooling(&self, liquid: f64, rate: f64) -> f64 {
        (self.outdoor - liquid) * libm::expm1(-self.system.liquid_line_ua / rate)
    }

    /// Pressure of gas that does not condense, squeezed by liquid and warmed, Pa.
    fn foreign_gas(&self, t_c: f64, volume: f64) -> f64 {
        let given = self.faults.non_condensables.pa();
        given * GAS_GIVEN.1 * self.system.vessel.condenser / volume * t_c / GAS_GIVEN.0
    }
}

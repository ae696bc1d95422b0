//! The indoor coil: a wetted part that boils, a dry part that superheats, and the air over them.

use crate::fluid::Saturated;
use crate::smooth::{softmax, softplus};
use crate::weather::Weather;

/// Rounding of the liquid front at the coil's end: circuits differ, share of the coil. And of
/// where liquid starts to leave it.
pub(crate) const FRONT_ROUND: f64 = 0.012;
const SPILL_ROUND: f64 = 0.008;
/// How far past the end the front must be for all the feed to leave as liquid, share of the coil.
const SPILL: f64 = 0.12;
/// Share of the glide that lies between the mean of the boiling part and dew.
const GLIDE_SHARE: f64 = 0.4;
/// Span over which the slope of saturated enthalpy is taken, K.
const SPAN: f64 = 8.0;
/// Air-side transfer units go with air flow to this power. Engineering default, no source.
const AIR_POWER: f64 = -0.4;
/// Heat capacity of moist air for each kg dry: ASHRAE Fundamentals (2017), chapter 1, equation 30.
const DRY_AIR: f64 = 1006.0;
const STEAM: f64 = 1860.0;
const WATER_LATENT: f64 = 2_501_000.0;
/// Rounding between a wet and a dry coil, share of their heat.
const WET_ROUND: f64 = 0.01;
/// 0 °C in K.
const ICE: f64 = 273.15;

/// The coil as built.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Coil {
    /// Air-side transfer units at full air flow.
    pub(crate) air_transfer: f64,
    /// Refrigerant and metal side of the boiling part, W/K.
    pub(crate) boiling_ua: f64,
    /// Vapour side if all of it superheated, W/K.
    pub(crate) vapour_ua: f64,
}

/// The air over it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RoomAir {
    /// Dry air, kg/s.
    pub(crate) flow: f64,
    /// K.
    pub(crate) dry_bulb: f64,
    /// J per kg dry.
    pub(crate) enthalpy: f64,
    /// Water, kg per kg dry.
    pub(crate) water: f64,
    /// Transfer units of the air side at this flow.
    pub(crate) transfer: f64,
}

/// Air that leaves the coil.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Leaving {
    /// K.
    pub(crate) dry_bulb: f64,
    /// Water taken out, kg/s.
    pub(crate) water: f64,
}

impl RoomAir {
    /// `share` of the full volume flow (m3/s).
    pub(crate) fn new(weather: &Weather, volume_flow: f64, share: f64, full_transfer: f64) -> Self {
        let air = weather.indoor();
        Self {
            flow: share * volume_flow / air.specific_volume_m3_per_kg(),
            dry_bulb: air.dry_bulb().k(),
            enthalpy: air.enthalpy().j_per_kg(),
            water: air.humidity_ratio(),
            transfer: full_transfer * libm::pow(share, AIR_POWER),
        }
    }

    /// Heat capacity rate, W/K.
    fn capacity(&self) -> f64 {
        self.flow * (DRY_AIR + STEAM * self.water)
    }

    /// Mean temperature of the boiling part, K.
    fn boiling(low: &Saturated) -> f64 {
        low.dew - GLIDE_SHARE * low.glide()
    }

    /// Slope of saturated enthalpy over the heat capacity of air.
    fn steepness(&self, weather: &Weather, surface: f64) -> f64 {
        let slope = (weather.saturated(surface + SPAN) - weather.saturated(surface)) / SPAN;
        slope * self.flow / self.capacity()
    }

    /// Heat (W) of a coil wetted by refrigerant over `share` of it. A wet coil follows enthalpy, a
    /// dry one temperature; whichever gives more.
    ///
    /// # Source
    /// The rule of the larger one: Braun, Klein and Mitchell, 1989 (from memory).
    pub(crate) fn heat(&self, weather: &Weather, low: &Saturated, coil: &Coil, share: f64) -> f64 {
        let boiling = Self::boiling(low);
        let capacity = self.capacity();
        let wet_units = 1.0
            / (1.0 / self.transfer + self.steepness(weather, boiling) * capacity / coil.boiling_ua);
        let dry_units = 1.0 / (1.0 / self.transfer + capacity / coil.boiling_ua);
        let span = self.enthalpy - weather.saturated(boiling);
        let wet = share * self.flow * -libm::expm1(-wet_units) * span;
        let dry = share * capacity * -libm::expm1(-dry_units) * (self.dry_bulb - boiling);
        softmax(wet, dry, WET_ROUND * dry.abs().max(1.0))
    }

    /// The boiling side (W/K) that gives this heat (W) over this share of a wet coil; or the
    /// effectiveness that would be needed, when no coil has it.
    pub(crate) fn boiling_ua(
        &self,
        weather: &Weather,
        low: &Saturated,
        share: f64,
        heat: f64,
    ) -> Result<f64, f64> {
        let boiling = Self::boiling(low);
        let most = share * self.flow * (self.enthalpy - weather.saturated(boiling));
        let effectiveness = heat / most;
        if !(effectiveness > 0.0 && effectiveness < -libm::expm1(-self.transfer)) {
            return Err(effectiveness);
        }
        let units = -libm::log1p(-effectiveness);
        let steepness = self.steepness(weather, boiling);
        Ok(steepness * self.capacity() / (1.0 / units - 1.0 / self.transfer))
    }

    /// Air behind the coil that gave up so much heat (W): part of it goes by untouched, the rest
    /// leaves at the coil's apparatus dew point; but it is never colder than if no water had
    /// condensed.
    pub(crate) fn leaving(&self, weather: &Weather, heat: f64) -> Leaving {
        let bypass = libm::exp(-self.transfer);
        let drop = heat / self.flow;
        let dew_point = weather.saturation_of(self.enthalpy - drop / (1.0 - bypass));
        let mixed = dew_point + bypass * (self.dry_bulb - dew_point);
        let dry_bulb = mixed.max(self.dry_bulb - heat / self.capacity());
        let celsius = dry_bulb - ICE;
        let water = (self.enthalpy - drop - DRY_AIR * celsius) / (WATER_LATENT + STEAM * celsius);
        Leaving {
            dry_bulb,
            water: (self.water - water).max(0.0) * self.flow,
        }
    }
}

/// Share of the coil that superheats, and that boils, with the front at `front` (1: full).
pub(crate) fn shares(front: f64) -> (f64, f64) {
    let dry = softplus(1.0 - front, FRONT_ROUND);
    (dry, 1.0 - dry)
}

/// Liquid that leaves the coil, over design flow.
pub(crate) fn spill(front: f64) -> f64 {
    softplus(front - 1.0, SPILL_ROUND) / SPILL
}

impl Coil {
    /// Temperature (K) to which vapour is heated in the dry share of the coil.
    pub(crate) fn outlet(&self, low: &Saturated, room: f64, dry: f64, flow: f64) -> f64 {
        let heat = (low.vapour(10.0).h - low.h_vapour) / 10.0;
        low.dew + (room - low.dew) * -libm::expm1(-self.vapour_ua * dry / (flow * heat))
    }

    /// The dry share that heats vapour by `superheat` (K).
    pub(crate) fn dry_share(&self, low: &Saturated, room: f64, superheat: f64, flow: f64) -> f64 {
        let heat = (low.vapour(10.0).h - low.h_vapour) / 10.0;
        -libm::log1p(-superheat / (room - low.dew)) * flow * heat / self.vapour_ua
    }
}

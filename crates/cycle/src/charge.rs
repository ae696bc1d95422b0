//! Where the charge is: holdings of coils and lines. Subcooling follows from this.

use crate::fluid::Saturated;
use crate::smooth::{softmin, softplus};

/// Rounding of the corner between a condenser with liquid and one short of it, share of its tubes.
const ROUND: f64 = 0.012;
/// The most of the condenser that liquid may fill, share.
pub(crate) const MOST_LIQUID: f64 = 0.95;
/// The most vapour that may leave a condenser short of charge, by mass.
pub(crate) const MOST_QUALITY: f64 = 0.9;
/// Steps and end of the search for that quality; what is left after a step goes with its square.
const SEARCH_STEPS: usize = 12;
const SEARCH_END: f64 = 1e-7;

/// Inner volumes (m3) and what multiplies the holdings of the void model.
///
/// # Source
/// Zivi's void with multipliers above 1, since it holds too little liquid: Harms, Groll and Braun,
/// 2003, say that the void model is the largest error of a charge model (as read in an abstract).
#[derive(Clone, Copy, Debug)]
pub(crate) struct Vessel {
    pub(crate) coil: f64,
    pub(crate) condenser: f64,
    pub(crate) liquid_line: f64,
    pub(crate) suction_line: f64,
    pub(crate) coil_holding: f64,
    pub(crate) condenser_holding: f64,
}

/// What the charge leaves for the condenser.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Level {
    /// Share of the condenser's tubes full of liquid.
    pub(crate) liquid: f64,
    /// Quality of what leaves it, when short of charge.
    pub(crate) quality: f64,
    /// Volume of vapour in it, m3.
    pub(crate) vapour_volume: f64,
    /// Liquid the wetted coil would hold if full, kg.
    pub(crate) coil_liquid: f64,
}

/// What decides the holdings, besides the charge.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spread<'a> {
    low: &'a Saturated,
    high: &'a Saturated,
    /// Share of the coil that holds liquid.
    front: f64,
    /// Quality at the coil's inlet.
    inlet_quality: f64,
    /// Share of the condenser that holds hot gas.
    gas: f64,
    coil_void: Void,
    condenser_void: Void,
    /// Mean liquid share of a zone that condenses everything, and how it changes with the quality
    /// that leaves it.
    full_share: (f64, f64),
}

impl<'a> Spread<'a> {
    pub(crate) fn new(
        low: &'a Saturated,
        high: &'a Saturated,
        front: f64,
        inlet_quality: f64,
        gas: f64,
    ) -> Self {
        let (coil_void, condenser_void) = (Void::of(low), Void::of(high));
        let full_share = condenser_void.liquid_share(0.0);
        Self {
            low,
            high,
            front,
            inlet_quality,
            gas,
            coil_void,
            condenser_void,
            full_share,
        }
    }

    /// The same place with what a sweep has found.
    pub(crate) fn with(self, inlet_quality: f64, gas: f64) -> Self {
        Self {
            inlet_quality,
            gas,
            ..self
        }
    }
}

/// Zivi's void model at one pressure, quality running evenly along the tube.
///
/// # Source
/// S. M. Zivi, Journal of Heat Transfer 86 (1964) 247 (cited from memory).
#[derive(Clone, Copy, Debug)]
struct Void {
    /// Density ratio of vapour to liquid to the power two thirds, and what it lacks to 1.
    ratio: f64,
    rest: f64,
}

impl Void {
    fn of(at: &Saturated) -> Self {
        Self {
            ratio: at.thinness,
            rest: 1.0 - at.thinness,
        }
    }

    /// Mean share of a tube's volume that is liquid while quality runs from `from` to 1, and how
    /// that changes with `from`.
    fn liquid_share(&self, from: f64) -> (f64, f64) {
        let under = self.rest * from + self.ratio;
        let scale = self.ratio / self.rest;
        let span = scale * ((from - 1.0) - libm::log(under) / self.rest);
        let here = self.ratio * (1.0 - from) / under;
        let share = span / (1.0 - from);
        (share, (share - here) / (1.0 - from))
    }
}

impl Vessel {
    /// Liquid that the coil holds when liquid reaches its end, kg.
    fn coil_liquid(&self, spread: &Spread) -> f64 {
        let quality = spread.inlet_quality.clamp(0.0, 0.95);
        let share = self.coil_holding * spread.coil_void.liquid_share(quality).0;
        spread.low.rho_liquid * self.coil * share.min(1.0)
    }

    /// Everything outside the condenser, kg, the liquid line being full.
    fn outside_condenser(&self, spread: &Spread, coil_liquid: f64) -> f64 {
        coil_liquid * spread.front
            + spread.low.rho_vapour() * (self.coil + self.suction_line)
            + spread.high.rho_liquid * self.liquid_line
    }

    /// Mean liquid share of the condensing zone when liquid leaves it.
    fn condensing_share(&self, spread: &Spread) -> f64 {
        (self.condenser_holding * spread.full_share.0).min(0.9)
    }

    /// Charge (kg) with `liquid` of the condenser full of it.
    pub(crate) fn charge(&self, spread: &Spread, liquid: f64) -> f64 {
        let coil = self.coil_liquid(spread);
        self.outside_condenser(spread, coil)
            + self.condenser_without_liquid(spread)
            + liquid * self.per_liquid(spread)
    }

    /// The condenser with its liquid zone just gone, kg.
    fn condenser_without_liquid(&self, spread: &Spread) -> f64 {
        let liquid = self.condensing_share(spread) * (1.0 - spread.gas);
        let (dense, thin) = (spread.high.rho_liquid, spread.high.rho_vapour());
        self.condenser * (dense * liquid + thin * (1.0 - liquid))
    }

    /// What filling the whole condenser would add to its condensing zone, kg.
    fn per_liquid(&self, spread: &Spread) -> f64 {
        let high = spread.high;
        (high.rho_liquid - high.rho_vapour())
            * self.condenser
            * (1.0 - self.condensing_share(spread))
    }

    /// What the charge leaves for the condenser: liquid, or vapour in what leaves it.
    pub(crate) fn level(&self, charge: f64, spread: &Spread) -> Level {
        let coil_liquid = self.coil_liquid(spread);
        let per_liquid = self.per_liquid(spread);
        let rest = charge
            - self.outside_condenser(spread, coil_liquid)
            - self.condenser_without_liquid(spread);
        let raw = rest / per_liquid;
        let held = softplus(raw, ROUND);
        let liquid = softmin(held, MOST_LIQUID, ROUND);
        // The rounded deficit: `softplus(-x)` is `softplus(x) - x`.
        let missing = (held - raw).max(0.0) * per_liquid;
        let condensing = (1.0 - spread.gas - liquid).max(0.0);
        let vapour = spread.gas + condensing * (1.0 - self.condensing_share(spread));
        Level {
            liquid,
            quality: self.quality(missing, spread),
            vapour_volume: self.condenser * vapour.max(0.03),
            coil_liquid,
        }
    }

    /// Charge (kg) that is missing when vapour of this quality leaves the condenser, and its
    /// slope: the liquid line foams and the condensing zone runs dry.
    fn missing(&self, quality: f64, spread: &Spread) -> (f64, f64) {
        let high = spread.high;
        let swell = high.rho_liquid / high.rho_vapour() - 1.0;
        let foam = 1.0 + quality * swell;
        let line = high.rho_liquid * self.liquid_line;
        let zone = (high.rho_liquid - high.rho_vapour())
            * self.condenser
            * (1.0 - spread.gas)
            * self.condenser_holding;
        let (share, slope) = if quality == 0.0 {
            spread.full_share
        } else {
            spread.condenser_void.liquid_share(quality)
        };
        (
            line * (1.0 - 1.0 / foam) + zone * (spread.full_share.0 - share),
            line * swell / (foam * foam) - zone * slope,
        )
    }

    /// The quality at which so much is missing. Newton's method from zero: the amount bends down,
    /// so that it never steps past the answer.
    fn quality(&self, missing: f64, spread: &Spread) -> f64 {
        let mut quality = 0.0;
        if missing == 0.0 {
            return quality;
        }
        for _ in 0..SEARCH_STEPS {
            let (amount, slope) = self.missing(quality, spread);
            let step = (missing - amount) / slope;
            quality = (quality + step).clamp(0.0, MOST_QUALITY);
            if step.abs() < SEARCH_END {
                break;
            }
        }
        quality
    }

    /// The charge (kg) that is where this operating point says, added up zone by zone: what the
    /// given charge is held against.
    pub(crate) fn found(&self, spread: &Spread, level: &Level) -> f64 {
        let full = self.charge(spread, level.liquid);
        full - self.missing(level.quality, spread).0
    }
}

//! A system as built, and the unknowns that describe it at a moment.

use crate::charge::Vessel;
use crate::compressor::Compressor;
use crate::condenser::HotSide;
use crate::error::Unknown;
use crate::evaporator::Coil;
use crate::fluid::Fluid;
use crate::plate::{Metering, Plate, Traits};
use crate::valve::Valve;

/// How many unknowns there are.
pub(crate) const COUNT: usize = 10;
/// The unknowns in the order of [`State`].
pub(crate) const UNKNOWNS: [Unknown; COUNT] = [
    Unknown::Evaporating,
    Unknown::LiquidFront,
    Unknown::Condensing,
    Unknown::CoilOutlet,
    Unknown::Bulb,
    Unknown::Shell,
    Unknown::FeedDensity,
    Unknown::FeedFirst,
    Unknown::FeedSecond,
    Unknown::Controller,
];
/// Their values, or their changes for each second.
pub(crate) type State = [f64; COUNT];

/// Integral time of the electronic valve's controller, s. Engineering default, no source.
const INTEGRAL_S: f64 = 60.0;
/// A system: what was given, and what was made of it.
#[derive(Clone, Debug)]
pub struct System {
    pub(crate) plate: Plate,
    pub(crate) traits: Traits,
    pub(crate) fluid: &'static Fluid,
    pub(crate) vessel: Vessel,
    pub(crate) coil: Coil,
    pub(crate) compressor: Compressor,
    pub(crate) valve: Valve,
    pub(crate) condenser: HotSide,
    /// Heat loss of the liquid line, W/K.
    pub(crate) liquid_line_ua: f64,
    /// Air-side volume flow of the coil, m3/s, and pressure for which the condenser's air is given.
    pub(crate) airflow: f64,
    /// Metal of coil and condenser, J/K.
    pub(crate) coil_metal: f64,
    pub(crate) condenser_metal: f64,
    /// The right charge, kg.
    pub(crate) charge: f64,
    /// The design point: unknowns, inlet quality, hot-gas share, heat rejected (W).
    pub(crate) design: State,
    pub(crate) design_quality: f64,
    pub(crate) design_gas: f64,
    pub(crate) design_heat: f64,
}

/// Time constants, s.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lags {
    pub(crate) bulb: f64,
    pub(crate) tube: f64,
    pub(crate) feed: f64,
    pub(crate) line: f64,
    pub(crate) shell: f64,
    pub(crate) integral: f64,
}

impl Lags {
    /// Those of the plant; defaults without a source but for the bulb's.
    pub(crate) fn of(traits: &Traits) -> Self {
        Self {
            bulb: traits.bulb_lag_s,
            tube: 12.0,
            feed: 7.0,
            line: 6.0,
            shell: 480.0,
            integral: INTEGRAL_S,
        }
    }
    /// Short ones that hasten the way to rest, which does not depend on them.
    pub(crate) const BRISK: Self = Self {
        bulb: 12.0,
        tube: 3.0,
        feed: 3.0,
        line: 4.0,
        shell: 20.0,
        integral: 60.0,
    };
}

impl System {
    /// The plate it was built from.
    pub fn plate(&self) -> &Plate {
        &self.plate
    }

    /// What was taken for what no one can see.
    pub fn traits(&self) -> &Traits {
        &self.traits
    }

    /// The right charge, kg: the plate's when it was given, else what the model holds at the design
    /// point.
    pub fn charge_kg(&self) -> f64 {
        self.plate.charge_kg.unwrap_or(self.charge)
    }

    /// Turns from the design setting to the ends of the stem: counter-clockwise, clockwise. None
    /// where there is no stem.
    pub fn stem_ends(&self) -> (f64, f64) {
        match self.plate.metering {
            Metering::Txv(_) => (self.traits.stem_turns_out, self.traits.stem_turns_in),
            Metering::TxvFixed(_) | Metering::Eev | Metering::Orifice => (0.0, 0.0),
        }
    }

    /// Lowest and highest of each unknown, between which the model means something.
    ///
    /// Temperatures: from a coil deep in frost to a condenser where any high-pressure switch has
    /// opened (338 K or the end of the table); the shell to beyond what oil bears.
    pub(crate) fn bounds(&self) -> [(f64, f64); COUNT] {
        let (coldest, _) = self.fluid.low.reach();
        let (_, hottest) = self.fluid.high.reach();
        let coldest = coldest.max(235.0);
        [
            (coldest, 310.0),
            (0.02, 1.35),
            (280.0, hottest.min(338.0)),
            (coldest, 338.0),
            (coldest, 338.0),
            (250.0, 480.0),
            (0.02, 1.0),
            (0.0, 4.0),
            (0.0, 4.0),
            (0.0, 1.0),
        ]
    }
}

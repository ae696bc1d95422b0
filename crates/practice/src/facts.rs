//! What happened, as the plant felt it: kept second by second for the debrief. Hidden until then.

use crate::act::Action;
use cycle::Point;
use quantity::AbsolutePressure;
use serde::Serialize;

/// How often the path is kept, s.
pub const SAMPLE_S: u32 = 30;
/// Less of the flow than this leaves every coil wet in the model's rounding: no floodback.
const FLOODBACK_SHARE: f64 = 0.01;

/// A moment of the path. `None` while the plant stands still.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Sample {
    /// Seconds since arrival.
    pub at_s: u32,
    /// Superheat at the bulb, °F.
    pub superheat_f: Option<f64>,
    /// Subcooling at the liquid port, °F.
    pub subcooling_f: Option<f64>,
    /// At the service valve, psig.
    pub suction_psig: Option<f64>,
    /// At the liquid port, psig.
    pub liquid_psig: Option<f64>,
    /// Stem from as found, quarter turns, clockwise positive.
    pub stem_quarters: i32,
}

impl Sample {
    pub(crate) fn of(at_s: u32, point: Option<&Point>, stem_quarters: i32) -> Self {
        let hundredth = |value: f64| libm::round(100.0 * value) / 100.0;
        let psig = |pressure: AbsolutePressure| {
            hundredth((pressure - AbsolutePressure::STANDARD_ATMOSPHERE).psi())
        };
        Self {
            at_s,
            superheat_f: point.map(|at| hundredth(at.superheat().f())),
            subcooling_f: point.map(|at| hundredth(at.subcooling().f())),
            suction_psig: point.map(|at| psig(at.compressor_inlet.pressure)),
            liquid_psig: point.map(|at| psig(at.liquid_port.pressure)),
            stem_quarters,
        }
    }
}

/// One action with what the plant was like when it was done.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Deed {
    /// When it was begun.
    pub(crate) at_s: u32,
    pub(crate) action: Action,
    /// °F of superheat between then and rest; nothing where the plant had no rest.
    pub(crate) from_rest_f: Option<f64>,
    /// Seconds since the last change of the plant.
    pub(crate) since_change_s: u32,
    /// True superheat and subcooling then, °F.
    pub(crate) truly_f: Option<(f64, f64)>,
    /// It mended something.
    pub(crate) mended: bool,
    /// Charge was added while something else starved the coil.
    pub(crate) starved: bool,
}

/// Harm, as the plant felt it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Harm {
    /// Seconds under the minimum superheat.
    pub under_minimum_s: u32,
    /// Liquid that went to the compressor, ounces.
    pub liquid_oz: f64,
    /// Refrigerant lost, ounces.
    pub lost_oz: f64,
    /// Charge added while the coil was starved by something else, ounces.
    pub added_to_starved_oz: f64,
    /// Safety stops.
    pub stops: u32,
}

/// The whole of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Facts {
    pub(crate) path: Vec<Sample>,
    pub(crate) deeds: Vec<Deed>,
    pub(crate) harm: Harm,
    /// When superheat was first under the minimum, liquid first came, and each stop.
    pub(crate) first_under_s: Option<u32>,
    pub(crate) first_liquid_s: Option<u32>,
    pub(crate) stops_s: Vec<u32>,
}

const OUNCE_KG: f64 = 0.453_592_37 / 16.0;

impl Facts {
    /// So many seconds of the running plant have passed.
    pub(crate) fn passed(&mut self, at_s: u32, seconds: u32, point: &Point, minimum_f: f64) {
        if point.superheat().f() < minimum_f {
            self.harm.under_minimum_s += seconds;
            self.first_under_s.get_or_insert(at_s);
        }
        if point.floodback_kg_s > FLOODBACK_SHARE * point.mass_flow_kg_s {
            self.harm.liquid_oz += f64::from(seconds) * point.floodback_kg_s / OUNCE_KG;
            self.first_liquid_s.get_or_insert(at_s);
        }
    }
}

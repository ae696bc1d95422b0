//! The tools as they hang on the plant: what each feels, with its lag, and what it shows.

use crate::act::Place;
use crate::session::LOOK_S;
use crate::tools::{BARE, Kit, Tool};
use cycle::{Point, Weather};
use diagnosis::{BulbTest, Field};
use quantity::{AbsolutePressure, Temperature};

/// What must be connected before a field shows anything.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Needs {
    /// Both hoses.
    Gauges,
    /// Thermometers on the pipes.
    PipeProbes,
    /// Thermometers in the air.
    AirProbes,
    /// The clamp.
    Clamp,
    /// An action that reads it once.
    Action(&'static str),
}

/// What there is to feel at a second.
pub(crate) struct Around<'a> {
    /// The plant, when it runs.
    pub(crate) point: Option<&'a Point>,
    pub(crate) weather: &'a Weather,
    /// Wet bulb of the return air: asked for often, and slow to find.
    pub(crate) room_wet: Temperature,
    /// What both gauges show while it does not.
    pub(crate) standing: Option<AbsolutePressure>,
    pub(crate) design_power_w: f64,
}

/// The compressor's amps at the design point, percent of the plate's. Amps are taken to follow power.
/// Common practice, no source.
const DESIGN_AMPS: f64 = 80.0;

/// Everything connected, and what was read once.
#[derive(Clone, Debug)]
pub(crate) struct Bag {
    kit: Kit,
    seed: u64,
    pub(crate) gauges: Option<Place>,
    pub(crate) probes: Option<(Place, bool)>,
    pub(crate) air: bool,
    pub(crate) clamp: bool,
    /// What each live tool has come to, in the field's unit; nothing before it was connected.
    felt: [Option<f64>; Field::COUNT],
    /// What was read once, as it was shown.
    kept: [Option<f64>; Field::COUNT],
    pub(crate) bulb_test: Option<BulbTest>,
}

/// The tool behind a live field.
const fn live(field: Field) -> Option<(Tool, Needs)> {
    use Needs::{AirProbes, Clamp, Gauges, PipeProbes};
    Some(match field {
        Field::SuctionPressure => (Tool::LowGauge, Gauges),
        Field::LiquidPressure => (Tool::HighGauge, Gauges),
        Field::SuctionLine => (Tool::SuctionProbe, PipeProbes),
        Field::LiquidLine => (Tool::LiquidProbe, PipeProbes),
        Field::CompressorSuction => (Tool::CompressorProbe, PipeProbes),
        Field::DischargeLine => (Tool::DischargeProbe, PipeProbes),
        Field::CondenserAir => (Tool::CondenserAir, AirProbes),
        Field::OpenAir => (Tool::OpenAir, AirProbes),
        Field::CondenserLeavingAir => (Tool::LeavingAir, AirProbes),
        Field::ReturnDryBulb => (Tool::ReturnDry, AirProbes),
        Field::ReturnWetBulb => (Tool::ReturnWet, AirProbes),
        Field::SupplyDryBulb => (Tool::Supply, AirProbes),
        Field::Amps => (Tool::Clamp, Clamp),
        _ => return None,
    })
}

/// What a field needs, see [`Needs`].
pub const fn needs(field: Field) -> Needs {
    match live(field) {
        Some((_, needs)) => needs,
        None => Needs::Action(match field {
            Field::DrierIn | Field::DrierOut | Field::LiquidLineEnd => "walk-liquid-line",
            Field::CoilPressure => "compare-suction",
            Field::SuctionLow | Field::SuctionHigh => "watch-needle",
            _ => "standing-test",
        }),
    }
}

fn psig(pressure: AbsolutePressure) -> f64 {
    (pressure - AbsolutePressure::STANDARD_ATMOSPHERE).psi()
}

impl Bag {
    pub(crate) fn new(kit: Kit, seed: u64) -> Self {
        Self {
            kit,
            seed,
            gauges: None,
            probes: None,
            air: false,
            clamp: false,
            felt: [None; Field::COUNT],
            kept: [None; Field::COUNT],
            bulb_test: None,
        }
    }

    pub(crate) fn has(&self, needs: Needs) -> bool {
        match needs {
            Needs::Gauges => self.gauges.is_some(),
            Needs::PipeProbes => self.probes.is_some(),
            Needs::AirProbes => self.air,
            Needs::Clamp => self.clamp,
            Needs::Action(_) => true,
        }
    }

    /// Some seconds go by: every connected tool comes nearer to what it feels.
    pub(crate) fn feel(&mut self, around: &Around) {
        for &field in Field::ALL {
            let Some((tool, needs)) = live(field) else {
                continue;
            };
            if !self.has(needs) {
                continue;
            }
            let Some(there) = self.true_at(field, around) else {
                continue;
            };
            // A probe comes from the bag at the air's temperature, a gauge from zero.
            let was = self.felt[field.index()].unwrap_or(match needs {
                Needs::Gauges | Needs::Clamp => 0.0,
                _ => around.weather.outdoor().f(),
            });
            let share = 1.0 - libm::exp(-f64::from(LOOK_S) / tool.lag_s());
            self.felt[field.index()] = Some(was + share * (there - was));
        }
    }

    /// A tool that was moved begins afresh.
    pub(crate) fn moved(&mut self, needs: Needs) {
        for &field in Field::ALL {
            if live(field).is_some_and(|(_, own)| own == needs) {
                self.felt[field.index()] = None;
            }
        }
    }

    /// What a tool would show if it were quick, and had neither error nor flicker.
    fn true_at(&self, field: Field, around: &Around) -> Option<f64> {
        let weather = around.weather;
        let (outdoor, room) = (weather.outdoor(), weather.indoor().dry_bulb());
        let Some(point) = around.point else {
            let still = match field {
                Field::SuctionPressure | Field::LiquidPressure => psig(around.standing?),
                Field::Amps => 0.0,
                Field::ReturnDryBulb | Field::SupplyDryBulb => room.f(),
                Field::ReturnWetBulb => around.room_wet.f(),
                _ => outdoor.f(),
            };
            return Some(still);
        };
        let wrapped = self.probes.is_none_or(|(_, wrapped)| wrapped);
        let on_pipe = |pipe: Temperature, air: Temperature| {
            if wrapped {
                pipe.f()
            } else {
                pipe.f() + BARE * (air - pipe).f()
            }
        };
        let at_bulb = |place: Option<Place>| place == Some(Place::Bulb);
        Some(match field {
            Field::SuctionPressure if at_bulb(self.gauges) => psig(point.coil_outlet.pressure),
            Field::SuctionPressure => psig(point.compressor_inlet.pressure),
            Field::LiquidPressure => psig(point.liquid_port.pressure),
            Field::SuctionLine if at_bulb(self.probes.map(|(place, _)| place)) => {
                on_pipe(point.coil_outlet.temperature, room)
            }
            Field::SuctionLine | Field::CompressorSuction => {
                on_pipe(point.compressor_inlet.temperature, outdoor)
            }
            Field::LiquidLine => on_pipe(point.liquid_port.temperature, outdoor),
            Field::DischargeLine => on_pipe(point.discharge.temperature, outdoor),
            Field::CondenserAir => point.condenser_air.f(),
            Field::OpenAir => outdoor.f(),
            Field::CondenserLeavingAir => point.condenser_leaving_air.f(),
            Field::ReturnDryBulb => room.f(),
            Field::ReturnWetBulb => around.room_wet.f(),
            Field::SupplyDryBulb => point.supply_air.f(),
            Field::Amps => DESIGN_AMPS * point.power_w / around.design_power_w,
            _ => return None,
        })
    }

    /// What a field shows at a second, in the unit of its key.
    pub(crate) fn shows(&self, field: Field, at_s: u32) -> Option<f64> {
        let Some((tool, needs)) = live(field) else {
            return self.kept[field.index()];
        };
        let felt = self.felt[field.index()].filter(|_| self.has(needs))?;
        Some(self.with_error(tool, felt, at_s))
    }

    fn with_error(&self, tool: Tool, felt: f64, at_s: u32) -> f64 {
        let standing = tool.standing_error(&self.kit, self.seed);
        let shown = felt + standing + tool.flicker(self.seed, at_s);
        // Displays of the trade end at the tenth.
        libm::round(10.0 * shown) / 10.0
    }

    fn keep(&mut self, field: Field, tool: Tool, value: f64, at_s: u32) {
        self.kept[field.index()] = Some(self.with_error(tool, value, at_s));
    }

    /// One thermometer along the liquid line: the one that hangs on it, so its error cancels in every
    /// drop. The drier stands beside the outdoor unit; where it is blocked all of the fall is in it.
    pub(crate) fn walk_line(&mut self, point: &Point, blocked: bool, at_s: u32) {
        let (start, end) = (
            point.liquid_port.temperature.f(),
            point.line_end.temperature.f(),
        );
        let behind = if blocked { end } else { start };
        for (field, value, later) in [
            (Field::DrierIn, start, 0),
            (Field::DrierOut, behind, 1),
            (Field::LiquidLineEnd, end, 2),
        ] {
            self.keep(field, Tool::LiquidProbe, value, at_s + later);
        }
    }

    pub(crate) fn compare_suction(&mut self, point: &Point, at_s: u32) {
        let coil = psig(point.coil_outlet.pressure);
        self.keep(Field::CoilPressure, Tool::LowGauge, coil, at_s);
    }

    pub(crate) fn keep_standing(
        &mut self,
        pressure: AbsolutePressure,
        air: Temperature,
        at_s: u32,
    ) {
        let stands = psig(pressure);
        self.keep(Field::StandingPressure, Tool::LowGauge, stands, at_s);
        self.keep(Field::StandingAir, Tool::OpenAir, air.f(), at_s);
    }

    pub(crate) fn keep_swing(&mut self, (low, high): (f64, f64)) {
        self.kept[Field::SuctionLow.index()] = Some(low);
        self.kept[Field::SuctionHigh.index()] = Some(high);
    }

    /// The plant was changed: what was read once no longer holds. The standing pressure does, unless
    /// what is inside was changed.
    pub(crate) fn forget(&mut self, inside: bool) {
        for &field in Field::ALL {
            let standing = matches!(field, Field::StandingPressure | Field::StandingAir);
            if inside || !standing {
                self.kept[field.index()] = None;
            }
        }
        self.bulb_test = None;
    }
}

//! What a hand can do: one row for each action.

use diagnosis::{ActionOrder, Cause};
use serde::{Deserialize, Serialize};

/// Money of the bench: invented, so that nobody takes a figure for a price.
pub const MONEY: &str = "shells (demo, invented)";
/// What a minute of work costs, shells.
pub(crate) const MINUTE_COSTS: f64 = 1.0;

/// Where a pressure or a pipe is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// Beside the bulb, at the coil's outlet: a tee or the pipe there.
    Bulb,
    /// At the service valve of the outdoor unit.
    ServiceValve,
}

/// Something to look at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Spot {
    /// The filter.
    Filter,
    /// The face of the indoor coil.
    IndoorCoil,
    /// The outdoor coil and its fan.
    OutdoorCoil,
    /// What stands round the outdoor unit.
    Surroundings,
    /// Bulb, strap and wrapping.
    Bulb,
    /// Seal cap and stem.
    StemCap,
    /// Liquid line and drier, by eye and hand.
    LiquidLine,
    /// Suction line, by eye and hand.
    SuctionLine,
}

impl Spot {
    /// Every spot, in the order of the round.
    pub const ALL: [Self; 8] = [
        Self::Filter,
        Self::IndoorCoil,
        Self::OutdoorCoil,
        Self::Surroundings,
        Self::Bulb,
        Self::StemCap,
        Self::LiquidLine,
        Self::SuctionLine,
    ];
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Filter => "filter",
            Self::IndoorCoil => "indoor-coil",
            Self::OutdoorCoil => "outdoor-coil",
            Self::Surroundings => "surroundings",
            Self::Bulb => "bulb",
            Self::StemCap => "stem-cap",
            Self::LiquidLine => "liquid-line",
            Self::SuctionLine => "suction-line",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Filter => "Filter",
            Self::IndoorCoil => "Indoor coil",
            Self::OutdoorCoil => "Outdoor coil and fan",
            Self::Surroundings => "Round the outdoor unit",
            Self::Bulb => "Bulb, strap, wrapping",
            Self::StemCap => "Seal cap and stem",
            Self::LiquidLine => "Liquid line and drier",
            Self::SuctionLine => "Suction line",
        }
    }
}

/// Something done. In files each is `{"do": ...}` with what it needs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Action {
    /// Look at a spot.
    Look {
        /// Which.
        spot: Spot,
    },
    /// Connect both hoses.
    ConnectGauges {
        /// Where the suction hose goes; the liquid hose goes to the liquid port.
        place: Place,
    },
    /// Strap thermometers to suction line, liquid line, discharge, and suction at the compressor.
    StrapProbes {
        /// Where the one for the suction line goes.
        place: Place,
        /// Whether each is wrapped against the air.
        wrapped: bool,
    },
    /// Hang thermometers in the air at both coils.
    HangAirProbes,
    /// Put the clamp round one conductor of the compressor.
    ClampAmps,
    /// Change the filter.
    ChangeFilter,
    /// Clean the indoor coil.
    CleanIndoorCoil,
    /// Wash the condenser.
    WashCondenser,
    /// Give the condenser's air a way out.
    ClearRecess,
    /// Clean the pipe, strap the bulb to it, wrap it.
    StrapBulb,
    /// Hold the bulb in a warm hand and watch suction.
    WarmBulb,
    /// Watch the suction needle for a minute.
    WatchNeedle,
    /// Follow the liquid line with one thermometer: drier in, drier out, valve inlet.
    WalkLiquidLine,
    /// Move the suction gauge to the coil and read there too.
    CompareSuction,
    /// Search for a leak.
    SearchLeak,
    /// Switch off, let all come to the air's temperature, read the standing pressure, start again.
    StandingTest,
    /// Turn the stem.
    TurnStem {
        /// Signed quarter turns, clockwise positive.
        quarters: i32,
    },
    /// Weigh refrigerant in.
    AddCharge {
        /// Ounces, over 0, at most 64.
        ounces: f64,
    },
    /// Recover refrigerant into a cylinder.
    TakeCharge {
        /// Ounces, over 0, at most 64.
        ounces: f64,
    },
    /// Recover all, evacuate, weigh in the plate charge.
    Recharge,
    /// Replace the drier and clear the liquid line.
    ChangeDrier,
    /// Replace the metering device; a new one comes at its maker's setting.
    ReplaceValve,
    /// Find and clear what blocks the suction line.
    ClearSuctionLine,
    /// Replace the compressor.
    ReplaceCompressor,
    /// Start again after a safety switch has stopped the plant.
    StartAgain,
    /// Let time pass.
    Wait {
        /// Whole seconds, at most four hours.
        seconds: u32,
    },
    /// Say what is wrong. The last call counts; an empty one takes it back.
    Call {
        /// Every cause that is there.
        #[serde(with = "crate::keyed::list")]
        causes: Vec<Cause>,
    },
    /// Pack up. The case is over.
    Leave,
}

/// How much can go wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Risk {
    /// Nothing to speak of.
    None,
    /// Can be undone.
    Small,
    /// Hurts the plant or a person when done wrong.
    Real,
}

/// What is said of an action. Minutes, money and refrigerant lost: demo, invented, of a likely size.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Row {
    /// Its name in files.
    pub key: &'static str,
    /// Its name for a person.
    pub says: &'static str,
    /// Minutes it takes.
    pub minutes: u32,
    /// Parts and fees, shells; a minute of work costs one more.
    pub money: f64,
    /// How much can go wrong.
    pub risk: Risk,
    /// Where it stands in the trade's order.
    #[serde(serialize_with = "order_key")]
    pub order: ActionOrder,
    /// The plant stands still meanwhile.
    pub off: bool,
    /// Refrigerant that is lost with hoses and joints, ounces.
    pub lost_oz: f64,
    /// The caution that travels with it.
    pub caution: Option<&'static str>,
}

fn order_key<S: serde::Serializer>(order: &ActionOrder, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(match order {
        ActionOrder::Nothing => "nothing",
        ActionOrder::Free => "free",
        ActionOrder::Look => "look",
        ActionOrder::Stem => "stem",
        ActionOrder::Charge => "charge",
        ActionOrder::Repair => "repair",
    })
}

const LOCK: Option<&str> =
    Some("Lock out the power before reaching past a panel; mind blades and sharp fins.");
const PRESSURE: Option<&str> = Some(
    "Refrigerant under pressure: goggles and gloves, hoses rated for it, open slowly. Licensed work in many places.",
);
const LIVE: Option<&str> =
    Some("Live electrics: only trained hands, one conductor in the clamp, capacitors hold charge.");
const BURN: Option<&str> = Some("The discharge line burns; keep clear of moving blades.");
const WEIGH: Option<&str> = Some(
    "By licensed hands and by weight; never vent. Flammable classes: air the place, no spark, rated tools. Never over the plate without a reason.",
);
const OPEN: Option<&str> = Some(
    "Recover first, by licensed practice. Power locked out. Flammable classes: purge, air, no flame near refrigerant. Keep heat off bulb and valve; evacuate and weigh back in.",
);
const STEM: Option<&str> = Some(
    "Back-up wrench on the body. Opening lowers superheat and raises head: small steps; never force the stem past its end.",
);

impl Action {
    /// The row that says everything about it.
    pub const fn row(&self) -> &'static Row {
        use ActionOrder::{Charge, Free, Look, Nothing, Repair, Stem};
        use Risk::{None as Not, Real, Small};
        const fn row(
            key: &'static str,
            says: &'static str,
            cost: (u32, f64, f64),
            risk: Risk,
            order: ActionOrder,
            off: bool,
            caution: Option<&'static str>,
        ) -> Row {
            Row {
                key,
                says,
                minutes: cost.0,
                money: cost.1,
                risk,
                order,
                off,
                lost_oz: cost.2,
                caution,
            }
        }
        macro_rules! rows {
            ($($pattern:pat => $key:literal $says:literal $cost:tt $risk:ident $order:ident $off:literal $caution:expr;)*) => {
                match self { $($pattern => const { &row($key, $says, $cost, $risk, $order, $off, $caution) },)* }
            };
        }
        // Cost: minutes, shells, ounces lost.
        rows! {
            Self::Look { .. } => "look" "Look at it" (2, 0.0, 0.0) Not Free false None;
            Self::ConnectGauges { .. } => "connect-gauges" "Connect the gauges" (4, 0.0, 0.3) Small Look false PRESSURE;
            Self::StrapProbes { .. } => "strap-probes" "Strap thermometers to the pipes" (4, 0.0, 0.0) Not Look false BURN;
            Self::HangAirProbes => "hang-air-probes" "Hang thermometers in the air" (4, 0.0, 0.0) Not Look false BURN;
            Self::ClampAmps => "clamp-amps" "Clamp the compressor's amps" (3, 0.0, 0.0) Real Look false LIVE;
            Self::ChangeFilter => "change-filter" "Change the filter" (4, 8.0, 0.0) Not Free false None;
            Self::CleanIndoorCoil => "clean-indoor-coil" "Clean the indoor coil" (25, 10.0, 0.0) Small Free true LOCK;
            Self::WashCondenser => "wash-condenser" "Wash the condenser" (20, 5.0, 0.0) Small Look true LOCK;
            Self::ClearRecess => "clear-recess" "Clear the air's way round the condenser" (15, 0.0, 0.0) Not Free false None;
            Self::StrapBulb => "strap-bulb" "Strap and wrap the bulb" (8, 3.0, 0.0) Not Free false
                Some("Liquid may be reaching the compressor until the bulb reads true.");
            Self::WarmBulb => "warm-bulb" "Hold the bulb in a warm hand" (1, 0.0, 0.0) Small Look false
                Some("Some seconds only: a valve held wide open floods the compressor.");
            Self::WatchNeedle => "watch-needle" "Watch the needle for a minute" (0, 0.0, 0.0) Not Look false None;
            Self::WalkLiquidLine => "walk-liquid-line" "Walk the liquid line with one thermometer" (5, 0.0, 0.0) Not Look false None;
            Self::CompareSuction => "compare-suction" "Read suction at the coil as well" (5, 0.0, 0.2) Small Look false PRESSURE;
            Self::SearchLeak => "search-leak" "Search for a leak" (20, 0.0, 0.0) Not Look false
                Some("Air the place; flammable classes: no flame, rated detector.");
            Self::StandingTest => "standing-test" "Standing test" (35, 0.0, 0.0) Small Look true
                Some("Lock out. Wait three minutes at least before a compressor starts again.");
            Self::TurnStem { .. } => "turn-stem" "Turn the stem" (1, 0.0, 0.0) Small Stem false STEM;
            Self::AddCharge { .. } => "add-charge" "Weigh refrigerant in" (6, 10.0, 0.2) Real Charge false WEIGH;
            Self::TakeCharge { .. } => "take-charge" "Recover refrigerant" (8, 5.0, 0.2) Real Charge false
                Some("By licensed hands into a rated cylinder, no more than 80 % full; never vent. Flammable classes: rated machine, no spark.");
            Self::Recharge => "recharge" "Recover all, evacuate, weigh in" (120, 120.0, 1.5) Real Charge true OPEN;
            Self::ChangeDrier => "change-drier" "Change the drier" (90, 60.0, 2.0) Real Repair true OPEN;
            Self::ReplaceValve => "replace-valve" "Replace the metering device" (120, 150.0, 2.0) Real Repair true OPEN;
            Self::ClearSuctionLine => "clear-suction-line" "Clear the suction line" (100, 60.0, 2.0) Real Repair true OPEN;
            Self::ReplaceCompressor => "replace-compressor" "Replace the compressor" (240, 900.0, 3.0) Real Repair true OPEN;
            Self::StartAgain => "start-again" "Start again after a safety stop" (10, 0.0, 0.0) Real Nothing true
                Some("Find out why it stopped first; every start under high head hurts.");
            Self::Wait { .. } => "wait" "Wait" (0, 0.0, 0.0) Not Nothing false None;
            Self::Call { .. } => "call" "Say what is wrong" (0, 0.0, 0.0) Not Nothing false None;
            Self::Leave => "leave" "Pack up" (0, 0.0, 0.0) Not Nothing false None;
        }
    }

    /// With its weight as a scale shows it: to the tenth of an ounce. A file then holds it exactly.
    pub(crate) fn weighed(self) -> Self {
        let tenth = |ounces: f64| libm::round(10.0 * ounces) / 10.0;
        match self {
            Self::AddCharge { ounces } => Self::AddCharge {
                ounces: tenth(ounces),
            },
            Self::TakeCharge { ounces } => Self::TakeCharge {
                ounces: tenth(ounces),
            },
            other => other,
        }
    }

    /// One of each, with usual particulars: what a screen offers and the schema's examples.
    pub fn samples() -> Vec<Self> {
        vec![
            Self::Look { spot: Spot::Filter },
            Self::ConnectGauges {
                place: Place::ServiceValve,
            },
            Self::StrapProbes {
                place: Place::Bulb,
                wrapped: true,
            },
            Self::HangAirProbes,
            Self::ClampAmps,
            Self::ChangeFilter,
            Self::CleanIndoorCoil,
            Self::WashCondenser,
            Self::ClearRecess,
            Self::StrapBulb,
            Self::WarmBulb,
            Self::WatchNeedle,
            Self::WalkLiquidLine,
            Self::CompareSuction,
            Self::SearchLeak,
            Self::StandingTest,
            Self::TurnStem { quarters: -1 },
            Self::AddCharge { ounces: 4.0 },
            Self::TakeCharge { ounces: 4.0 },
            Self::Recharge,
            Self::ChangeDrier,
            Self::ReplaceValve,
            Self::ClearSuctionLine,
            Self::ReplaceCompressor,
            Self::StartAgain,
            Self::Wait { seconds: 60 },
            Self::Call { causes: vec![] },
            Self::Leave,
        ]
    }
}

//! Causes of trouble: one row of words each. What a cause does to the signs stands in `table`.

use crate::setup::Metering;
use crate::sign::Sign;

/// What can be behind a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// Nothing is wrong.
    NoFault,
    /// The valve passes too little: set closed, stuck, its screen blocked or its bulb charge lost.
    ValveUnderfeeding,
    /// The valve passes too much: set open, or too large.
    ValveOverfeeding,
    /// The bulb is loose, bare or in the wrong place, and reads warm.
    BulbContact,
    /// Too little refrigerant.
    LowCharge,
    /// Too much refrigerant.
    Overcharge,
    /// A block before the valve: drier, kink, screen, valve part shut.
    LiquidRestriction,
    /// A block between coil and compressor.
    SuctionRestriction,
    /// Too little air over the indoor coil.
    LowAirflow,
    /// Cold return air.
    LowLoad,
    /// Hot or humid return air.
    HighLoad,
    /// The condenser is dirty or its fan weak.
    CondenserFouled,
    /// The condenser draws in its own hot air.
    HotAirRecirculation,
    /// Air or nitrogen in the circuit.
    NonCondensables,
    /// The compressor pumps too little.
    WeakCompressor,
    /// Not the refrigerant on the plate, or a mixture.
    WrongRefrigerant,
}

/// When an action comes: the trade's order, free and reversible first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ActionOrder {
    /// Nothing to do.
    Nothing,
    /// Costs nothing and can be undone: bulb, filter, air.
    Free,
    /// Look or measure further, or clean.
    Look,
    /// The stem.
    Stem,
    /// The charge.
    Charge,
    /// Open the circuit or replace a part.
    Repair,
}

/// What is said of a cause.
#[derive(Debug)]
pub struct Words {
    /// Its name for a person.
    pub name: &'static str,
    /// What to do about it.
    pub action: &'static str,
    /// When that comes.
    pub order: ActionOrder,
    /// What would prove it wrong.
    pub overturned_by: &'static str,
    /// Where sources disagree.
    pub sources_differ: Option<&'static str>,
    /// The caution that travels with the action.
    pub caution: Option<&'static str>,
    /// Tests, cheapest first, with the sign that each settles; the first whose sign is not yet
    /// read is the next.
    pub tests: &'static [(Option<Sign>, &'static str)],
    /// How common it is among calls, relative. Judgement, no source.
    pub prior: f64,
}

macro_rules! causes {
    ($($name:ident $key:literal),* $(,)?) => {
        impl Cause {
            /// Every cause, in the order of the table.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];
            /// Its name in files and on the command line.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$name => $key,)* }
            }
        }
    };
}
causes! {
    NoFault "no-fault", ValveUnderfeeding "valve-underfeeding", ValveOverfeeding "valve-overfeeding",
    BulbContact "bulb-contact", LowCharge "low-charge", Overcharge "overcharge",
    LiquidRestriction "liquid-restriction", SuctionRestriction "suction-restriction",
    LowAirflow "low-airflow", LowLoad "low-load", HighLoad "high-load",
    CondenserFouled "condenser-fouled", HotAirRecirculation "hot-air-recirculation",
    NonCondensables "non-condensables", WeakCompressor "weak-compressor",
    WrongRefrigerant "wrong-refrigerant",
}

const WALK_THE_LINE: (Option<Sign>, &str) = (
    Some(Sign::LiquidLineDrop),
    "Walk the liquid line with one thermometer: outdoor unit, drier in and out, valve inlet. A drop before the valve is a block there; none up to the inlet leaves the valve or its screen.",
);
const WARM_HAND: (Option<Sign>, &str) = (
    Some(Sign::BulbAnswer),
    "Hold the bulb in a warm hand for some seconds. Suction rises: the valve answers. Nothing: valve, screen or bulb charge.",
);
const STRAP: (Option<Sign>, &str) = (
    None,
    "Press the bulb to clean pipe, strap it, insulate it, wait five minutes, read superheat again.",
);
const STEM_STEP: (Option<Sign>, &str) = (
    None,
    "With the bulb proved, open a quarter turn, wait until settled, measure. No answer over two steps: the stem is not the limit.",
);
const STANDING: (Option<Sign>, &str) = (
    Some(Sign::Standing),
    "Standing test: compressor off, condenser fan on until air in equals air out, then pressure against the chart at that air. Overcharge falls to the chart, gas stays above it.",
);
const SHADE: (Option<Sign>, &str) = (
    Some(Sign::EnteringAirRise),
    "Measure air entering the condenser and air in open shade. Entering warmer: hot air comes round.",
);
const AIR_SPLIT: (Option<Sign>, &str) = (
    Some(Sign::AirSplit),
    "Read return dry and wet bulb and supply dry bulb. Split high: too little air. Split low: too little refrigerant in the coil.",
);
const CONDENSER_RISE: (Option<Sign>, &str) = (
    Some(Sign::CondenserAirRise),
    "Look at the coil face and the fan, and read the air leaving the condenser. Wash, then read again.",
);

impl Cause {
    /// What is said of it.
    pub const fn words(self) -> &'static Words {
        match self {
            Self::NoFault => &Words {
                name: "Nothing wrong in these readings",
                action: "Leave the stem and the charge as they are.",
                order: ActionOrder::Nothing,
                overturned_by: "A reading away from its band once the tools are good enough to tell.",
                sources_differ: None,
                caution: None,
                tests: &[
                    AIR_SPLIT,
                    SHADE,
                    (None, "Read again in ten minutes, same places, same tools."),
                ],
                prior: 2.0,
            },
            Self::ValveUnderfeeding => &Words {
                name: "Valve underfeeding",
                action: "Prove solid liquid at the valve and a sound bulb, then open the stem a quarter turn and wait.",
                order: ActionOrder::Stem,
                overturned_by: "A temperature drop before the valve, subcooling under target, or superheat falling when the bulb is warmed and strapped.",
                sources_differ: Some(
                    "Both superheat and subcooling high: some makers say open the valve, the trade says clear drier and screen first. Trade order is used here. Head may be up or down, by condenser size. A blocked equalizer may starve or flood.",
                ),
                caution: Some(
                    "Opening raises head pressure and lowers superheat: small steps, never under the minimum.",
                ),
                tests: &[WALK_THE_LINE, WARM_HAND, STEM_STEP],
                prior: 0.8,
            },
            Self::ValveOverfeeding => &Words {
                name: "Valve overfeeding",
                action: "Strap and insulate the bulb first. If superheat stays low, close the stem a quarter turn and wait.",
                order: ActionOrder::Stem,
                overturned_by: "Superheat coming back within minutes of strapping and insulating the bulb.",
                sources_differ: Some(
                    "A blocked equalizer is said to flood by some, to starve by others: it depends on the pressure trapped.",
                ),
                caution: Some(
                    "Liquid may be reaching the compressor. Close first, look afterwards.",
                ),
                tests: &[STRAP, AIR_SPLIT],
                prior: 0.7,
            },
            Self::BulbContact => &Words {
                name: "Bulb loose, bare or misplaced",
                action: "Clean the pipe, full metal contact, metal strap, insulate; then read again before any turn.",
                order: ActionOrder::Free,
                overturned_by: "A bulb already strapped on clean pipe and insulated, or no change after it is.",
                sources_differ: Some(
                    "Clock position differs by source and pipe size; all but one agree never at six o'clock.",
                ),
                caution: Some("Liquid may be reaching the compressor until the bulb reads true."),
                tests: &[STRAP],
                prior: 0.7,
            },
            Self::LowCharge => &Words {
                name: "Low charge",
                action: "Find the leak first. Then add by weight in small amounts, and read superheat again after each.",
                order: ActionOrder::Charge,
                overturned_by: "Subcooling at or over its target.",
                sources_differ: Some(
                    "A valve holds superheat until the charge is well short; a list that shows superheat up at once is for a fixed orifice. A cold drier with a flashing sight glass can be low charge, not the drier.",
                ),
                caution: Some(
                    "Certified hands only; recover, never vent. Mildly flammable or flammable classes: ventilate, no spark.",
                ),
                tests: &[
                    WALK_THE_LINE,
                    (
                        None,
                        "Leak search: joints, cores, coil ends. Then weigh in and watch subcooling.",
                    ),
                ],
                prior: 1.4,
            },
            Self::Overcharge => &Words {
                name: "Overcharge",
                action: "Rule out gas by the standing test, then recover by weight in small amounts until subcooling is at target.",
                order: ActionOrder::Charge,
                overturned_by: "A standing pressure above the chart (gas), hot entering air, or subcooling back in band once the coil is clean.",
                sources_differ: Some(
                    "Superheat is held by a valve (8 to 12 °F in one worked set) and lowered on a fixed orifice: lists that show it low are for the orifice.",
                ),
                caution: Some("Recover into a rated cylinder, no more than 80 % full; never vent."),
                tests: &[STANDING, SHADE],
                prior: 0.9,
            },
            Self::LiquidRestriction => &Words {
                name: "Block in the liquid line",
                action: "Find the cold spot: drier, kink, screen, valve part shut. Clear or replace it before judging the valve.",
                order: ActionOrder::Repair,
                overturned_by: "No temperature drop from the outdoor unit up to the valve inlet.",
                sources_differ: Some(
                    "How much drop condemns a drier: under 0.5 °F normal and 3 °F blocked by one source, hard to name a number by another. Head up or normal to low, by condenser size and receiver.",
                ),
                caution: Some(
                    "Recover before opening the circuit; braze with nitrogen flowing; bulbs and valves away from heat.",
                ),
                tests: &[
                    WALK_THE_LINE,
                    (
                        Some(Sign::DrierDrop),
                        "Same thermometer at drier inlet and outlet.",
                    ),
                    WARM_HAND,
                ],
                prior: 0.7,
            },
            Self::SuctionRestriction => &Words {
                name: "Block in the suction line",
                action: "Compare pressure at the coil with pressure at the compressor; look for a kink, a suction drier or a part-shut valve.",
                order: ActionOrder::Repair,
                overturned_by: "The same pressure at coil and compressor.",
                sources_differ: None,
                caution: Some("Do not run a scroll on a blocked suction."),
                tests: &[(
                    Some(Sign::SuctionLineDrop),
                    "Read suction pressure at the coil outlet and at the service valve with the same gauge.",
                )],
                prior: 0.3,
            },
            Self::LowAirflow => &Words {
                name: "Low airflow over the indoor coil",
                action: "Filter, blower wheel, coil, dampers, registers. Thaw any ice fully, then read again.",
                order: ActionOrder::Free,
                overturned_by: "An air split at or under what the wet bulb calls for, or airflow measured right.",
                sources_differ: None,
                caution: Some("Lock out before reaching for the blower."),
                tests: &[
                    AIR_SPLIT,
                    (
                        None,
                        "Total external static at the cabinet: 0.5 in WC or under, and airflow to the unit's table.",
                    ),
                ],
                prior: 1.4,
            },
            Self::LowLoad => &Words {
                name: "Low load: cold return air",
                action: "Let the room warm, or wait; judge superheat only with a normal load.",
                order: ActionOrder::Free,
                overturned_by: "Return air at a usual room's dry and wet bulb.",
                sources_differ: Some("Superheat may hold or hunt at low load."),
                caution: None,
                tests: &[
                    (
                        Some(Sign::ReturnAir),
                        "Read return dry and wet bulb at the equipment.",
                    ),
                    AIR_SPLIT,
                ],
                prior: 0.5,
            },
            Self::HighLoad => &Words {
                name: "High load: hot or humid return air",
                action: "Nothing at the valve. Look for a return leak or an open fresh-air damper; read again when pulled down.",
                order: ActionOrder::Free,
                overturned_by: "Return air no warmer or wetter than the room.",
                sources_differ: None,
                caution: None,
                tests: &[(
                    Some(Sign::ReturnAir),
                    "Read return dry and wet bulb at the equipment, and compare with the room.",
                )],
                prior: 0.5,
            },
            Self::CondenserFouled => &Words {
                name: "Dirty condenser or weak fan",
                action: "Wash the coil, check the fan's direction, blade and speed; then read again. Charge last.",
                order: ActionOrder::Look,
                overturned_by: "A clean coil with a full, even fan, or a small air rise through the condenser.",
                sources_differ: Some(
                    "Subcooling normal to high by one list, both superheat and subcooling low by another that reads like a fixed orifice.",
                ),
                caution: Some("Lock out before washing; keep hands from the blades."),
                tests: &[SHADE, CONDENSER_RISE, STANDING],
                prior: 1.0,
            },
            Self::HotAirRecirculation => &Words {
                name: "Hot air drawn round the condenser",
                action: "Give the air a way out: clear the recess, fence or overhang. The charge is not the cause.",
                order: ActionOrder::Free,
                overturned_by: "Entering air no warmer than open shade.",
                sources_differ: Some(
                    "Clearances differ by maker: 24 to 48 in at the sides, 4 to 6 ft above.",
                ),
                caution: None,
                tests: &[SHADE],
                prior: 0.6,
            },
            Self::NonCondensables => &Words {
                name: "Air or other gas in the circuit",
                action: "Recover, evacuate, weigh in the plate charge.",
                order: ActionOrder::Charge,
                overturned_by: "A standing pressure on the chart.",
                sources_differ: Some(
                    "Subcooling low by one source, high by another: the subtraction shows it high, since gas inflates the pressure.",
                ),
                caution: Some(
                    "Old manuals bleed air off to atmosphere: venting is not lawful. Recover all of it.",
                ),
                tests: &[STANDING],
                prior: 0.4,
            },
            Self::WeakCompressor => &Words {
                name: "Compressor pumping too little",
                action: "Prove it by compression ratio, amps and a pump-down by its maker's method before condemning it.",
                order: ActionOrder::Repair,
                overturned_by: "A usual compression ratio.",
                sources_differ: None,
                caution: Some(
                    "Never pump a scroll into vacuum; wait three minutes before a restart.",
                ),
                tests: &[
                    (Some(Sign::Amps), "Clamp amps as a share of the plate."),
                    (None, "Pump-down by the maker's method."),
                ],
                prior: 0.4,
            },
            Self::WrongRefrigerant => &Words {
                name: "Wrong or mixed refrigerant",
                action: "Do not add. Identify it; recover, evacuate, weigh in what the plate names.",
                order: ActionOrder::Charge,
                overturned_by: "A standing pressure on the chart of the plate's refrigerant.",
                sources_differ: None,
                caution: Some(
                    "Unknown contents may be flammable: treat them so, and keep them apart when recovered.",
                ),
                tests: &[STANDING],
                prior: 0.2,
            },
        }
    }
}

impl Cause {
    /// What to do about it on this device. A valve without a stem cannot be turned, and an orifice
    /// has neither stem nor bulb.
    ///
    /// # Source
    /// Non-adjustable valves and electronic valves: common practice, no source.
    pub(crate) const fn action(self, metering: Metering) -> &'static str {
        match (self, metering) {
            (Self::ValveUnderfeeding | Self::ValveOverfeeding, Metering::FixedTxv) => {
                "No stem here: prove bulb, airflow, charge and liquid line; then it is the valve, to be replaced. Never make up for it with charge."
            }
            (Self::ValveUnderfeeding | Self::ValveOverfeeding, Metering::Electronic) => {
                "Check the controller's sensors against your tools, the coil seated on the valve, drive volts and steps, and the superheat it is set to hold."
            }
            (Self::ValveUnderfeeding | Self::ValveOverfeeding, Metering::FixedOrifice) => {
                "Check the orifice: size against the plate, seat, and dirt at its screen."
            }
            (cause, _) => cause.words().action,
        }
    }

    /// Its name on this device.
    pub(crate) const fn name(self, metering: Metering) -> &'static str {
        match (self, metering) {
            (Self::ValveUnderfeeding, Metering::FixedOrifice) => "Orifice blocked or too small",
            (Self::ValveOverfeeding, Metering::FixedOrifice) => "Orifice too large or unseated",
            (cause, _) => cause.words().name,
        }
    }

    /// Its tests that this device allows, cheapest first.
    pub(crate) fn tests(
        self,
        metering: Metering,
    ) -> impl Iterator<Item = (Option<Sign>, &'static str)> {
        self.words().tests.iter().copied().filter(move |&test| {
            if test == STEM_STEP {
                metering == Metering::AdjustableTxv
            } else if test == STRAP || test == WARM_HAND {
                metering.has_bulb()
            } else {
                true
            }
        })
    }
}

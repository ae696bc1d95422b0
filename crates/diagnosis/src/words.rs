//! What is said of a cause: one row of words each, with the tests that prove or clear it.

use crate::cause::{ActionOrder, Cause};
use crate::sign::Sign;

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
    /// Tests, cheapest first; the first whose sign is not yet read is the next.
    pub tests: &'static [Test],
    /// How common it is among calls, relative. Judgement, no source.
    pub prior: f64,
}

/// Something to do that tells more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Test {
    /// The sign that it reads, if the table has one for it.
    pub sign: Option<Sign>,
    /// The cause that it proves or clears by itself, where it reads no sign.
    pub proves: Option<Cause>,
    /// Minutes of work, tools at hand. Common practice, no source.
    pub minutes: f64,
    /// What to do, and what it tells.
    pub says: &'static str,
}

const fn reads(sign: Sign, minutes: f64, says: &'static str) -> Test {
    Test {
        sign: Some(sign),
        proves: None,
        minutes,
        says,
    }
}

const fn proves(cause: Cause, minutes: f64, says: &'static str) -> Test {
    Test {
        sign: None,
        proves: Some(cause),
        minutes,
        says,
    }
}

const WALK_THE_LINE: Test = reads(
    Sign::LiquidLineDrop,
    4.0,
    "Walk the liquid line with one thermometer: outdoor unit, drier in and out, valve inlet. A drop before the valve is a block there; none up to the inlet leaves the valve or its screen.",
);
pub(crate) const WARM_HAND: Test = reads(
    Sign::BulbAnswer,
    3.0,
    "Hold the bulb in a warm hand for some seconds. Suction rises: the valve answers. Nothing: valve, screen or bulb charge.",
);
pub(crate) const STRAP: Test = proves(
    Cause::BulbContact,
    10.0,
    "Press the bulb to clean pipe, strap it, insulate it, wait five minutes, read superheat again.",
);
pub(crate) const STEM_STEP: Test = proves(
    Cause::ValveUnderfeeding,
    20.0,
    "With the bulb proved, open a quarter turn, wait until settled, measure. No answer over two steps: the stem is not the limit.",
);
const STANDING: Test = reads(
    Sign::Standing,
    25.0,
    "Standing test: compressor off, condenser fan on until air in equals air out, then pressure against the chart at that air. Overcharge falls to the chart, gas stays above it.",
);
const SHADE: Test = reads(
    Sign::EnteringAirRise,
    3.0,
    "Measure air entering the condenser and air in open shade. Entering warmer: hot air comes round.",
);
const AIR_SPLIT: Test = reads(
    Sign::AirSplit,
    6.0,
    "Read return dry and wet bulb and supply dry bulb. Split high: too little air. Split low: too little refrigerant in the coil.",
);
const CONDENSER_RISE: Test = reads(
    Sign::CondenserAirRise,
    4.0,
    "Look at the coil face and the fan, and read the air leaving the condenser. Wash, then read again.",
);

impl Cause {
    /// What is said of it.
    pub const fn words(self) -> &'static Words {
        match self {
            Self::NoFault => {
                const {
                    &Words {
                        name: "Nothing wrong in these readings",
                        action: "Leave the stem and the charge as they are.",
                        order: ActionOrder::Nothing,
                        overturned_by: "A reading away from its band once the tools are good enough to tell.",
                        sources_differ: None,
                        caution: None,
                        tests: &[
                            AIR_SPLIT,
                            SHADE,
                            proves(
                                Cause::NoFault,
                                10.0,
                                "Read again in ten minutes, same places, same tools.",
                            ),
                        ],
                        prior: 2.0,
                    }
                }
            }
            Self::ValveUnderfeeding => {
                const {
                    &Words {
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
                    }
                }
            }
            Self::ValveOverfeeding => {
                const {
                    &Words {
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
                    }
                }
            }
            Self::BulbContact => {
                const {
                    &Words {
                        name: "Bulb loose, bare or misplaced",
                        action: "Clean the pipe, full metal contact, metal strap, insulate; then read again before any turn.",
                        order: ActionOrder::Free,
                        overturned_by: "A bulb already strapped on clean pipe and insulated, or no change after it is.",
                        sources_differ: Some(
                            "Clock position differs by source and pipe size; all but one agree never at six o'clock.",
                        ),
                        caution: Some(
                            "Liquid may be reaching the compressor until the bulb reads true.",
                        ),
                        tests: &[STRAP],
                        prior: 0.7,
                    }
                }
            }
            Self::LowCharge => {
                const {
                    &Words {
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
                            proves(
                                Cause::LowCharge,
                                30.0,
                                "Leak search: joints, cores, coil ends. Then weigh in and watch subcooling.",
                            ),
                        ],
                        prior: 1.4,
                    }
                }
            }
            Self::Overcharge => {
                const {
                    &Words {
                        name: "Overcharge",
                        action: "Rule out gas by the standing test, then recover by weight in small amounts until subcooling is at target.",
                        order: ActionOrder::Charge,
                        overturned_by: "A standing pressure above the chart (gas), hot entering air, or subcooling back in band once the coil is clean.",
                        sources_differ: Some(
                            "Superheat is held by a valve (8 to 12 °F in one worked set) and lowered on a fixed orifice: lists that show it low are for the orifice.",
                        ),
                        caution: Some(
                            "Recover into a rated cylinder, no more than 80 % full; never vent.",
                        ),
                        tests: &[STANDING, SHADE],
                        prior: 0.9,
                    }
                }
            }
            Self::LiquidRestriction => {
                const {
                    &Words {
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
                            reads(
                                Sign::DrierDrop,
                                3.0,
                                "Same thermometer at drier inlet and outlet.",
                            ),
                            WARM_HAND,
                        ],
                        prior: 0.7,
                    }
                }
            }
            Self::SuctionRestriction => {
                const {
                    &Words {
                        name: "Block in the suction line",
                        action: "Compare pressure at the coil with pressure at the compressor; look for a kink, a suction drier or a part-shut valve.",
                        order: ActionOrder::Repair,
                        overturned_by: "The same pressure at coil and compressor.",
                        sources_differ: None,
                        caution: Some("Do not run a scroll on a blocked suction."),
                        tests: &[reads(
                            Sign::SuctionLineDrop,
                            8.0,
                            "Read suction pressure at the coil outlet and at the service valve with the same gauge.",
                        )],
                        prior: 0.3,
                    }
                }
            }
            Self::LowAirflow => {
                const {
                    &Words {
                        name: "Low airflow over the indoor coil",
                        action: "Filter, blower wheel, coil, dampers, registers. Thaw any ice fully, then read again.",
                        order: ActionOrder::Free,
                        overturned_by: "An air split at or under what the wet bulb calls for, or airflow measured right.",
                        sources_differ: None,
                        caution: Some("Lock out before reaching for the blower."),
                        tests: &[
                            AIR_SPLIT,
                            proves(
                                Cause::LowAirflow,
                                10.0,
                                "Total external static at the cabinet: 0.5 in WC or under, and airflow to the unit's table.",
                            ),
                        ],
                        prior: 1.4,
                    }
                }
            }
            Self::LowLoad => {
                const {
                    &Words {
                        name: "Low load: cold return air",
                        action: "Let the room warm, or wait; judge superheat only with a normal load.",
                        order: ActionOrder::Free,
                        overturned_by: "Return air at a usual room's dry and wet bulb.",
                        sources_differ: Some("Superheat may hold or hunt at low load."),
                        caution: None,
                        tests: &[
                            reads(
                                Sign::ReturnAir,
                                4.0,
                                "Read return dry and wet bulb at the equipment.",
                            ),
                            AIR_SPLIT,
                        ],
                        prior: 0.5,
                    }
                }
            }
            Self::HighLoad => {
                const {
                    &Words {
                        name: "High load: hot or humid return air",
                        action: "Nothing at the valve. Look for a return leak or an open fresh-air damper; read again when pulled down.",
                        order: ActionOrder::Free,
                        overturned_by: "Return air no warmer or wetter than the room.",
                        sources_differ: None,
                        caution: None,
                        tests: &[reads(
                            Sign::ReturnAir,
                            4.0,
                            "Read return dry and wet bulb at the equipment, and compare with the room.",
                        )],
                        prior: 0.5,
                    }
                }
            }
            Self::CondenserFouled => {
                const {
                    &Words {
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
                    }
                }
            }
            Self::HotAirRecirculation => {
                const {
                    &Words {
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
                    }
                }
            }
            Self::NonCondensables => {
                const {
                    &Words {
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
                    }
                }
            }
            Self::WeakCompressor => {
                const {
                    &Words {
                        name: "Compressor pumping too little",
                        action: "Prove it by compression ratio, amps and a pump-down by its maker's method before condemning it.",
                        order: ActionOrder::Repair,
                        overturned_by: "A usual compression ratio.",
                        sources_differ: None,
                        caution: Some(
                            "Never pump a scroll into vacuum; wait three minutes before a restart.",
                        ),
                        tests: &[
                            reads(Sign::Amps, 4.0, "Clamp amps as a share of the plate."),
                            proves(
                                Cause::WeakCompressor,
                                20.0,
                                "Pump-down by the maker's method.",
                            ),
                        ],
                        prior: 0.4,
                    }
                }
            }
            Self::WrongRefrigerant => {
                const {
                    &Words {
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
                    }
                }
            }
        }
    }
}

//! What may be wrong in a case: one row for each way a cause comes about, and the pairs that mislead.

use cycle::Faults;
use diagnosis::{Cause, Metering};
use quantity::PressureDifference;
use serde::{Deserialize, Serialize};

/// Everything hidden that a way can change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Wrong {
    pub(crate) faults: Faults,
    /// Of the stem as found, from the setting that is right; clockwise positive.
    pub(crate) stem_quarters: i32,
    pub(crate) load: Load,
    /// The plant runs on something else than its plate says.
    pub(crate) other_refrigerant: bool,
    /// Share of the indoor air that the filter holds back, and that the coil's face does.
    pub(crate) filter: f64,
    pub(crate) coil: f64,
}

/// The load of a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Load {
    Usual,
    Low,
    High,
}

impl Wrong {
    pub(crate) const NOTHING: Self = Self {
        faults: Faults::NONE,
        stem_quarters: 0,
        load: Load::Usual,
        other_refrigerant: false,
        filter: 0.0,
        coil: 0.0,
    };

    /// The faults as the plant takes them: air held back by filter and coil, one after the other.
    pub(crate) fn settled(mut self) -> Self {
        self.faults.indoor_air = (1.0 - self.filter) * (1.0 - self.coil);
        self
    }
}

/// What is said of a way.
struct Row {
    key: &'static str,
    cause: Cause,
    /// For a person, after the case is over; the size stands in the unit named here.
    says: &'static str,
    /// Sizes drawn, on a valve.
    valve: (f64, f64),
    /// Sizes drawn on an orifice, where it can be at all.
    orifice: Option<(f64, f64)>,
    /// What the device must have.
    needs: Needs,
    apply: fn(&mut Wrong, f64),
}

#[derive(Clone, Copy, PartialEq)]
enum Needs {
    Nothing,
    Bulb,
    Stem,
    /// A needle that moves.
    Needle,
    /// Anything but a motor, which makes up for what is too large.
    NoMotor,
}

macro_rules! ways {
    ($($name:ident $key:literal $cause:ident $says:literal $valve:expr, $orifice:expr, $needs:ident, $apply:expr;)*) => {
        /// A way in which a cause comes about.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Way { $(#[doc = $says] $name,)* }

        impl Way {
            /// Every way.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];

            const fn row(self) -> &'static Row {
                match self {
                    $(Self::$name => &Row {
                        key: $key, cause: Cause::$cause, says: $says, valve: $valve,
                        orifice: $orifice, needs: Needs::$needs, apply: $apply,
                    },)*
                }
            }
        }
    };
}

// Sizes: what makes a call, by the model's own signs; default, no source. Where a size is a share it
// is that of the sound value.
ways! {
    Sound "sound" NoFault "Nothing is wrong" (0.0, 0.0), Some((0.0, 0.0)), Nothing, |_, _| {};
    StemIn "stem-in" ValveUnderfeeding "The stem was turned in by this many quarters" (14.0, 36.0), None, Stem,
        |wrong, size| wrong.stem_quarters += libm::round(size) as i32;
    SmallPassage "small-passage" ValveUnderfeeding "The passage of the device is too small by this share" (0.35, 0.62), Some((0.20, 0.45)), Nothing,
        |wrong, size| wrong.faults.valve_area *= 1.0 - size;
    StuckShut "stuck-shut" ValveUnderfeeding "The needle is stuck at this share of its lift" (0.16, 0.3), None, Needle,
        |wrong, size| wrong.faults.stuck_at = Some(size);
    BulbChargeLost "bulb-charge-lost" ValveUnderfeeding "The bulb has lost this share of its pressure" (0.08, 0.22), None, Bulb,
        |wrong, size| wrong.faults.bulb_charge_lost = size;
    ScreenBlocked "screen-blocked" ValveUnderfeeding "The screen before the needle resists as much as this many liquid lines" (25.0, 90.0), Some((12.0, 50.0)), Nothing,
        |wrong, size| wrong.faults.screen = size;
    StemOut "stem-out" ValveOverfeeding "The stem was turned out by this many quarters" (10.0, 28.0), None, Stem,
        |wrong, size| wrong.stem_quarters -= libm::round(size) as i32;
    LargePassage "large-passage" ValveOverfeeding "The passage of the device is too large by this share" (1.0, 2.2), Some((0.2, 0.6)), NoMotor,
        |wrong, size| wrong.faults.valve_area *= 1.0 + size;
    StuckOpen "stuck-open" ValveOverfeeding "The needle is stuck at this share of its lift" (0.7, 0.95), None, Needle,
        |wrong, size| wrong.faults.stuck_at = Some(size);
    BulbLoose "bulb-loose" BulbContact "The bulb feels room air by this share" (0.15, 0.4), None, Bulb,
        |wrong, size| wrong.faults.bulb_contact = 1.0 - size;
    ChargeShort "charge-short" LowCharge "Charge short by this share" (0.12, 0.3), Some((0.08, 0.25)), Nothing,
        |wrong, size| wrong.faults.charge -= size;
    ChargeOver "charge-over" Overcharge "Charge over by this share" (0.12, 0.35), Some((0.12, 0.3)), Nothing,
        |wrong, size| wrong.faults.charge += size;
    DrierBlocked "drier-blocked" LiquidRestriction "Liquid line and drier resist this many times their own more" (14.0, 60.0), Some((12.0, 45.0)), Nothing,
        |wrong, size| wrong.faults.liquid_restriction += size;
    SuctionBlocked "suction-blocked" SuctionRestriction "The suction line resists this many times its own more" (5.0, 18.0), Some((5.0, 18.0)), Nothing,
        |wrong, size| wrong.faults.suction_restriction += size;
    FilterDirty "filter-dirty" LowAirflow "The filter holds back this share of the indoor air" (0.28, 0.5), Some((0.28, 0.5)), Nothing,
        |wrong, size| wrong.filter = size;
    CoilDirty "coil-dirty" LowAirflow "Dirt on the indoor coil holds back this share of its air" (0.28, 0.5), Some((0.28, 0.5)), Nothing,
        |wrong, size| wrong.coil = size;
    CoolRoom "cool-room" LowLoad "The return air is cold" (1.0, 1.0), Some((1.0, 1.0)), Nothing,
        |wrong, _| wrong.load = Load::Low;
    HotRoom "hot-room" HighLoad "The return air is hot and humid" (1.0, 1.0), Some((1.0, 1.0)), Nothing,
        |wrong, _| wrong.load = Load::High;
    CondenserDirty "condenser-dirty" CondenserFouled "Dirt holds back this share of the condenser's air" (0.3, 0.5), Some((0.3, 0.5)), Nothing,
        |wrong, size| wrong.faults.condenser_air *= 1.0 - size;
    HotPocket "hot-pocket" HotAirRecirculation "This share of the condenser's air has been through it before" (0.18, 0.36), Some((0.18, 0.36)), Nothing,
        |wrong, size| wrong.faults.recirculation = size;
    AirInside "air-inside" NonCondensables "Air or nitrogen, kPa in half of the condenser at the design point" (260.0, 480.0), Some((260.0, 480.0)), Nothing,
        |wrong, size| wrong.faults.non_condensables = PressureDifference::from_kpa(size);
    WornCompressor "worn-compressor" WeakCompressor "The compressor pumps less by this share" (0.25, 0.45), Some((0.25, 0.45)), Nothing,
        |wrong, size| wrong.faults.pumping = 1.0 - size;
    OtherFill "other-fill" WrongRefrigerant "Filled with another refrigerant than the plate says" (1.0, 1.0), Some((1.0, 1.0)), Nothing,
        |wrong, _| wrong.other_refrigerant = true;
}

impl Way {
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        self.row().key
    }
    /// The cause that it is a way of.
    pub const fn cause(self) -> Cause {
        self.row().cause
    }
    /// What it is, for a person, after the case is over.
    pub const fn says(self) -> &'static str {
        self.row().says
    }
    /// The sizes that are drawn on this device; `None` where it cannot be.
    pub fn sizes(self, metering: Metering) -> Option<(f64, f64)> {
        let row = self.row();
        let fits = match row.needs {
            Needs::Nothing => true,
            Needs::Bulb => metering.has_bulb(),
            Needs::Stem => metering == Metering::AdjustableTxv,
            Needs::Needle => metering != Metering::FixedOrifice,
            Needs::NoMotor => metering != Metering::Electronic,
        };
        match metering {
            _ if !fits => None,
            Metering::FixedOrifice => row.orifice,
            _ => Some(row.valve),
        }
    }
    pub(crate) fn apply(self, wrong: &mut Wrong, size: f64) {
        (self.row().apply)(wrong, size);
    }
}

/// One thing that is wrong, and how much.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Trouble {
    /// How it came about; names the cause.
    #[serde(with = "crate::keyed")]
    pub way: Way,
    /// In the unit that the way's words name.
    pub size: f64,
}

/// Two troubles that hide one another.
pub(crate) struct Pair {
    /// Each with the share of its range of sizes that is drawn.
    pub(crate) parts: &'static [(Way, (f64, f64))],
    /// Another call that is as right as the first part's own.
    pub(crate) as_right: Option<Cause>,
}

const WHOLE: (f64, f64) = (0.0, 1.0);

/// The pairs that mislead.
pub(crate) const PAIRS: [Pair; 5] = [
    // A starved valve, and hot air that lifts the head: the head says "overcharge".
    Pair {
        parts: &[(Way::StemIn, WHOLE), (Way::HotPocket, WHOLE)],
        as_right: None,
    },
    // Little air lifts subcooling and hides that the charge is a little short.
    Pair {
        parts: &[(Way::FilterDirty, WHOLE), (Way::ChargeShort, (0.0, 0.35))],
        as_right: None,
    },
    // A loose bulb floods; somebody closed the stem against it.
    Pair {
        parts: &[(Way::BulbLoose, (0.3, 1.0)), (Way::StemIn, (0.0, 0.6))],
        as_right: None,
    },
    // A blocked drier starves; somebody opened the stem against it. Superheat is only suspicious.
    Pair {
        parts: &[(Way::DrierBlocked, WHOLE), (Way::StemOut, (0.0, 0.6))],
        as_right: None,
    },
    // A hot, humid day, and nothing wrong with the valve.
    Pair {
        parts: &[(Way::HotRoom, WHOLE)],
        as_right: Some(Cause::NoFault),
    },
];

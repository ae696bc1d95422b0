//! What must hold before the stem is touched: one row each.

use diagnosis::Metering;
use serde::{Deserialize, Serialize};

/// How a check stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CheckState {
    /// Seen, and it holds.
    Done,
    /// Seen, and it does not hold, or not looked at.
    NotDone,
    /// It cannot be seen from here.
    CannotCheck,
}

impl CheckState {
    /// Every state, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::Done, Self::NotDone, Self::CannotCheck];
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::NotDone => "not-done",
            Self::CannotCheck => "cannot-check",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Done => "Done",
            Self::NotDone => "Not done",
            Self::CannotCheck => "Can't check",
        }
    }
}
crate::keyed::keyed! { CheckState => "check state", CheckState::ALL, CheckState::key; }

/// A check as it stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Check {
    /// Done, not done, cannot check.
    #[serde(with = "crate::keyed")]
    pub state: CheckState,
    /// What was seen.
    pub note: String,
}

/// What a check belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    /// The machine as a whole: needed by every job.
    Machine,
    /// Air on both sides: needed by every job.
    Air,
    /// The sensing bulb: thermostatic valves only.
    Bulb,
    /// The valve: thermostatic valves only.
    Valve,
}

impl Part {
    /// Every part, in order.
    pub const ALL: [Self; 4] = [Self::Machine, Self::Air, Self::Bulb, Self::Valve];
    /// Its heading.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Machine => "Machine",
            Self::Air => "Air, both sides",
            Self::Bulb => "Sensing bulb",
            Self::Valve => "Feed and valve",
        }
    }
}

/// What is said of a check.
#[derive(Debug)]
pub struct Row {
    /// Its name in files.
    pub key: &'static str,
    /// What it belongs to.
    pub part: Part,
    /// What must hold.
    pub label: &'static str,
    /// How to see it, with ranges.
    pub how: &'static str,
    /// Where sources disagree.
    pub sources_differ: Option<&'static str>,
    /// The caution that travels with it.
    pub caution: Option<&'static str>,
    /// Why a job that fails it is turned away, if it is.
    pub turned_away: Option<&'static str>,
}

macro_rules! items {
    ($($name:ident $key:literal $part:ident $label:literal $how:literal
       $differ:expr, $caution:expr, $away:expr;)*) => {
        /// A check that comes before the stem.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Item { $(#[doc = $label] $name,)* }

        impl Item {
            /// Every check, in the trade's order.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];
            /// The row that says everything about it.
            pub const fn row(self) -> &'static Row {
                match self {
                    $(Self::$name => &Row {
                        key: $key, part: Part::$part, label: $label, how: $how,
                        sources_differ: $differ, caution: $caution, turned_away: $away,
                    },)*
                }
            }
        }
    };
}

items! {
    Safe "safe" Machine "Safe to work"
        "Power state known, goggles and gloves on, ladder or roof sure, hoses rated for the refrigerant, area aired."
        None, Some("Hooking up gauges is licensed work in many places. Flammable classes: no flame, no spark, rated tools only."), None;
    Mode "mode" Machine "Cooling, at one fixed speed"
        "Heat pump in cooling; inverter locked in its test mode; defrost and oil return over."
        None, None,
        Some("In heating the outdoor coil's valve meters and none of these targets apply; an unlocked inverter moves every reading. Set cooling at fixed speed, or charge by weight and the maker's table.");
    RunTime "run-time" Machine "Run long enough, with load"
        "10 to 15 minutes at least, 20 to 30 after a change of charge; room at 70 to 80 °F (21 to 27 °C)."
        Some("10 min by one maker, 15 by the protocol, up to 24 h for the room by another."), None, None;
    Panels "panels" Machine "All panels on"
        "Every cabinet panel in place before reading."
        None, None, None;
    OutdoorWarm "outdoor-warm" Machine "Warm enough outside"
        "55 °F (13 °C) or more at the condenser by the protocol; one maker asks 60 °F (16 °C)."
        Some("55 °F by the protocol, 60 °F by one maker. Colder: weigh the charge in."), None, None;
    Filter "filter" Air "Filter, blower and registers clear"
        "Filter clean, blower wheel clean, dampers and registers open."
        None, Some("Lock out before reaching past the blower door."), None;
    Ice "ice" Air "No ice on coil or lines"
        "Thaw fully first: an iced coil makes every reading void."
        None, None, None;
    Airflow "airflow" Air "Indoor airflow right"
        "350 to 450 cfm per ton usual, never under 300 for a charge test; total static 0.5 in WC (125 Pa) or less, or the air split the wet bulb calls for."
        Some("Static 0.5 in WC by one maker, 0.3 to 0.7 by trade rule."), None, None;
    IndoorCoil "indoor-coil" Air "Indoor coil clean"
        "Look at the face the air meets."
        None, None, None;
    OutdoorCoil "outdoor-coil" Air "Outdoor coil clean, fan right, air free"
        "Coil clean, fan turning the right way, 24 to 48 in (0.6 to 1.2 m) at the sides and 4 to 6 ft (1.2 to 1.8 m) above, no hot air coming back."
        Some("Clearances differ by maker."), Some("Mind the blades; lock out before washing."), None;
    BulbPlace "bulb-place" Bulb "Bulb in the right place"
        "First horizontal run, else a descending vertical with the capillary tail up; not on a riser, not on or after a trap; upstream of the equalizer tap. Pipe under 7/8 in (22 mm): near 12 o'clock. Larger: 10, 2, 4 or 8."
        Some("Clock position differs by source and size; all but one agree never at 6 o'clock, where oil runs."), None, None;
    BulbContact "bulb-contact" Bulb "Full contact, metal strap"
        "Clean pipe, whole length of the bulb on metal, strapped tight. Not on paint, not on a fitting."
        None, None, None;
    BulbInsulated "bulb-insulated" Bulb "Bulb insulated"
        "Over the bulb and a few inches each side. Bare or loose it reads warm, the valve opens, liquid comes back."
        None, Some("Fix bulb or wrapping first, wait, and read again before any turn."), None;
    Equalizer "equalizer" Valve "Equalizer open"
        "External line open, downstream of the bulb. Trade rule: external over 3 tons (10.6 kW)."
        Some("A blocked one floods by some sources, starves by others: it depends on the pressure trapped."), None, None;
    SolidLiquid "solid-liquid" Valve "Solid liquid at the valve"
        "Subcooling right at the condenser and no temperature drop along line and drier up to the valve inlet."
        Some("Sight glass only downstream of the drier; blends may bubble at the right charge."), None, None;
    Stem "stem" Valve "The valve has a stem to turn"
        "Seal cap on base or side. Many small valves have none: then charge by subcooling only."
        None, Some("Back-up wrench on the body; packing nut a little loose while turning."), None;
}
crate::keyed::keyed! { Item => "check", *Item::ALL, |item: Item| item.row().key; }

impl Item {
    /// Whether this device has it.
    pub fn applies(self, metering: Metering) -> bool {
        match self.row().part {
            Part::Machine | Part::Air => true,
            Part::Bulb | Part::Valve => match (self, metering) {
                (Self::Stem, metering) => metering == Metering::AdjustableTxv,
                (Self::SolidLiquid, metering) => metering.holds_superheat(),
                (_, metering) => {
                    matches!(metering, Metering::AdjustableTxv | Metering::FixedTxv)
                }
            },
        }
    }
}

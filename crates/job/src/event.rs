//! Everything that can happen to a job. This is also what is stored, one event an entry.

use crate::choice::{GaugeFace, PlateState};
use crate::look_first::{CheckState, Item};
use crate::name::Name;
use crate::plate::PlateField;
use crate::screen::Screen;
use crate::slip::Slip;
use crate::typed::Typed;
use coach::End;
use diagnosis::{BulbTest, Field, MeasuringPoint, Metering, Pedigree};
use quantity::GaugeReference;
use refrigerant::Refrigerant;
use serde::{Deserialize, Serialize};

/// What was changed that makes the system settle afresh.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Disturbance {
    /// The bulb was moved, strapped or insulated.
    Bulb,
    /// Filter, coil, blower or dampers.
    Airflow,
    /// Condenser washed, fan or its air set right.
    Condenser,
    /// Drier, screen or valve replaced.
    Part,
}

impl Disturbance {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Bulb, Self::Airflow, Self::Condenser, Self::Part];
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Bulb => "bulb",
            Self::Airflow => "airflow",
            Self::Condenser => "condenser",
            Self::Part => "part",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Bulb => "Bulb strapped or moved",
            Self::Airflow => "Indoor air set right",
            Self::Condenser => "Condenser cleaned or freed",
            Self::Part => "Part replaced",
        }
    }
}

/// Both ends of the stem's travel, opening first.
pub const STEM_ENDS: [End; 2] = [End::Opening, End::Closing];

/// The name of a stem end in files and on the command line.
pub const fn stem_end_key(end: End) -> &'static str {
    match end {
        End::Opening => "opening",
        End::Closing => "closing",
    }
}

crate::keyed::keyed! {
    Disturbance => "change", Disturbance::ALL, Disturbance::key;
    End => "stem end", STEM_ENDS, stem_end_key;
}

/// Something that happened to a job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
// Its stored form, flat with its name under `event`, is made in `saved`: a tag here would bring
// thrice the code into the page.
#[serde(rename_all = "kebab-case")]
pub enum Event {
    /// Words were written.
    Wrote {
        /// Which.
        #[serde(with = "crate::keyed")]
        name: Name,
        /// The words; blank clears.
        text: String,
    },
    /// The refrigerant was named.
    ChoseRefrigerant {
        /// Which.
        #[serde(with = "crate::keyed")]
        refrigerant: Refrigerant,
    },
    /// The metering device was named.
    ChoseMetering {
        /// Which.
        #[serde(with = "crate::keyed")]
        metering: Metering,
    },
    /// Where suction is read.
    ChosePoint {
        /// Where.
        #[serde(with = "crate::keyed")]
        point: MeasuringPoint,
    },
    /// The point that the superheat target is for.
    ChoseTargetPoint {
        /// Where.
        #[serde(with = "crate::keyed")]
        point: MeasuringPoint,
    },
    /// Whether the suction gauge sits at the service valve while the thermometer is at the bulb.
    PlacedGauge {
        /// It does.
        at_service_valve: bool,
    },
    /// What the gauges' zero stands on.
    ChoseGauge {
        /// Which.
        #[serde(with = "crate::keyed")]
        gauge: GaugeReference,
    },
    /// How the gauges state their error.
    ChoseFace {
        /// How.
        #[serde(with = "crate::keyed")]
        face: GaugeFace,
    },
    /// Whether the plate was read.
    SawPlate {
        /// How it is.
        #[serde(with = "crate::keyed")]
        plate: PlateState,
    },
    /// Where the superheat target came from.
    ChoseSuperheatPedigree {
        /// Where.
        #[serde(with = "crate::keyed")]
        pedigree: Pedigree,
    },
    /// Where the subcooling target came from.
    ChoseSubcoolingPedigree {
        /// Where.
        #[serde(with = "crate::keyed")]
        pedigree: Pedigree,
    },
    /// A number about the job was typed.
    Noted {
        /// Which.
        #[serde(with = "crate::keyed")]
        field: PlateField,
        /// What was typed; blank clears.
        typed: Typed,
    },
    /// A check was marked.
    Checked {
        /// Which.
        #[serde(with = "crate::keyed")]
        item: Item,
        /// How it stands.
        #[serde(with = "crate::keyed")]
        state: CheckState,
        /// What was seen.
        note: String,
    },
    /// The gate was opened against open checks.
    Overrode {
        /// Why; goes into the record.
        reason: String,
    },
    /// Words were begun that wait for their tap.
    Jotted {
        /// Which.
        #[serde(with = "crate::keyed")]
        slip: Slip,
        /// The words; blank clears.
        text: String,
    },
    /// A number of the present reading was typed.
    Entered {
        /// Which.
        #[serde(with = "crate::keyed")]
        field: Field,
        /// What was typed; blank clears.
        typed: Typed,
    },
    /// The bulb was held in a warm hand.
    WarmedBulb {
        /// What suction did; nothing clears.
        #[serde(with = "crate::keyed::optional")]
        answer: Option<BulbTest>,
    },
    /// The present reading was thrown away.
    ClearedReading,
    /// The present reading was kept in the log.
    KeptReading,
    /// The stem's position as found was written down.
    RecordedAsFound {
        /// How it was marked or counted.
        note: String,
    },
    /// The stem was turned.
    Turned {
        /// Signed quarter turns, clockwise positive.
        quarters: i32,
    },
    /// The stem met an end.
    MetEnd {
        /// Which.
        #[serde(with = "crate::keyed")]
        end: End,
    },
    /// Refrigerant was weighed in (positive) or out (negative).
    Weighed {
        /// What was typed.
        typed: Typed,
    },
    /// Something else was changed that makes the system settle afresh.
    Changed {
        /// What.
        #[serde(with = "crate::keyed")]
        what: Disturbance,
        /// In words.
        note: String,
    },
    /// The last line of the log was a slip of the thumb. It is struck, not erased.
    TookBack,
    /// The job was closed.
    Finished,
    /// And opened again.
    Reopened,
    /// A screen was gone to.
    Went {
        /// Which.
        #[serde(with = "crate::keyed")]
        screen: Screen,
    },
}

//! What a set of readings means: reading -> checked -> derived -> findings.
//!
//! Where to start: [`assess`] takes a [`Setup`] (what the job is) and a [`Reading`] (what was
//! read) and gives an [`Assessment`]: what was refused or doubted, every number that can be
//! derived with its error band, the ranked causes with their evidence, and the charge guard's
//! advice. The trade's table stands in [`cause`], `words` and `table`; the few rules that part look-alikes
//! in `lookalike`.
//!
//! Nothing here knows the time, yesterday's readings or a screen.

mod air_split;
mod alarm;
mod assess;
mod band;
pub mod cause;
mod checked;
mod derived;
mod doubt;
mod field;
mod guard;
mod instruments;
mod lookalike;
mod orifice;
mod rank;
mod reading;
mod setup;
mod sign;
mod table;
mod words;

pub use air_split::{BYPASS_FACTOR, expected_air_split};
pub use alarm::Alarm;
pub use assess::{Assessment, assess};
pub use band::{Banded, BandedRatio, Pedigree, Target, Verdict};
pub use cause::{ActionOrder, Cause, Test};
pub use checked::{Checked, Refusal, check};
pub use derived::{Derived, Standing, derive};
pub use doubt::Doubt;
pub use field::{Field, Group, Kind, Row};
pub use guard::{ChargeAdvice, ChargeReason};
pub use instruments::{Instruments, PressureLimit, ThermometerLimit};
pub use lookalike::tilted_prior;
pub use orifice::{FORMULA_FAIR_TO_F, ORIFICE_TOLERANCE_F, orifice_target};
pub use rank::{Finding, Speaks};
pub use reading::{BulbTest, Reading};
pub use setup::{
    Gate, MeasuringPoint, Metering, Setup, rule_of_thumb_subcooling, rule_of_thumb_superheat,
};
pub use sign::{Observation, Reads, Sign};
pub use table::{expected_shares, goes_with};

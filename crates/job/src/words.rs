//! Lines of the log, turns and weights in words.

use crate::job::Job;
use crate::log::{Logged, What};
use crate::measure::Measure;
use crate::record::{NOT_MEASURED, banded};
use diagnosis::Alarm;
use quantity::Units;

/// A line of the log in words.
pub fn words(job: &Job, entry: &Logged, units: Units) -> String {
    words_after(job, entry, None, units)
}

pub(crate) fn words_after(job: &Job, entry: &Logged, waited: Option<i64>, units: Units) -> String {
    match &entry.what {
        What::Turn { by, early } => {
            let early = if *early {
                ", before it had settled"
            } else {
                ""
            };
            format!("{}{early}", turns(by.get()))
        }
        What::End(coach::End::Opening) => "stem at its opening end".to_owned(),
        What::End(coach::End::Closing) => "stem at its closing end".to_owned(),
        What::Charge { ounces } => format!("charge {}", signed_mass(*ounces, units)),
        What::Change { what, note } if note.trim().is_empty() => what.says().to_owned(),
        What::Change { what, note } => format!("{}: {note}", what.says()),
        What::Reading(draft) => {
            let said = job.assess(draft);
            let show = |value| banded(value, units).unwrap_or_else(|| NOT_MEASURED.to_owned());
            let derived = said.as_ref().map(|said| &said.derived);
            let superheat = derived.and_then(|derived| derived.superheat);
            let subcooling = derived.and_then(|derived| derived.subcooling);
            let alarm = match said.as_ref().and_then(|said| said.alarm) {
                Some(Alarm::LiquidPossible { .. }) => ", liquid possible",
                Some(Alarm::BelowMinimum { .. }) => ", under the minimum",
                None => "",
            };
            let waited = waited.map_or(String::new(), |minutes| {
                format!(", {minutes} min after the last turn")
            });
            format!(
                "read: superheat {}, subcooling {}{alarm}{waited}",
                show(superheat),
                show(subcooling)
            )
        }
    }
}

impl Job {
    /// The charge ledger in words: what went in or out in all.
    pub fn charge_says(&self, units: Units) -> String {
        signed_mass(self.charge_ounces(), units)
    }
}

/// Signed quarter turns in words: `1/2 turn counter-clockwise (opening)`.
pub fn turns(quarters: i32) -> String {
    match quarters {
        0 => "0 turns".to_owned(),
        _ if quarters > 0 => format!("{} clockwise (closing)", turns_unsigned(quarters)),
        _ => format!("{} counter-clockwise (opening)", turns_unsigned(quarters)),
    }
}

/// The same where there is little room: `1/2 turn open`.
pub fn turns_brief(quarters: i32) -> String {
    match quarters {
        0 => "0 turns".to_owned(),
        _ if quarters > 0 => format!("{} closed", turns_unsigned(quarters)),
        _ => format!("{} open", turns_unsigned(quarters)),
    }
}

fn turns_unsigned(quarters: i32) -> String {
    let size = quarters.unsigned_abs();
    let (whole, part) = (size / 4, ["", "1/4", "1/2", "3/4"][(size % 4) as usize]);
    let number = match (whole, part) {
        (0, part) => part.to_owned(),
        (whole, "") => whole.to_string(),
        (whole, part) => format!("{whole} {part}"),
    };
    format!("{number} {}", if size > 4 { "turns" } else { "turn" })
}

pub(crate) fn signed_mass(ounces: f64, units: Units) -> String {
    let says = Measure::Mass.says(ounces.abs(), units);
    match ounces {
        _ if ounces > 0.0 => format!("{says} added"),
        _ if ounces < 0.0 => format!("{says} recovered"),
        _ => "none".to_owned(),
    }
}

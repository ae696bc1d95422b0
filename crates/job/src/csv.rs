//! A job's readings as comma-separated values (RFC 4180).

use crate::draft::Draft;
use crate::job::Job;
use crate::log::{What, counted};
use diagnosis::Field;

/// Every counted reading as one row of comma-separated values (RFC 4180): ISO time, then each field
/// in the unit its name ends in, then the derived numbers in °F.
///
/// - `iso`: writes a time as ISO 8601 with offset.
pub fn csv(job: &Job, iso: &dyn Fn(i64) -> String) -> String {
    let mut rows = vec![header()];
    let mut position = coach::Quarters::default();
    for entry in counted(&job.log) {
        match &entry.what {
            What::Turn { by, .. } => position = position.plus(*by),
            What::Reading(draft) => {
                rows.push(reading_row(job, draft, &iso(entry.at_ms), position.turns()))
            }
            _ => {}
        }
    }
    let mut text = String::new();
    for row in rows {
        let cells: Vec<String> = row.iter().map(|cell| quoted(cell)).collect();
        text.push_str(&cells.join(","));
        text.push_str("\r\n");
    }
    text
}

fn header() -> Vec<String> {
    let mut names = vec!["time".to_owned(), "stem_turns_from_as_found".to_owned()];
    names.extend(Field::ALL.iter().map(|field| field.row().key.to_owned()));
    names.extend(
        [
            "superheat_f",
            "superheat_band_f",
            "subcooling_f",
            "subcooling_band_f",
        ]
        .map(String::from),
    );
    names
}

fn reading_row(job: &Job, draft: &Draft, time: &str, turns: f64) -> Vec<String> {
    let reading = draft.reading();
    let said = job.assess(draft);
    let mut cells = vec![time.to_owned(), turns.to_string()];
    cells.extend(Field::ALL.iter().map(|&field| {
        // A text that is no number is kept, guarded, so that nothing is lost.
        reading.get(field).map_or_else(
            || {
                draft
                    .typed
                    .get(&field)
                    .map_or(String::new(), |typed| guarded(&typed.text))
            },
            |value| value.to_string(),
        )
    }));
    let derived = said.as_ref().map(|said| &said.derived);
    for banded in [
        derived.and_then(|d| d.superheat),
        derived.and_then(|d| d.subcooling),
    ] {
        cells.push(banded.map_or(String::new(), |b| format!("{:.2}", b.value.f())));
        cells.push(banded.map_or(String::new(), |b| format!("{:.2}", b.half_width.f())));
    }
    cells
}

/// Text that a spreadsheet would run as a formula gets a quote in front (OWASP ASVS 1.2.10).
fn guarded(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\0']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\r', '\n']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

//! Lessons: data files that a trainer can write without touching code.
//!
//! A lesson is one JSON object; [`Lesson`] and [`LessonCase`] say what each field means. A field that
//! is not known, missing or out of range is refused with its line and what to do.

use crate::case::{Case, CaseError};
use crate::difficulty::Difficulty;
use crate::trouble::Trouble;
use core::fmt;
use diagnosis::{Cause, Metering};
use refrigerant::Refrigerant;
use serde::{Deserialize, Serialize};
use std::sync::OnceLock;

/// The only version there is.
const VERSION: u32 = 1;

/// One lesson: one idea, one case, and what is said afterwards.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// Of the schema: 1.
    pub version: u32,
    /// Its place in the row of lessons, from 1; lessons are offered in this order.
    pub number: u32,
    /// Its name in addresses: small letters, digits and hyphens, at most 40.
    pub key: String,
    /// Its name for a person.
    pub title: String,
    /// The one idea, in a sentence, told before.
    pub idea: String,
    /// What to do, told before.
    pub task: String,
    /// The case.
    pub case: LessonCase,
    /// What is said after the case, beside the scores.
    pub debrief: String,
}

/// The case of a lesson. Its plant has no spread from unit to unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LessonCase {
    /// Number for the errors of the tools and for what eyes miss.
    pub seed: u64,
    /// Where. Invented.
    pub place: String,
    /// What the customer says. Invented.
    pub complaint: String,
    /// `R-22`, `R-410A`, `R-32` or `R-454B`.
    #[serde(with = "crate::keyed")]
    pub refrigerant: Refrigerant,
    /// Nominal capacity, tons of 12 000 Btu/h: 2, 3, 5 or 7.5.
    pub nominal_tons: f64,
    /// `txv`, `txv-fixed`, `eev` or `orifice`.
    #[serde(with = "crate::keyed")]
    pub metering: Metering,
    /// `guided`, `sparing` or `alone`.
    #[serde(with = "crate::keyed")]
    pub difficulty: Difficulty,
    /// Superheat the device is set for, °F, 5 to 15.
    pub design_superheat_f: f64,
    /// Subcooling of the plate, °F, 6 to 14.
    pub design_subcooling_f: f64,
    /// Dry bulb of the open air, °F, 60 to 115.
    pub outdoor_f: f64,
    /// Return air, dry bulb, °F, 58 to 95.
    pub return_dry_bulb_f: f64,
    /// Return air, wet bulb, °F, 45 to 82, under the dry bulb.
    pub return_wet_bulb_f: f64,
    /// What is wrong: each `{"way": ..., "size": ...}`, see [`crate::Way`]. At least one; `sound` with
    /// size 0 for nothing.
    pub troubles: Vec<Trouble>,
    /// Causes that are as right to call as the first trouble's own; usually none, at most one.
    #[serde(default, with = "crate::keyed::list")]
    pub as_right: Vec<Cause>,
}

/// Why a file is no lesson.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LessonError {
    /// The file, as it was named.
    pub file: String,
    /// Line, from 1; 0 where the whole file is to blame.
    pub line: usize,
    /// The field, or an empty text where the file is no JSON at all.
    pub field: String,
    /// What is wrong.
    pub problem: String,
    /// What to do.
    pub remedy: String,
}

impl fmt::Display for LessonError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            file,
            line,
            field,
            problem,
            remedy,
        } = self;
        write!(f, "{file}, line {line}")?;
        if !field.is_empty() {
            write!(f, ", {field}")?;
        }
        write!(f, ": {problem} {remedy}")
    }
}

impl core::error::Error for LessonError {}

/// Reads one lesson and tries its case.
///
/// - `file`: its name, for messages only.
///
/// # Errors
/// [`LessonError`]: the first thing that is wrong, with line, field and what to do.
///
/// # Example
/// ```
/// let error = practice::read_lesson("mine.json", "{\n  \"version\": 1,\n  \"titel\": \"\"\n}").unwrap_err();
/// assert_eq!((error.line, error.field.as_str()), (3, "titel"));
/// ```
pub fn read_lesson(file: &str, text: &str) -> Result<Lesson, LessonError> {
    let lesson: Lesson =
        serde_json::from_str(text).map_err(|error| not_read(file, text, &error))?;
    if let Some((field, problem, remedy)) = fault(&lesson) {
        return Err(LessonError {
            file: file.to_owned(),
            line: line_of(text, field),
            field: field.to_owned(),
            problem,
            remedy,
        });
    }
    match Case::of_lesson(&lesson) {
        Ok(_) => Ok(lesson),
        Err(CaseError::Unworkable { field, says }) => Err(LessonError {
            file: file.to_owned(),
            line: line_of(text, field),
            field: field.to_owned(),
            problem: says,
            remedy: "Choose a smaller or larger size, or milder air.".to_owned(),
        }),
        Err(other) => Err(LessonError {
            file: file.to_owned(),
            line: line_of(text, "case"),
            field: "case".to_owned(),
            problem: other.to_string(),
            remedy: String::new(),
        }),
    }
}

/// What the reader of JSON says, turned towards a person.
fn not_read(file: &str, text: &str, error: &serde_json::Error) -> LessonError {
    let says = error.to_string();
    let named = says.split('`').nth(1).filter(|_| says.contains("field `"));
    let on_line = text
        .lines()
        .nth(error.line().saturating_sub(1))
        .and_then(|line| line.split('"').nth(1));
    let problem = match says.rsplit_once(" at line") {
        Some((problem, _)) => problem,
        None => &says,
    };
    LessonError {
        file: file.to_owned(),
        line: error.line(),
        field: named.or(on_line).unwrap_or_default().to_owned(),
        problem: format!("{problem}."),
        remedy: if error.is_data() {
            "Compare with the schema and one of the ten lessons; names are spelt exactly."
                .to_owned()
        } else {
            "The file is no JSON here: look for a missing comma, quote or bracket on this line or the one before.".to_owned()
        },
    }
}

/// The line on which a field's name first stands.
fn line_of(text: &str, field: &str) -> usize {
    let name = format!("\"{field}\"");
    text.lines()
        .position(|line| line.contains(&name))
        .map_or(0, |place| place + 1)
}

/// Field, problem, remedy.
type Fault = (&'static str, String, String);

fn fault(lesson: &Lesson) -> Option<Fault> {
    let case = &lesson.case;
    let texts = [
        ("title", &lesson.title, 80),
        ("idea", &lesson.idea, 300),
        ("task", &lesson.task, 600),
        ("debrief", &lesson.debrief, 1500),
        ("place", &case.place, 80),
        ("complaint", &case.complaint, 200),
    ];
    let numbers = [
        ("design_superheat_f", case.design_superheat_f, 5.0, 15.0),
        ("design_subcooling_f", case.design_subcooling_f, 6.0, 14.0),
        ("outdoor_f", case.outdoor_f, 60.0, 115.0),
        ("return_dry_bulb_f", case.return_dry_bulb_f, 58.0, 95.0),
        (
            "return_wet_bulb_f",
            case.return_wet_bulb_f,
            45.0,
            case.return_dry_bulb_f.min(82.0),
        ),
    ];
    let key = &lesson.key;
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if lesson.version != VERSION {
        return Some((
            "version",
            format!("Version {} is not known.", lesson.version),
            format!("Write {VERSION}."),
        ));
    }
    if key.is_empty() || key.len() > 40 || !key.chars().all(plain) {
        return Some((
            "key",
            format!("{key:?} cannot stand in an address."),
            "Small letters, digits and hyphens, 1 to 40 of them.".to_owned(),
        ));
    }
    for (field, text, most) in texts {
        if text.trim().is_empty() || text.chars().count() > most {
            return Some((
                field,
                format!("{} characters.", text.chars().count()),
                format!("Write 1 to {most}."),
            ));
        }
    }
    for (field, value, low, high) in numbers {
        if !(low..=high).contains(&value) {
            return Some((
                field,
                format!("{value} is outside {low} to {high} °F."),
                "Give a temperature in that range.".to_owned(),
            ));
        }
    }
    if !crate::case::TONS.contains(&case.nominal_tons) {
        return Some((
            "nominal_tons",
            format!("{} tons are not offered.", case.nominal_tons),
            "Write 2, 3, 5 or 7.5.".to_owned(),
        ));
    }
    if !crate::case::REFRIGERANTS.contains(&case.refrigerant) {
        return Some((
            "refrigerant",
            format!("{} is not offered.", case.refrigerant.name()),
            "Write R-22, R-410A, R-32 or R-454B.".to_owned(),
        ));
    }
    if case.as_right.len() > 1 {
        return Some((
            "as_right",
            "More than one.".to_owned(),
            "Name at most one.".to_owned(),
        ));
    }
    troubles(case)
}

fn troubles(case: &LessonCase) -> Option<Fault> {
    if case.troubles.is_empty() {
        return Some((
            "troubles",
            "None.".to_owned(),
            "Write at least one; {\"way\": \"sound\", \"size\": 0} for nothing wrong.".to_owned(),
        ));
    }
    for trouble in &case.troubles {
        let Some((low, high)) = trouble.way.sizes(case.metering) else {
            return Some((
                "troubles",
                format!(
                    "{} cannot be on a {}.",
                    trouble.way.key(),
                    case.metering.key()
                ),
                "Take another way or another metering device.".to_owned(),
            ));
        };
        // A lesson may show less or more than a drawn case.
        let (low, high) = (0.4 * low, 1.3 * high);
        if !(low..=high).contains(&trouble.size) {
            return Some((
                "troubles",
                format!(
                    "{} of size {} is outside {low:.2} to {high:.2}.",
                    trouble.way.key(),
                    trouble.size
                ),
                "Give a size in that range.".to_owned(),
            ));
        }
    }
    None
}

macro_rules! house {
    ($($file:literal),* $(,)?) => {
        /// The lessons of the house: file name and text.
        const HOUSE: &[(&str, &str)] = &[$(($file, include_str!(concat!("../lessons/", $file))),)*];
    };
}
house! {
    "01-read-superheat.json", "02-read-subcooling.json", "03-wait-for-it.json",
    "04-air-first.json", "05-strap-the-bulb.json", "06-set-the-stem.json",
    "07-charge-by-subcooling.json", "08-walk-the-line.json", "09-high-head.json",
    "10-two-at-once.json",
}

/// The ten lessons of the house, in order. A file among them that cannot be read is left out; the
/// tests let none through.
pub fn lessons() -> &'static [Lesson] {
    static READ: OnceLock<Vec<Lesson>> = OnceLock::new();
    READ.get_or_init(|| {
        let mut lessons: Vec<Lesson> = HOUSE
            .iter()
            .filter_map(|(_, text)| serde_json::from_str(text).ok())
            .collect();
        lessons.sort_by_key(|lesson| lesson.number);
        lessons
    })
}

/// The files of the house, name and text: for tests, and as patterns for a trainer.
pub fn lesson_files() -> &'static [(&'static str, &'static str)] {
    HOUSE
}

impl Lesson {
    /// The address of its case.
    pub fn address(&self) -> String {
        format!("bench={};lesson={}", self.case.seed, self.key)
    }
}

pub(crate) fn of_key(key: &str) -> Option<&'static Lesson> {
    lessons().iter().find(|lesson| lesson.key == key)
}

pub(crate) fn keys() -> String {
    let keys: Vec<&str> = lessons().iter().map(|lesson| lesson.key.as_str()).collect();
    keys.join(", ")
}

//! An attempt as a file: the case and the actions with their times. It replays exactly.

use crate::act::Action;
use crate::case::{Case, CaseError};
use crate::debrief::{Debrief, debrief};
use crate::lesson::{self, Lesson};
use crate::refused::Refused;
use crate::session::{Session, Step};
use core::fmt;
use serde::{Deserialize, Serialize};

/// The only version there is.
const VERSION: u32 = 1;

/// One attempt, to be kept and handed over.
///
/// It holds what was done and no number of the plant: a later program whose plant has changed tells the
/// same hands' story with its own plant. The attempt at a trainer's own lesson holds that lesson, and
/// with it what is wrong there; all others name their case only.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Attempt {
    /// Of this form: 1.
    pub version: u32,
    /// The case: see [`Case::parse`].
    pub address: String,
    /// The lesson, where it is a trainer's own and not one of the house.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lesson: Option<Lesson>,
    /// What was done.
    pub steps: Vec<Step>,
    /// How far time has gone, seconds since arrival.
    pub until_s: u32,
}

/// Why an attempt cannot be replayed.
#[derive(Clone, Debug, PartialEq)]
pub enum ReplayError {
    /// Its version is not known.
    Version(u32),
    /// There is no such case.
    Case(CaseError),
    /// A step lies before the end of the one before it.
    OutOfOrder {
        /// Which, from 1.
        step: usize,
    },
    /// A step was refused.
    Refused {
        /// Which, from 1.
        step: usize,
        /// Why.
        why: Refused,
    },
}

impl fmt::Display for ReplayError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Version(version) => write!(
                f,
                "This attempt is of version {version}; this program knows {VERSION}."
            ),
            Self::Case(error) => error.fmt(f),
            Self::OutOfOrder { step } => write!(
                f,
                "Step {step} begins before the one before it is over. Steps stand in order of time."
            ),
            Self::Refused { step, why } => write!(f, "Step {step}: {why}"),
        }
    }
}

impl core::error::Error for ReplayError {}

impl From<CaseError> for ReplayError {
    fn from(error: CaseError) -> Self {
        Self::Case(error)
    }
}

impl Session {
    /// This attempt so far.
    pub fn attempt(&self) -> Attempt {
        Attempt {
            version: VERSION,
            address: self.case.address(),
            lesson: self
                .case
                .lesson()
                .filter(|own| lesson::of_key(&own.key) != Some(own))
                .cloned(),
            steps: self.steps.clone(),
            until_s: self.at_s,
        }
    }

    /// The session of an attempt: the same in every number.
    ///
    /// # Errors
    /// [`ReplayError`] says which step does not fit.
    pub fn replay(attempt: &Attempt) -> Result<Self, ReplayError> {
        if attempt.version != VERSION {
            return Err(ReplayError::Version(attempt.version));
        }
        let case = match &attempt.lesson {
            Some(lesson) => Case::of_lesson(lesson)?,
            None => Case::parse(&attempt.address)?,
        };
        let mut session = Self::begin(case);
        for (place, step) in attempt.steps.iter().enumerate() {
            let number = place + 1;
            session.reach(step.at_s, number)?;
            session
                .apply(step.action.clone())
                .map_err(|why| ReplayError::Refused { step: number, why })?;
        }
        session.reach(attempt.until_s, attempt.steps.len() + 1)?;
        Ok(session)
    }

    fn reach(&mut self, at_s: u32, step: usize) -> Result<(), ReplayError> {
        let left = at_s
            .checked_sub(self.at_s)
            .ok_or(ReplayError::OutOfOrder { step })?;
        self.pass(left);
        Ok(())
    }
}

/// Why a script was not run to its end.
#[derive(Clone, Debug, PartialEq)]
pub enum ScriptError {
    /// There is no such case.
    Case(CaseError),
    /// A line is no action.
    Line {
        /// Which, from 1.
        line: usize,
        /// What is wrong with it.
        says: String,
    },
    /// A line's action was refused.
    Refused {
        /// Which, from 1.
        line: usize,
        /// Why.
        why: Refused,
    },
    /// A line's `at_s` has already gone by.
    Past {
        /// Which, from 1.
        line: usize,
        /// Seconds since arrival when the line was reached.
        now_s: u32,
    },
}

impl fmt::Display for ScriptError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Case(error) => error.fmt(f),
            Self::Line { line, says } => write!(f, "Line {line}: {says}"),
            Self::Refused { line, why } => write!(f, "Line {line}: {why}"),
            Self::Past { line, now_s } => write!(
                f,
                "Line {line}: it is {now_s} s already. Leave at_s out, or give a later one."
            ),
        }
    }
}

impl core::error::Error for ScriptError {}

/// A line of a script: an action, and when, if not at once.
#[derive(Deserialize)]
struct Line {
    at_s: Option<u32>,
    #[serde(flatten)]
    action: Action,
}

fn read_line(text: &str) -> Result<Line, String> {
    let value: serde_json::Value = serde_json::from_str(text).map_err(|error| error.to_string())?;
    // The reader of tagged enums would take a number as the place of an action in the list.
    if value.get("do").is_some_and(|key| !key.is_string()) {
        return Err("do is the name of an action, a text.".to_owned());
    }
    let line: Line = serde_json::from_value(value.clone()).map_err(|error| error.to_string())?;
    // And it lets anything stand beside an action without fields.
    let known = serde_json::to_value(&line.action).map_err(|error| error.to_string())?;
    let stray = value.as_object().into_iter().flat_map(|it| it.keys());
    let mut stray = stray.filter(|key| *key != "at_s" && known.get(key.as_str()).is_none());
    match stray.next() {
        Some(key) => Err(format!("{key} means nothing with this action.")),
        None => Ok(line),
    }
}

/// Runs a script and debriefs it. A script that does not leave is left at its end.
///
/// - `address`: see [`Case::parse`].
/// - `script`: JSON Lines, an action each, as in [`Action`]; `"at_s"` lets time pass up to that second
///   first. Blank lines do not count.
///
/// # Errors
/// [`ScriptError`] names the line.
///
/// # Example
/// ```
/// let script = r#"{"do": "look", "spot": "filter"}
/// {"do": "wait", "seconds": 60}
/// {"do": "call", "causes": ["no-fault"]}"#;
/// let debrief = practice::run_script("bench=7", script)?;
/// assert_eq!(debrief.path.minutes, 3.0);
/// # Ok::<(), practice::ScriptError>(())
/// ```
pub fn run_script(address: &str, script: &str) -> Result<Debrief, ScriptError> {
    let case = Case::parse(address).map_err(ScriptError::Case)?;
    let mut session = Session::begin(case);
    let mut last = 0;
    for (place, text) in script.lines().enumerate() {
        let line = place + 1;
        last = line;
        if text.trim().is_empty() {
            continue;
        }
        let Line { at_s, action } =
            read_line(text).map_err(|says| ScriptError::Line { line, says })?;
        if let Some(at_s) = at_s {
            let now_s = session.at_s();
            let left = at_s
                .checked_sub(now_s)
                .ok_or(ScriptError::Past { line, now_s })?;
            session.pass(left);
        }
        session
            .apply(action)
            .map_err(|why| ScriptError::Refused { line, why })?;
    }
    if !session.is_over() {
        session
            .apply(Action::Leave)
            .map_err(|why| ScriptError::Refused {
                line: last + 1,
                why,
            })?;
    }
    debrief(&session).ok_or(ScriptError::Refused {
        line: last + 1,
        why: Refused::Over,
    })
}

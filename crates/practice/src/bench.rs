//! The bench behind a line of text: one session, asked and answered as JSON.
//!
//! For a worker of the page. What is hidden in a case does not cross before the case is over.

use crate::act::Action;
use crate::attempt::{Attempt, ReplayError};
use crate::case::{Case, CaseError};
use crate::debrief::{Debrief, debrief};
use crate::past::Past;
use crate::refused::Refused;
use crate::session::Session;
use crate::sheet::{self, Shown};
use crate::visit;
use core::fmt;
use job::Event;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// What is asked: `{"bench": ..., "units": ...}`.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Question {
    /// What can be picked; with it come the attempts kept on the device, and a case number to offer.
    Offers {
        #[serde(default)]
        past: Vec<Value>,
        number: u64,
    },
    /// Arrive at the case of this address. A session that was under way is dropped.
    Begin(String),
    /// Arrive at the case of the fields that a person filled.
    BeginAsked(Map<String, Value>),
    /// Take up an attempt where it was left.
    Resume(Box<Attempt>),
    /// Do something.
    Do(Action),
    /// Let so many seconds go by.
    Pass(u32),
    /// Tell again how it is, in other units.
    Show,
    /// What the tools show, as entries of a reading.
    Reading,
    /// Tell everything; only once the case is over.
    Debrief,
}

#[derive(Deserialize)]
struct Asked {
    bench: Question,
    #[serde(default)]
    units: Shown,
}

/// What is answered.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
enum Answer {
    Sheet(Value),
    Now(Box<Now>),
    Passed(Passed),
    Reading(Vec<Event>),
    Debrief(Box<Debrief>),
    Error(Failure),
}

/// After something was done.
#[derive(Serialize)]
struct Now {
    address: String,
    at_s: u32,
    over: bool,
    /// What Finding may tell, by its key.
    tells: &'static str,
    /// What there was to see of it, in words.
    seen: Vec<String>,
    /// What it is in the job.
    events: Vec<Event>,
    /// Everything so far, to be kept and taken up again.
    attempt: Attempt,
    /// For the history, when the case has just ended.
    past: Option<Past>,
    sheet: Value,
    live: Map<String, Value>,
}

/// After time went by and nothing but numbers changed.
#[derive(Serialize)]
struct Passed {
    at_s: u32,
    live: Map<String, Value>,
}

#[derive(Serialize)]
struct Failure {
    key: &'static str,
    says: String,
}

/// Why a question has no answer.
#[derive(Debug)]
enum NoAnswer {
    NotAQuestion(serde_json::Error),
    NotWritten(serde_json::Error),
    Case(CaseError),
    Attempt(ReplayError),
    Refused(Refused),
    NotBegun,
    NotOver,
}

impl NoAnswer {
    const fn key(&self) -> &'static str {
        match self {
            Self::NotAQuestion(_) => "not-a-question",
            Self::NotWritten(_) => "not-written",
            Self::Case(_) => "case",
            Self::Attempt(_) => "attempt",
            Self::Refused(why) => why.key(),
            Self::NotBegun => "not-begun",
            Self::NotOver => "not-over",
        }
    }
}

impl fmt::Display for NoAnswer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotAQuestion(error) | Self::NotWritten(error) => error.fmt(f),
            Self::Case(error) => error.fmt(f),
            Self::Attempt(error) => error.fmt(f),
            Self::Refused(why) => why.fmt(f),
            Self::NotBegun => f.write_str("No case was begun here."),
            Self::NotOver => f.write_str("The case is not over. Pack up first."),
        }
    }
}

/// A bench with at most one session on it.
///
/// # Example
/// ```
/// let mut bench = practice::Bench::default();
/// assert_eq!(bench.answer(r#"{"told": 1}"#), None); // none of its business
/// let said = bench.answer(r#"{"bench": {"begin": "bench=41"}}"#);
/// assert!(said.is_some_and(|it| it.starts_with(r#"{"now":{"address":"bench=41""#)));
/// let said = bench.answer(r#"{"bench": "debrief"}"#);
/// assert!(said.is_some_and(|it| it.starts_with(r#"{"error":{"key":"not-over""#)));
/// ```
#[derive(Debug, Default)]
pub struct Bench {
    session: Option<Session>,
}

impl Bench {
    /// Answers a question of the bench; `None` for a text that is no object with the key `bench`.
    ///
    /// Questions, the value of `bench`: `{"offers": {past, number}}`, `{"begin": address}`,
    /// `{"begin-asked": fields}`, `{"resume": attempt}`, `{"do": action}`, `{"pass": seconds}`,
    /// `"show"`, `"reading"`, `"debrief"`; beside it `units`, the signs of those
    /// to be shown. Answers: `{"sheet": tree}`, `{"now": ..}`, `{"passed": {at_s, live}}`,
    /// `{"reading": events}`, `{"debrief": ..}`, `{"error": {key, says}}`. Never panics.
    pub fn answer(&mut self, question: &str) -> Option<String> {
        let asked: Value = serde_json::from_str(question).ok()?;
        asked.get("bench")?;
        let answer = self.answered(asked).unwrap_or_else(|why| failed(&why));
        let said = serde_json::to_string(&answer)
            .or_else(|error| serde_json::to_string(&failed(&NoAnswer::NotWritten(error))));
        // The text of a failure is plain: it is always written.
        Some(said.unwrap_or_default())
    }

    fn answered(&mut self, asked: Value) -> Result<Answer, NoAnswer> {
        let Asked { bench, units } =
            serde_json::from_value(asked).map_err(NoAnswer::NotAQuestion)?;
        let units = &units;
        match bench {
            Question::Offers { past, number } => {
                let all = past.len();
                // Of a newer program, or damaged: told of, and in nobody's way.
                let past = past.into_iter().map(serde_json::from_value::<Past>);
                let past: Vec<Past> = past.filter_map(Result::ok).collect();
                let unread = all - past.len();
                Ok(Answer::Sheet(sheet::pick(&past, unread, number)))
            }
            Question::Begin(address) => self.begin(&address, units),
            Question::BeginAsked(fields) => self.begin(&sheet::address(&fields), units),
            Question::Resume(attempt) => {
                let session = Session::replay(&attempt).map_err(NoAnswer::Attempt)?;
                let seen = session.seen().len();
                Ok(now(self.session.insert(session), seen, Vec::new(), units))
            }
            Question::Do(action) => {
                let events = visit::told(&action);
                let session = self.session()?;
                let seen = session.seen().len();
                session.apply(action).map_err(NoAnswer::Refused)?;
                Ok(now(session, seen, events, units))
            }
            Question::Pass(seconds) => Ok(passed(self.session()?, seconds, units)),
            Question::Show => {
                let session = self.session()?;
                let seen = session.seen().len();
                Ok(now(session, seen, Vec::new(), units))
            }
            Question::Reading => Ok(Answer::Reading(visit::entries(self.session()?))),
            Question::Debrief => {
                let told = debrief(self.session()?).ok_or(NoAnswer::NotOver)?;
                Ok(Answer::Debrief(Box::new(told)))
            }
        }
    }

    fn session(&mut self) -> Result<&mut Session, NoAnswer> {
        self.session.as_mut().ok_or(NoAnswer::NotBegun)
    }

    fn begin(&mut self, address: &str, units: &Shown) -> Result<Answer, NoAnswer> {
        let case = Case::parse(address).map_err(NoAnswer::Case)?;
        let events = visit::begins(&case.nameplate);
        let session = self.session.insert(Session::begin(case));
        Ok(now(session, 0, events, units))
    }
}

/// How it is.
///
/// - `seen`: how much of what was seen was told before.
fn now(session: &Session, seen: usize, events: Vec<Event>, units: &Shown) -> Answer {
    let units = units.units();
    let told = debrief(session);
    let attempt = session.attempt();
    let new = session.seen().get(seen..).unwrap_or_default();
    Answer::Now(Box::new(Now {
        address: session.case().address(),
        at_s: session.at_s(),
        over: session.is_over(),
        tells: session.finding_tells().key(),
        seen: new.iter().map(|seen| seen.says.clone()).collect(),
        events,
        past: told.as_ref().map(|told| Past::of(told, attempt.clone())),
        attempt,
        sheet: told.as_ref().map_or_else(
            || sheet::plant(session, units),
            |told| sheet::after(told, session.case(), units),
        ),
        live: sheet::live(session, units),
    }))
}

fn passed(session: &mut Session, seconds: u32, units: &Shown) -> Answer {
    let (stopped, seen) = (session.stopped(), session.seen().len());
    let shown = session.shown().len();
    session.pass(seconds);
    // Another sheet only for what is more than other numbers.
    if session.stopped() != stopped || session.shown().len() != shown {
        return now(session, seen, Vec::new(), units);
    }
    Answer::Passed(Passed {
        at_s: session.at_s(),
        live: sheet::live(session, units.units()),
    })
}

fn failed(why: &NoAnswer) -> Answer {
    Answer::Error(Failure {
        key: why.key(),
        says: why.to_string(),
    })
}

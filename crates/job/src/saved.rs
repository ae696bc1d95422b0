//! What is stored and exported: the events in order, with a version.

use crate::event::Event;
use crate::job::Job;
use crate::record::Record;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de, ser};
use serde_json::{Map, Value, json};

/// The format's name in exports.
pub const FORMAT: &str = "evenfeed-job";
/// The version of the stored form.
pub const VERSION: u32 = 1;

/// One stored event.
///
/// In JSON it is flat: `at_ms`, the event's name under `event`, and beside them what belongs to it.
#[derive(Clone, Debug, PartialEq)]
pub struct SavedEvent {
    /// When it happened, milliseconds since 1970, UTC.
    pub at_ms: i64,
    /// What happened.
    pub event: Event,
}

const AT: &str = "at_ms";
const EVENT: &str = "event";

impl Serialize for SavedEvent {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let whole = serde_json::to_value(&self.event).map_err(ser::Error::custom)?;
        let (name, mut flat) = match whole {
            Value::Object(named) => match named.into_iter().next() {
                Some((name, Value::Object(fields))) => (Value::String(name), fields),
                other => return Err(ser::Error::custom(format!("{other:?} is no event"))),
            },
            name => (name, Map::new()),
        };
        flat.insert(AT.to_owned(), self.at_ms.into());
        flat.insert(EVENT.to_owned(), name);
        flat.serialize(to)
    }
}

impl<'de> Deserialize<'de> for SavedEvent {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let mut flat = Map::deserialize(from)?;
        let mut take = |name| {
            flat.remove(name)
                .ok_or_else(|| de::Error::missing_field(name))
        };
        let at_ms = i64::deserialize(take(AT)?).map_err(de::Error::custom)?;
        let name = take(EVENT)?;
        let named = String::deserialize(&name).map_err(de::Error::custom)?;
        let with_fields = Map::from_iter([(named, Value::Object(flat))]);
        // An event that nothing belongs to is its name alone; what may stand beside it is passed by.
        let event = Event::deserialize(Value::Object(with_fields))
            .or_else(|error| Event::deserialize(name).map_err(|_| error))
            .map_err(de::Error::custom)?;
        Ok(Self { at_ms, event })
    }
}

/// What the list of jobs shows without opening them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    /// Version of the stored form.
    pub version: u32,
    /// The job's identity.
    pub id: String,
    /// When it began.
    pub created_ms: i64,
    /// Its newest event.
    pub touched_ms: i64,
    /// What to call it.
    pub title: String,
    /// Invented, to look at.
    pub demo: bool,
    /// Closed.
    pub finished: bool,
    /// How many events it holds.
    pub events: u32,
}

/// Why a stored job cannot be opened. What was stored stays as it is.
#[derive(Clone, Debug, PartialEq)]
pub enum SavedError {
    /// A newer Evenfeed wrote it.
    Newer {
        /// Its version.
        version: u32,
    },
    /// An entry is not one that this Evenfeed knows.
    Unreadable {
        /// Its number, from 0.
        seq: usize,
        /// What the reader said.
        why: String,
    },
    /// Entries are missing at the end.
    Incomplete {
        /// How many there are.
        found: u32,
        /// How many there should be.
        expected: u32,
    },
}

impl SavedError {
    /// What is wrong and what to do.
    pub fn says(&self) -> String {
        match self {
            Self::Newer { version } => {
                format!(
                    "This job was written by a newer Evenfeed (form {version}). Update to open it; nothing was changed."
                )
            }
            Self::Unreadable { seq, why } => {
                format!("Entry {seq} of this job cannot be read: {why}. Nothing was changed.")
            }
            Self::Incomplete { found, expected } => format!(
                "{found} of {expected} entries of this job are there; the rest is lost. Nothing was changed."
            ),
        }
    }
}

impl Job {
    /// What the list shows of it.
    pub fn head(&self) -> Head {
        Head {
            version: VERSION,
            id: self.id.clone(),
            created_ms: self.created_ms,
            touched_ms: self.touched_ms,
            title: self.title(),
            demo: self.demo,
            finished: self.finished_ms.is_some(),
            events: self.events,
        }
    }

    /// The job that events make: exactly those, in order.
    ///
    /// - `id`, `created_ms`, `demo`: as in [`Job::begin`].
    pub fn of_events(id: &str, created_ms: i64, demo: bool, events: &[SavedEvent]) -> Self {
        let mut job = Self::begin(id, created_ms, demo);
        for saved in events {
            job.happened(&saved.event, saved.at_ms);
        }
        job
    }
}

impl Head {
    /// Opens the job of this head: the job, and the events that it is made of.
    ///
    /// - `entries`: the stored events as JSON, in order.
    ///
    /// # Errors
    /// [`SavedError`]: the head is newer, an entry cannot be read, or entries are missing at the
    /// end.
    pub fn open<'a>(
        &self,
        entries: impl IntoIterator<Item = &'a str>,
    ) -> Result<(Job, Vec<SavedEvent>), SavedError> {
        known(self.version)?;
        let events = entries
            .into_iter()
            .enumerate()
            .map(|(seq, text)| serde_json::from_str(text).map_err(unreadable(seq)))
            .collect::<Result<Vec<SavedEvent>, SavedError>>()?;
        let job = Job::of_events(&self.id, self.created_ms, self.demo, &events);
        if job.events < self.events {
            return Err(SavedError::Incomplete {
                found: job.events,
                expected: self.events,
            });
        }
        Ok((job, events))
    }
}

/// What is said of an entry that cannot be read.
fn unreadable(seq: usize) -> impl Fn(serde_json::Error) -> SavedError {
    move |error| SavedError::Unreadable {
        seq,
        why: error.to_string(),
    }
}

/// Reads a stored head.
///
/// # Errors
/// [`SavedError::Unreadable`], or [`SavedError::Newer`].
pub fn head_from_json(text: &str) -> Result<Head, SavedError> {
    // The version first: a newer head may have another shape.
    let Versioned { version } = serde_json::from_str(text).map_err(unreadable(0))?;
    known(version)?;
    serde_json::from_str(text).map_err(unreadable(0))
}

#[derive(Deserialize)]
struct Versioned {
    version: u32,
}

const fn known(version: u32) -> Result<(), SavedError> {
    if version > VERSION {
        return Err(SavedError::Newer { version });
    }
    Ok(())
}

/// The job that its stored events make; [`Head::open`] gives the events as well.
///
/// # Errors
/// As [`Head::open`].
pub fn replay<'a>(
    head: &Head,
    entries: impl IntoIterator<Item = &'a str>,
) -> Result<Job, SavedError> {
    head.open(entries).map(|(job, _)| job)
}

/// A job as one JSON text for keeping or handing on: its head, its events, and the record in words.
///
/// - `exported_at`: ISO 8601 with offset.
pub fn export_json(
    job: &Job,
    events: &[SavedEvent],
    record: &Record,
    exported_at: &str,
    app_version: &str,
) -> Result<String, serde_json::Error> {
    let sections: Vec<Value> = record
        .sections
        .iter()
        .map(|section| {
            let lines: Vec<Value> = section
                .lines
                .iter()
                .map(|line| json!({ "what": line.what, "was": line.was }))
                .collect();
            json!({ "heading": section.heading, "lines": lines })
        })
        .collect();
    serde_json::to_string_pretty(&json!({
        "format": FORMAT,
        "version": VERSION,
        "app_version": app_version,
        "exported_at": exported_at,
        "head": job.head(),
        "events": events,
        "record": sections,
    }))
}

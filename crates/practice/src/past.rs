//! Attempts that are over, as a device keeps them; and progress by cause.

use crate::attempt::Attempt;
use crate::debrief::Debrief;
use serde::{Deserialize, Serialize};

/// An attempt that is over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Past {
    /// Points.
    pub points: f64,
    /// The most there were.
    pub out_of: f64,
    /// Whether every cause was named and none beyond.
    pub found: bool,
    /// The causes that were there, by name.
    pub causes: Vec<String>,
    /// The attempt itself, as it is handed over.
    pub attempt: Attempt,
}

/// How a cause was met.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Met {
    /// By name.
    pub(crate) cause: String,
    /// In how many attempts.
    pub(crate) met: usize,
    /// In how many of them everything was named.
    pub(crate) found: usize,
}

impl Past {
    /// From its debrief.
    pub(crate) fn of(debrief: &Debrief, attempt: Attempt) -> Self {
        Self {
            points: debrief.points,
            out_of: debrief.out_of,
            found: debrief.path.found,
            causes: debrief
                .troubles
                .iter()
                .map(|truth| truth.name.to_owned())
                .collect(),
            attempt,
        }
    }

    /// The case.
    pub(crate) fn address(&self) -> &str {
        &self.attempt.address
    }
}

/// Every cause that was met, most met first.
pub(crate) fn by_cause(past: &[Past]) -> Vec<Met> {
    let mut rows: Vec<Met> = Vec::new();
    for it in past {
        for cause in &it.causes {
            let found = usize::from(it.found);
            match rows.iter_mut().find(|row| row.cause == *cause) {
                Some(row) => {
                    row.met += 1;
                    row.found += found;
                }
                None => rows.push(Met {
                    cause: cause.clone(),
                    met: 1,
                    found,
                }),
            }
        }
    }
    rows.sort_by(|one, other| other.met.cmp(&one.met).then(one.cause.cmp(&other.cause)));
    rows
}

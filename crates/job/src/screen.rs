//! The screens of a job, in order.

/// A screen of a job.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Screen {
    /// What the job is.
    #[default]
    Job,
    /// The checks that come before the stem.
    LookFirst,
    /// One set of values.
    Reading,
    /// What it means.
    Finding,
    /// The ledger and the wait.
    Stem,
    /// The record.
    Proof,
}

impl Screen {
    /// Every screen, in order.
    pub const ALL: [Self; 6] = [
        Self::Job,
        Self::LookFirst,
        Self::Reading,
        Self::Finding,
        Self::Stem,
        Self::Proof,
    ];

    /// Its name in files and in the address.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::LookFirst => "look-first",
            Self::Reading => "reading",
            Self::Finding => "finding",
            Self::Stem => "stem",
            Self::Proof => "proof",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Job => "Job",
            Self::LookFirst => "Look first",
            Self::Reading => "Reading",
            Self::Finding => "Finding",
            Self::Stem => "Stem",
            Self::Proof => "Proof",
        }
    }
    /// The one after it.
    pub fn next(self) -> Option<Self> {
        let at = Self::ALL.iter().position(|&screen| screen == self)?;
        Self::ALL.get(at + 1).copied()
    }
    /// The screen of that name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|screen| screen.key() == key)
    }
}
crate::keyed::keyed! { Screen => "screen", Screen::ALL, Screen::key; }

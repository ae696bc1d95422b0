//! How hard a case is, and what that changes.

use crate::tools::Grade;

/// How hard a case is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Difficulty {
    /// One trouble, fine tools, eyes that miss nothing; Finding tells all it knows.
    Guided,
    /// One trouble, sometimes two; usual tools; Finding tells numbers and signs, no cause.
    #[default]
    Sparing,
    /// Two troubles in four cases of ten, coarse tools; Finding tells nothing before the call.
    Alone,
}

/// What the screen Finding tells before the cause is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tells {
    /// Numbers, signs and causes.
    All,
    /// Numbers and signs.
    Numbers,
    /// Nothing.
    Nothing,
}

impl Tells {
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::All => "all",
            Self::Numbers => "numbers",
            Self::Nothing => "nothing",
        }
    }
}

impl Difficulty {
    /// Every one, easiest first.
    pub const ALL: [Self; 3] = [Self::Guided, Self::Sparing, Self::Alone];

    /// Its name in files and addresses.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Guided => "guided",
            Self::Sparing => "sparing",
            Self::Alone => "alone",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Guided => "Guided",
            Self::Sparing => "Sparing",
            Self::Alone => "On your own",
        }
    }
    /// What Finding tells before the call.
    pub const fn tells(self) -> Tells {
        match self {
            Self::Guided => Tells::All,
            Self::Sparing => Tells::Numbers,
            Self::Alone => Tells::Nothing,
        }
    }
    /// Share of cases with two troubles. Judgement, no source.
    pub(crate) const fn pairs(self) -> f64 {
        match self {
            Self::Guided => 0.0,
            Self::Sparing => 0.2,
            Self::Alone => 0.4,
        }
    }
    /// How often a look tells nothing, or shows dirt that does not matter. Judgement, no source.
    pub(crate) const fn blur(self) -> f64 {
        match self {
            Self::Guided => 0.0,
            Self::Sparing => 0.1,
            Self::Alone => 0.2,
        }
    }
    pub(crate) const fn grade(self) -> Grade {
        match self {
            Self::Guided => Grade::Fine,
            Self::Sparing => Grade::Usual,
            Self::Alone => Grade::Coarse,
        }
    }
}

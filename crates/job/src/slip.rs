//! Words begun and not yet made into an event by a tap: kept like everything that is typed.

/// A line that waits for its tap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slip {
    /// How the stem was found.
    AsFound,
    /// Why the gate is to be opened.
    OverrideReason,
    /// What the scale says.
    Weight,
}

impl Slip {
    /// Every one.
    pub const ALL: &'static [Self] = &[Self::AsFound, Self::OverrideReason, Self::Weight];
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::AsFound => "as-found-note",
            Self::OverrideReason => "override-reason",
            Self::Weight => "weight-text",
        }
    }
}
crate::keyed::keyed! { Slip => "line that waits for its tap", *Slip::ALL, Slip::key; }

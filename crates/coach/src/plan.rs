//! What the coach is told: the target, the tools, and the log.

use quantity::{Temperature, TemperatureDifference};

/// Minutes since the log began.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Minutes(f64);

impl Minutes {
    /// From a number of minutes.
    pub const fn new(minutes: f64) -> Self {
        Self(minutes)
    }
    /// From milliseconds, as a wall clock counts.
    pub const fn from_ms(milliseconds: f64) -> Self {
        Self(milliseconds / 60_000.0)
    }
    /// As a number of minutes.
    pub const fn get(self) -> f64 {
        self.0
    }
}

/// Signed quarter turns of the stem: clockwise positive (in, closing, superheat up).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Quarters(i32);

impl Quarters {
    /// From a count of quarter turns, clockwise positive.
    pub const fn new(quarters: i32) -> Self {
        Self(quarters)
    }
    /// The count of quarter turns.
    pub const fn get(self) -> i32 {
        self.0
    }
    /// In whole turns.
    pub fn turns(self) -> f64 {
        f64::from(self.0) / 4.0
    }
    /// Their sum; a log of absurd counts stops at the largest number instead of failing.
    pub const fn plus(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

/// The target, the tools and the valve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    /// Lower edge of the superheat band.
    pub low: TemperatureDifference,
    /// Upper edge of the superheat band.
    pub high: TemperatureDifference,
    /// The superheat below which liquid may return; nothing is proposed that may go under it.
    pub minimum: TemperatureDifference,
    /// Scatter of one superheat reading by the same tools: one standard deviation.
    pub scatter: TemperatureDifference,
    /// Standing error of the tools, the same for every reading: half-width of its 90 % interval.
    pub bias: TemperatureDifference,
    /// The highest condensing temperature allowed. `None`: caution past 140 °F, a rule of thumb.
    pub head_limit: Option<Temperature>,
    /// Where the stem ends counter-clockwise, counted from as found, when known.
    pub opening_end: Option<Quarters>,
    /// Where the stem ends clockwise, counted from as found, when known.
    pub closing_end: Option<Quarters>,
}

/// An end of the stem's travel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// Fully counter-clockwise.
    Opening,
    /// Fully clockwise.
    Closing,
}

/// One line of the log.
///
/// Order does not matter: the log is sorted by time, and entries of the same minute keep the order
/// they were given in. Not counted: an entry with a time or a superheat that is not finite or is
/// beyond 300 °F, one later than `now`, a turn of nothing or of over a hundred turns, and all but
/// the last of several readings at one time; of a reading, a swing or a condensing temperature of
/// that kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Entry {
    /// A superheat was read.
    Reading {
        /// When.
        at: Minutes,
        /// The superheat.
        superheat: TemperatureDifference,
        /// The lowest and highest superheat while the needle was watched for a minute, in either
        /// order.
        swing: Option<(TemperatureDifference, TemperatureDifference)>,
        /// The condensing temperature read together with it.
        condensing: Option<Temperature>,
    },
    /// The stem was turned.
    Turn {
        /// When the turn was complete.
        at: Minutes,
        /// By how much, clockwise positive.
        by: Quarters,
    },
    /// Charge, airflow or bulb were changed: settle afresh; what a turn does is kept but less sure.
    Disturbed {
        /// When.
        at: Minutes,
    },
    /// The stem met an end of its travel.
    StemEnd {
        /// When.
        at: Minutes,
        /// Which end.
        end: End,
    },
}

impl Entry {
    /// When it happened.
    pub const fn at(&self) -> Minutes {
        match self {
            Self::Reading { at, .. }
            | Self::Turn { at, .. }
            | Self::Disturbed { at }
            | Self::StemEnd { at, .. } => *at,
        }
    }
}

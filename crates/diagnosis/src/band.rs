//! A number with what the instruments allow it to be, and its verdict against a target.

use quantity::{Temperature, TemperatureDifference, Units, tenth};

/// A value and the half-width of its error band: the instruments' limits of error, combined by
/// root sum square.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Banded<T> {
    /// The number the instruments gave.
    pub value: T,
    /// Half the width of the band around it. Never negative.
    pub half_width: TemperatureDifference,
}

/// A ratio without a unit, with its band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandedRatio {
    /// The ratio.
    pub value: f64,
    /// Half the width of the band around it.
    pub half_width: f64,
}

impl Banded<TemperatureDifference> {
    /// The lowest it may be.
    pub fn lowest(self) -> TemperatureDifference {
        self.value - self.half_width
    }
    /// The highest it may be.
    pub fn highest(self) -> TemperatureDifference {
        self.value + self.half_width
    }
    /// Against a target, by the whole band.
    pub fn against(self, target: &Target) -> Verdict {
        if self.highest() < target.low {
            Verdict::Below
        } else if self.lowest() > target.high {
            Verdict::Above
        } else if self.lowest() >= target.low && self.highest() <= target.high {
            Verdict::InBand
        } else {
            Verdict::CannotTell
        }
    }
    /// For example `9.8 ±2.0 °F`.
    pub fn says(self, units: Units) -> String {
        format!(
            "{} ±{}",
            tenth(units.temperature.show_difference(self.value)),
            units.difference(self.half_width)
        )
    }
}

impl Banded<Temperature> {
    /// How far this is above `other`; the two instruments err independently.
    pub fn above(self, other: Self) -> Banded<TemperatureDifference> {
        Banded {
            value: self.value - other.value,
            half_width: root_sum_square(self.half_width, other.half_width),
        }
    }
}

/// Two independent limits of error combined.
///
/// # Source
/// Root sum square of independent limits: JCGM 100:2008 (GUM), 5.1.2.
pub(crate) fn root_sum_square(
    a: TemperatureDifference,
    b: TemperatureDifference,
) -> TemperatureDifference {
    TemperatureDifference::from_k((a.k() * a.k() + b.k() * b.k()).sqrt())
}

/// Where a target came from, best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pedigree {
    /// The plate on the unit in front of you.
    DataPlate,
    /// The maker's manual or charging chart for this model.
    Maker,
    /// A code or inspection protocol.
    Protocol,
    /// No better source at hand: enough to look, not enough to pass or to charge by.
    RuleOfThumb,
}

impl Pedigree {
    /// Every pedigree, best first.
    pub const ALL: [Self; 4] = [
        Self::DataPlate,
        Self::Maker,
        Self::Protocol,
        Self::RuleOfThumb,
    ];

    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::DataPlate => "data-plate",
            Self::Maker => "maker",
            Self::Protocol => "protocol",
            Self::RuleOfThumb => "rule-of-thumb",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::DataPlate => "data plate",
            Self::Maker => "maker's instructions",
            Self::Protocol => "protocol",
            Self::RuleOfThumb => "rule of thumb",
        }
    }
}

/// The band a superheat or subcooling should stand in, and where that came from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Target {
    /// Lowest right value.
    pub low: TemperatureDifference,
    /// Highest right value.
    pub high: TemperatureDifference,
    /// Where the two came from.
    pub pedigree: Pedigree,
}

impl Target {
    /// A target in Fahrenheit degrees.
    pub const fn from_f(low_f: f64, high_f: f64, pedigree: Pedigree) -> Self {
        Self {
            low: TemperatureDifference::from_f(low_f),
            high: TemperatureDifference::from_f(high_f),
            pedigree,
        }
    }
    /// The middle of the band.
    pub fn middle(&self) -> TemperatureDifference {
        (self.low + self.high) / 2.0
    }
    /// For example `8.0 to 12.0 °F`.
    pub fn says(&self, units: Units) -> String {
        format!(
            "{} to {}",
            tenth(units.temperature.show_difference(self.low)),
            units.difference(self.high)
        )
    }
}

/// What a banded number is against a target.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// The whole band lies inside the target.
    InBand,
    /// The whole band lies below.
    Below,
    /// The whole band lies above.
    Above,
    /// The band crosses an edge: these tools cannot tell.
    CannotTell,
}

impl Verdict {
    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::InBand => "in-band",
            Self::Below => "below",
            Self::Above => "above",
            Self::CannotTell => "cannot-tell",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::InBand => "in band",
            Self::Below => "below",
            Self::Above => "above",
            Self::CannotTell => "cannot tell with these tools",
        }
    }
}

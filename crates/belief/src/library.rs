//! The library: what the plant's model answers in each class, as few numbers.

use crate::row::ANSWERS;
use crate::surface::{Lean, Surface};

/// One stratum of a class: a size of the fault.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Share of the class.
    pub weight: f64,
    /// Where between the smallest and the largest size it stands, 0 to 1.
    pub share: f64,
    /// Answers over those of the sound plant, K; amps in percent of the plate's.
    pub mean: [f64; ANSWERS],
}

/// One class: parts that share one spread.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    /// Covariance from unit to unit about the mean of a part, K².
    pub spread: [[f64; ANSWERS]; ANSWERS],
    /// How the answers lean with the weather.
    pub lean: Lean,
    /// How far sizes lie about the share of their part, standard deviation, and how that goes along
    /// with each answer, correlation: tells sizes within a part.
    pub share_sd: f64,
    /// See [`Self::share_sd`].
    pub share_along: [f64; ANSWERS],
    /// By size, smallest first.
    pub parts: Vec<Part>,
}

/// Marks of the reading now at which a step's answer is kept, K: subcooling, superheat.
pub const MARKS: [[f64; 8]; 2] = [
    [0.0, 1.0, 2.0, 3.5, 5.5, 8.0, 11.0, 14.0],
    [1.0, 3.0, 6.0, 10.0, 15.0, 20.0, 25.0, 30.0],
];
/// Share of the charge by which those answers were made.
pub const STEP: f64 = 0.05;

/// Mean and standard deviation of an answer's change, K, for each of its marks.
pub type Changes = [(f64, f64); 8];

/// What a step of charge does to a unit that is short of it (when added) or over it (when taken).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChargeStep {
    /// To subcooling, by subcooling now; to superheat, by superheat now.
    pub changes: [Changes; 2],
}

/// All classes for one kind of metering device, every refrigerant together.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// The sound plant.
    pub surface: Surface,
    /// How far each refrigerant's sound plants stand from the surface, in the order of
    /// `Refrigerant::ALL`, K.
    pub own: Vec<[f64; ANSWERS]>,
    /// In the order of `Class::ALL`; none where the device cannot have it or where the class is the
    /// sound plant in unusual air.
    pub kinds: Vec<Option<Kind>>,
    /// Charge added to units short of it, and taken from units over it.
    pub steps: [ChargeStep; 2],
}

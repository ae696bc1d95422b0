//! The sound plant's answers as a function of what surrounds it.

use crate::row::{ANSWERS, GIVENS};

/// Terms of the surface: constant, three linear, three squares, three products, two targets.
pub const TERMS: usize = 12;

/// Middle of the weather that the library was made for: outdoor air, return dry and wet bulb, K
/// (90, 76 and 64 °F), superheat and subcooling 10 °F.
pub const MIDDLE: [f64; GIVENS] = [305.372, 297.594, 290.928, 5.556, 5.556];
/// What a step of 1 in the terms is, K.
const STEP: [f64; GIVENS] = [10.0, 5.0, 5.0, 1.0, 1.0];
/// How many steps from the middle the surface bends; beyond it goes on straight.
const BENDS: [f64; GIVENS] = [1.3, 2.2, 2.2, 3.0, 3.0];

/// Steps from the middle.
pub fn steps(givens: &[f64; GIVENS]) -> [f64; GIVENS] {
    core::array::from_fn(|i| (givens[i] - MIDDLE[i]) / STEP[i])
}

/// The terms, from steps.
pub fn terms(s: &[f64; GIVENS]) -> [f64; TERMS] {
    let [x, y, z, superheat, subcooling] = *s;
    [
        1.0,
        x,
        y,
        z,
        x * x,
        y * y,
        z * z,
        x * y,
        x * z,
        y * z,
        superheat,
        subcooling,
    ]
}

/// A surface for each answer.
pub type Surface = [[f64; TERMS]; ANSWERS];
/// How a fault's answers lean with outdoor air, return dry and wet bulb: K for a step.
pub type Lean = [[f64; 3]; ANSWERS];

/// Answers and their slopes, K for each K of a given.
#[derive(Clone, Debug)]
pub struct Footing {
    /// Answers of the sound plant.
    pub answers: [f64; ANSWERS],
    /// Change of each answer with each given.
    pub slopes: [[f64; GIVENS]; ANSWERS],
    /// Steps from the middle, held where the surface bends.
    pub steps: [f64; GIVENS],
}

impl Footing {
    /// The sound plant at these givens, K.
    pub fn new(surface: &Surface, givens: &[f64; GIVENS]) -> Self {
        let free = steps(givens);
        let held: [f64; GIVENS] = core::array::from_fn(|i| free[i].clamp(-BENDS[i], BENDS[i]));
        let row = terms(&held);
        let slope_rows: [[f64; TERMS]; GIVENS] = core::array::from_fn(|i| slope(&held, i));
        let mut answers = [0.0; ANSWERS];
        let mut slopes = [[0.0; GIVENS]; ANSWERS];
        for (a, coefficients) in surface.iter().enumerate() {
            let dot = |row: &[f64; TERMS]| -> f64 {
                row.iter().zip(coefficients).map(|(t, c)| t * c).sum()
            };
            answers[a] = dot(&row);
            for i in 0..GIVENS {
                let by_step = dot(&slope_rows[i]);
                answers[a] += by_step * (free[i] - held[i]);
                slopes[a][i] = by_step / STEP[i];
            }
        }
        Self {
            answers,
            slopes,
            steps: held,
        }
    }

    /// Where a fault's answers lean to here, K.
    pub fn leant(&self, lean: &Lean, answer: usize) -> f64 {
        (0..3).map(|i| lean[answer][i] * self.steps[i]).sum()
    }

    /// Slope with the fault's own lean added, K for each K.
    pub fn slope(&self, lean: &Lean, answer: usize, given: usize) -> f64 {
        let own = if given < 3 && self.steps[given].abs() < BENDS[given] {
            lean[answer][given] / STEP[given]
        } else {
            0.0
        };
        self.slopes[answer][given] + own
    }
}

/// Derivative of the terms by step `i`.
fn slope(s: &[f64; GIVENS], i: usize) -> [f64; TERMS] {
    let [x, y, z, ..] = *s;
    let one = |at: usize| f64::from(u8::from(i == at));
    [
        0.0,
        one(0),
        one(1),
        one(2),
        2.0 * x * one(0),
        2.0 * y * one(1),
        2.0 * z * one(2),
        y * one(0) + x * one(1),
        z * one(0) + x * one(2),
        z * one(1) + y * one(2),
        one(3),
        one(4),
    ]
}

//! What was fitted, and how well.

use serde::{Deserialize, Serialize};

use crate::band::{Band, Part};
use crate::fit::Likeness;

/// A miss beyond this, of a reading or a prior, is no fit; nor is their sum of squares beyond what one
/// sound system in a thousand has.
const WORST_MISS: f64 = 3.2;
/// 99.9 % points of the chi-square distribution with 4 degrees of freedom and on: NIST/SEMATECH
/// e-Handbook of Statistical Methods, 1.3.6.7.4.
const MOST_SQUARES: [f64; 12] = [
    18.467, 20.515, 22.458, 24.322, 26.125, 27.877, 29.588, 31.264, 32.910, 34.528, 36.123, 37.697,
];
/// A fitted value.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Fitted {
    /// As in [`Unknown::key`].
    pub name: String,
    /// In the unit of its name.
    pub value: f64,
    /// Its standard deviation.
    pub sd: f64,
}

/// The reading that the fit misses most.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Miss {
    /// A reading's field, `answered` for a superheat of the log, or an unknown's key that is far from
    /// where such values lie.
    pub name: String,
    /// In standard deviations; above zero where the model is above the reading.
    pub sigmas: f64,
}

/// How good a likeness it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Report {
    /// What was fitted.
    pub fitted: Vec<Fitted>,
    /// The largest miss.
    pub worst: Miss,
    /// Sum of the squares of all misses, of readings and of priors.
    pub squares: f64,
    /// Readings that were fitted.
    pub readings: usize,
    /// No system of this kind reads like that, or its standing pressure is off the chart: the answers
    /// mean nothing. Wrong refrigerant, a slip of the pen, or a trouble that is not among the unknowns.
    /// Gas that does not condense is seldom seen without a standing test: a little overcharge behind a
    /// fouled condenser reads the same.
    pub poor: bool,
    /// Other ways to have this reading that are nearly as probable: 1 for none.
    pub ways: usize,
}

impl Likeness {
    /// What was fitted, and how well.
    pub fn report(&self) -> Report {
        // `fit` keeps at least one.
        let best = &self.modes[0];
        let fitted = (0..best.z.len()).map(|place| self.fitted(place)).collect();
        let pulls = self
            .twin
            .rows
            .iter()
            .zip(&best.z)
            .map(|(row, z)| (row.unknown.key(), *z));
        let (name, sigmas) = best
            .misses
            .iter()
            .copied()
            .chain(pulls)
            .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
            .unwrap_or(("suction_dew_f", 0.0));
        let readings = best.misses.len();
        let place = readings.saturating_sub(4).min(MOST_SQUARES.len() - 1);
        let squares = 2.0 * best.cost;
        let is_far = sigmas.abs() > WORST_MISS || squares > MOST_SQUARES[place];
        Report {
            fitted,
            worst: Miss {
                name: name.to_owned(),
                sigmas,
            },
            squares,
            readings,
            poor: is_far || self.twin.told.is_off_chart,
            ways: self.modes.len(),
        }
    }

    fn fitted(&self, place: usize) -> Fitted {
        let row = &self.twin.rows[place];
        let parts: Vec<Part> = self
            .modes
            .iter()
            .map(|mode| {
                let here = mode.z[place];
                let sd = mode.axes.iter().map(|axis| axis[place] * axis[place]);
                let sd = sd.sum::<f64>().sqrt();
                let spread = 0.5 * (row.value(here + sd) - row.value(here - sd));
                Part {
                    weight: mode.weight,
                    middle: row.value(here),
                    sd: spread.abs(),
                }
            })
            .collect();
        let (value, sd) = Band::moments(&parts);
        Fitted {
            name: row.unknown.key().to_owned(),
            value,
            sd,
        }
    }
}

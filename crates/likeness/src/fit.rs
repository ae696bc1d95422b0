//! The most probable systems like the one that was read: Levenberg and Marquardt's method on the
//! misses of the readings and of the priors, from a few starts; around each place where it ends, a
//! normal distribution (Laplace's method).

use cycle::Rested;

use crate::error::FitError;
use crate::matrix::{backward, cholesky, forward};
use crate::told::Told;
use crate::twin::{Change, NoPoint, Twin};
use crate::unknown::Unknown;

/// Steps from one start, and where they end: a step or a gain too small to matter.
const STEPS: usize = 14;
const SMALL_STEP: f64 = 0.01;
const SMALL_GAIN: f64 = 1e-3;
/// Longest step of one unknown, in standard deviations of its prior.
const LONGEST: f64 = 1.5;
/// Nudge of the difference quotients, likewise.
const NUDGE: f64 = 0.03;
/// Damping: first, how it falls and rises, and where no step is found.
const FIRST_DAMPING: f64 = 0.01;
const EASIER: f64 = 0.2;
const HARDER: f64 = 8.0;
const HARDEST: f64 = 1e4;
/// Half the sum of squares beyond which, after so many steps, it does not matter how poor the fit is.
const HOPELESS: (f64, usize) = (300.0, 4);
/// Two ends this near, in standard deviations of the priors, are one.
const SAME: f64 = 0.4;
/// An end less probable than this beside the best is left out.
const NEGLIGIBLE: f64 = 0.02;
/// Superheat and subcooling off their targets that are worth a start of their own, °F; and what a
/// tenth of the charge is worth in subcooling, °F (the plant's, near its right charge).
const WORTH_A_START: f64 = 4.0;
const TENTH_OF_CHARGE: f64 = 6.5;

/// One end of the fit.
#[derive(Clone, Debug)]
pub(crate) struct Mode {
    pub(crate) z: Vec<f64>,
    /// The columns of a square root of the covariance.
    pub(crate) axes: Vec<Vec<f64>>,
    pub(crate) weight: f64,
    pub(crate) rested: Rested,
    pub(crate) misses: Vec<(&'static str, f64)>,
    pub(crate) cost: f64,
}

/// Systems like the one that was read.
#[derive(Clone, Debug)]
pub struct Likeness {
    pub(crate) twin: Twin,
    pub(crate) modes: Vec<Mode>,
}

/// Fits a system to what was told.
///
/// # Errors
/// [`FitError`]: what was told is of no kind that the model knows, or the model has no operating point
/// anywhere near it.
pub fn fit(told: &Told) -> Result<Likeness, FitError> {
    if !finite(told) {
        return Err(FitError::NotANumber);
    }
    let twin = Twin::new(told)?;
    let mut modes: Vec<Mode> = Vec::new();
    let mut why: Option<NoPoint> = None;
    for start in starts(&twin) {
        let trial = match Trial::at(&twin, start, None) {
            Ok(trial) => trial,
            Err(reason) => {
                why.get_or_insert(reason);
                continue;
            }
        };
        let Some(mode) = settle(&twin, trial) else {
            continue;
        };
        match modes.iter_mut().find(|known| distance(known, &mode) < SAME) {
            Some(known) if known.cost > mode.cost => *known = mode,
            Some(_) => {}
            None => modes.push(mode),
        }
    }
    if modes.is_empty() {
        return Err(why.map_or(FitError::Flat, |why| FitError::NoRest(why.to_string())));
    }
    weigh(&mut modes);
    Ok(Likeness { twin, modes })
}

/// Every number that was told is one.
fn finite(told: &Told) -> bool {
    let measured = [
        Some(told.suction_dew),
        Some(told.suction_line),
        Some(told.liquid_bubble),
        Some(told.liquid_line),
        told.compressor_suction,
        told.liquid_line_end,
        told.condenser_air,
        told.open_air,
        told.condenser_leaving_air,
        told.return_dry_bulb,
        told.return_wet_bulb,
        told.supply_dry_bulb,
    ];
    let plain = [
        told.superheat_low_f,
        told.superheat_high_f,
        told.subcooling_low_f,
        told.subcooling_high_f,
        told.minimum_superheat_f,
        told.local_air_psia,
        told.gauge_zero_psia,
        told.stem_turns,
    ];
    let log = told
        .answered
        .iter()
        .flat_map(|answer| [answer.stem_turns, answer.superheat_f, answer.within_f]);
    measured
        .into_iter()
        .flatten()
        .flat_map(|one| [one.f, one.within_f])
        .chain(plain)
        .chain(log)
        .all(f64::is_finite)
}

/// Where to start: a charge by the subcooling that was read; and with it the valve as usual, its stem
/// by the superheat that was read, and its area by it.
fn starts(twin: &Twin) -> Vec<Vec<f64>> {
    let told = &twin.told;
    let middle = |low: f64, high: f64| 0.5 * (low + high);
    let superheat = told.suction_line.f
        - told.suction_dew.f
        - middle(told.superheat_low_f, told.superheat_high_f);
    let subcooling = told.liquid_bubble.f
        - told.liquid_line.f
        - middle(told.subcooling_low_f, told.subcooling_high_f);
    let charge = (1.0 + 0.1 * subcooling / TENTH_OF_CHARGE).clamp(0.8, 1.25);
    // A starved valve is about a sixth smaller for each 10 °F (the plant, fully open).
    let area = libm::exp(-0.018 * superheat).clamp(0.5, 1.6);
    let at = |values: &[(Unknown, f64)]| -> Vec<f64> {
        twin.rows
            .iter()
            .map(|row| {
                values
                    .iter()
                    .find(|(unknown, _)| *unknown == row.unknown)
                    .map_or(0.0, |(_, value)| row.standing(*value).clamp(-2.5, 2.5))
            })
            .collect()
    };
    let mut starts = Vec::new();
    if superheat.abs() > WORTH_A_START {
        starts.push(at(&[
            (Unknown::Charge, charge),
            (Unknown::StemSetting, superheat),
        ]));
        starts.push(at(&[(Unknown::Charge, charge), (Unknown::ValveArea, area)]));
    }
    starts.push(at(&[(Unknown::Charge, charge)]));
    if starts.len() == 1 {
        starts.push(at(&[]));
    }
    starts
}

/// One set of unknowns, and what it misses.
struct Trial {
    z: Vec<f64>,
    rested: Rested,
    log: Vec<Rested>,
    misses: Vec<(&'static str, f64)>,
    cost: f64,
}

impl Trial {
    fn at(twin: &Twin, z: Vec<f64>, near: Option<&Self>) -> Result<Self, NoPoint> {
        let rested = twin.point(&z, &Change::NONE, near.map(|near| &near.rested))?;
        let mut misses = twin.misses(&rested.point);
        let mut log = Vec::new();
        for (place, (turns, miss)) in twin.log().enumerate() {
            let change = Change {
                turns,
                ..Change::NONE
            };
            let from = near.map_or(&rested, |near| &near.log[place]);
            let there = twin.point(&z, &change, Some(from))?;
            misses.push(("answered", miss(twin.superheat_f(&there.point))));
            log.push(there);
        }
        let read: f64 = misses.iter().map(|(_, miss)| miss * miss).sum();
        let prior: f64 = z.iter().map(|z| z * z).sum();
        Ok(Self {
            z,
            rested,
            log,
            misses,
            cost: 0.5 * (read + prior),
        })
    }

    /// How each miss answers each unknown: a row for each unknown. An unknown at the edge of the model
    /// is left alone.
    fn slopes(&self, twin: &Twin) -> Vec<Vec<f64>> {
        (0..self.z.len())
            .map(|place| {
                let nudged = |by: f64| {
                    let mut z = self.z.clone();
                    z[place] += by;
                    let there = Self::at(twin, z, Some(self)).ok()?;
                    let pairs = there.misses.iter().zip(&self.misses);
                    Some(pairs.map(|(there, here)| (there.1 - here.1) / by).collect())
                };
                nudged(NUDGE)
                    .or_else(|| nudged(-NUDGE))
                    .unwrap_or_else(|| vec![0.0; self.misses.len()])
            })
            .collect()
    }
}

/// The matrix of the second derivatives, and the slope of the cost.
fn normal(trial: &Trial, slopes: &[Vec<f64>]) -> (Vec<Vec<f64>>, Vec<f64>) {
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let misses: Vec<f64> = trial.misses.iter().map(|(_, miss)| *miss).collect();
    let mut matrix: Vec<Vec<f64>> = slopes
        .iter()
        .map(|a| slopes.iter().map(|b| dot(a, b)).collect())
        .collect();
    for (place, row) in matrix.iter_mut().enumerate() {
        row[place] += 1.0;
    }
    let slope = slopes
        .iter()
        .zip(&trial.z)
        .map(|(row, z)| dot(row, &misses) + z)
        .collect();
    (matrix, slope)
}

/// Down to the bottom from one start; `None` where there is none.
fn settle(twin: &Twin, mut trial: Trial) -> Option<Mode> {
    let mut damping = FIRST_DAMPING;
    let mut slopes = trial.slopes(twin);
    'steps: for step in 0..STEPS {
        if trial.cost > HOPELESS.0 && step >= HOPELESS.1 {
            break;
        }
        let (matrix, slope) = normal(&trial, &slopes);
        loop {
            let mut damped = matrix.clone();
            for (place, row) in damped.iter_mut().enumerate() {
                row[place] *= 1.0 + damping;
            }
            let l = cholesky(&damped)?;
            let step: Vec<f64> = backward(&l, &forward(&l, &slope))
                .into_iter()
                .map(|step| step.clamp(-LONGEST, LONGEST))
                .collect();
            let long = step.iter().fold(0.0_f64, |long, step| long.max(step.abs()));
            let z = trial
                .z
                .iter()
                .zip(&step)
                .map(|(z, step)| z - step)
                .collect();
            // A place without an operating point is no better than here.
            match Trial::at(twin, z, Some(&trial)) {
                Ok(next) if next.cost < trial.cost => {
                    let gain = trial.cost - next.cost;
                    trial = next;
                    slopes = trial.slopes(twin);
                    damping = (damping * EASIER).max(1e-6);
                    if long < SMALL_STEP || gain < SMALL_GAIN {
                        break 'steps;
                    }
                    break;
                }
                _ if long < SMALL_STEP || damping > HARDEST => break 'steps,
                _ => damping *= HARDER,
            }
        }
    }
    let (matrix, _) = normal(&trial, &slopes);
    let l = cholesky(&matrix)?;
    let axes = (0..l.len())
        .map(|place| {
            let mut unit = vec![0.0; l.len()];
            unit[place] = 1.0;
            backward(&l, &unit)
        })
        .collect();
    let volume: f64 = l.iter().enumerate().map(|(i, row)| libm::log(row[i])).sum();
    Some(Mode {
        axes,
        // Its logarithm for now.
        weight: -trial.cost - volume,
        z: trial.z,
        rested: trial.rested,
        misses: trial.misses,
        cost: trial.cost,
    })
}

fn distance(a: &Mode, b: &Mode) -> f64 {
    let squares = a.z.iter().zip(&b.z).map(|(a, b)| (a - b) * (a - b));
    squares.sum::<f64>().sqrt()
}

/// From logarithms to shares, best first, without the negligible.
fn weigh(modes: &mut Vec<Mode>) {
    let most = modes
        .iter()
        .map(|mode| mode.weight)
        .fold(f64::MIN, f64::max);
    for mode in modes.iter_mut() {
        mode.weight = libm::exp(mode.weight - most);
    }
    modes.retain(|mode| mode.weight >= NEGLIGIBLE);
    modes.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    let sum: f64 = modes.iter().map(|mode| mode.weight).sum();
    for mode in modes {
        mode.weight /= sum;
    }
}

//! How well a reading goes with a class.
//!
//! What was read is a list of rows. In a class these are jointly normal about each part's mean: by
//! the spread from unit to unit, by the weather as far as it was not read, and by the instruments.
//! Rows that were not read are left out, which is exact. Tails are heavier than normal.

use crate::library::{Kind, Model};
use crate::row::{ANSWERS, GIVENS, ROWS, Row};
use crate::surface::Footing;
use refrigerant::Refrigerant;

/// Degrees of freedom of the tails. Chosen on simulated calls; small enough that one wild row does
/// not decide.
const FREEDOM: f64 = 6.0;
/// How far a real unit's answer may be from the model's beside all that is drawn for the library,
/// standard deviation, K (percent of amps), in the order of `Answer::ALL`: other coils, other
/// compressors, probes on other places. Judgement, no source. Without it the model is surer of odd
/// units than it may be, and misreads the trade's own circuits (`tests/worked_sets.rs`); with it a
/// simulated unit is named first a little less often.
const MISFIT: [f64; ANSWERS] = [0.8, 0.4, 0.25, 0.6, 1.0, 0.5, 0.3, 0.8, 1.2, 0.5, 3.0, 4.0];

/// One number that was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// Of which row.
    pub row: Row,
    /// K; amps in percent.
    pub value: f64,
    /// Standard deviation of the instrument, same unit.
    pub sd: f64,
}

/// What is known of the givens before the rows are looked at: means and covariance, K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Givens {
    /// Means.
    pub mean: [f64; GIVENS],
    /// Covariance.
    pub cov: [[f64; GIVENS]; GIVENS],
}

/// A class at this reading.
pub struct Weighed {
    /// Log of the likelihood, without what is the same for every class.
    pub log: f64,
    /// Share of each part.
    pub parts: Vec<f64>,
    /// Where between smallest and largest size the reading puts the fault, if it is of that part.
    pub shares: Vec<f64>,
    /// Variance of that within a part.
    pub share_var: f64,
}

/// The sound plant at the weather that was read, or the likeliest where it was not.
pub struct Ground {
    pub(crate) footing: Footing,
    at: [f64; GIVENS],
    prior: Givens,
}

impl Ground {
    /// Where the weather was read the surface is laid there; else at its mean, given what was read.
    pub fn new(
        model: &Model,
        refrigerant: Refrigerant,
        numbers: &[Number],
        prior: &Givens,
    ) -> Self {
        let read = |row: Row| numbers.iter().find(|n| n.row == row).map(|n| n.value);
        let mut at = prior.mean;
        if let Some(outdoor) = read(Row::OpenAir).or(read(Row::EnteringAir)) {
            at[0] = outdoor;
        }
        match (read(Row::ReturnDry), read(Row::ReturnWet)) {
            (Some(dry), Some(wet)) => (at[1], at[2]) = (dry, wet),
            (Some(dry), None) => {
                at[1] = dry;
                at[2] += prior.cov[1][2] / prior.cov[1][1] * (dry - prior.mean[1]);
            }
            (None, Some(wet)) => {
                at[2] = wet;
                at[1] += prior.cov[1][2] / prior.cov[2][2] * (wet - prior.mean[2]);
            }
            (None, None) => {}
        }
        let mut footing = Footing::new(&model.surface, &at);
        if let Some(own) = model.own.get(refrigerant as usize) {
            for (answer, own) in footing.answers.iter_mut().zip(own) {
                *answer += own;
            }
        }
        Self {
            footing,
            at,
            prior: *prior,
        }
    }
}

/// Rows of a class as one normal law for each part.
pub struct Law {
    /// Of the rows asked for: mean without the part's own, K.
    base: Vec<f64>,
    /// Their covariance without instruments, row by row.
    cov: Vec<f64>,
    rows: Vec<Row>,
}

impl Law {
    /// The law of these rows in a class.
    pub fn new(ground: &Ground, kind: &Kind, rows: &[Row]) -> Self {
        let n = rows.len();
        let footing = &ground.footing;
        let here: [f64; ANSWERS] =
            core::array::from_fn(|a| footing.answers[a] + footing.leant(&kind.lean, a));
        let slopes: [[f64; GIVENS]; ANSWERS] =
            core::array::from_fn(|a| core::array::from_fn(|g| footing.slope(&kind.lean, a, g)));
        let mut base = vec![0.0; n];
        let mut reach = vec![[0.0; GIVENS]; n];
        for (i, row) in rows.iter().enumerate() {
            if let Some(given) = row.given() {
                base[i] += ground.at[given];
                reach[i][given] += 1.0;
            }
            for &(answer, sign) in row.sum() {
                let a = answer.index();
                base[i] += sign * here[a];
                for g in 0..GIVENS {
                    reach[i][g] += sign * slopes[a][g];
                }
            }
            // From where the surface is laid to where the prior has its mean.
            let prior = ground.prior.mean.iter().zip(ground.at);
            for (reach, (mean, at)) in reach[i].iter().zip(prior) {
                base[i] += reach * (mean - at);
            }
        }
        let mut cov = vec![0.0; n * n];
        for i in 0..n {
            let leaned: [f64; GIVENS] = core::array::from_fn(|g| {
                (0..GIVENS)
                    .map(|h| reach[i][h] * ground.prior.cov[h][g])
                    .sum()
            });
            for j in 0..=i {
                let mut sum: f64 = (0..GIVENS).map(|g| leaned[g] * reach[j][g]).sum();
                for &(a, sa) in rows[i].sum() {
                    for &(b, sb) in rows[j].sum() {
                        let (a, b) = (a.index(), b.index());
                        let misfit = if a == b { MISFIT[a] * MISFIT[a] } else { 0.0 };
                        sum += sa * sb * (kind.spread[a][b] + misfit);
                    }
                }
                cov[i * n + j] = sum;
                cov[j * n + i] = sum;
            }
        }
        Self {
            base,
            cov,
            rows: rows.to_vec(),
        }
    }

    /// Covariance of rows `i` and `j`.
    pub(crate) fn cov(&self, i: usize, j: usize) -> f64 {
        self.cov[i * self.rows.len() + j]
    }

    /// The covariances, row by row.
    pub(crate) fn into_cov(self) -> Vec<f64> {
        self.cov
    }

    /// Mean of row `i` in a part.
    pub(crate) fn mean(&self, i: usize, part: &[f64; ANSWERS]) -> f64 {
        let own: f64 = self.rows[i]
            .sum()
            .iter()
            .map(|&(answer, sign)| sign * part[answer.index()])
            .sum();
        self.base[i] + own
    }
}

/// Weighs a class.
pub fn weigh(ground: &Ground, kind: &Kind, numbers: &[Number]) -> Weighed {
    let n = numbers.len();
    let mut rows = [Row::CoilDew; ROWS];
    for (place, number) in rows.iter_mut().zip(numbers) {
        *place = number.row;
    }
    let law = Law::new(ground, kind, &rows[..n]);
    let mut cov = law.cov.clone();
    for (i, number) in numbers.iter().enumerate() {
        cov[i * n + i] += number.sd * number.sd;
    }
    let log_root = factor(&mut cov, n);
    // How the size goes along with what was read, in the factor's measure.
    let mut along = [0.0; ROWS];
    for (along, row) in along.iter_mut().zip(&rows[..n]) {
        for &(answer, sign) in row.sum() {
            let a = answer.index();
            *along += sign * kind.share_along[a] * kind.share_sd * kind.spread[a][a].sqrt();
        }
    }
    let told = squared_length(&cov, n, &mut along);
    let mut shares = Vec::with_capacity(kind.parts.len());
    let logs: Vec<f64> = kind
        .parts
        .iter()
        .map(|part| {
            let mut off = [0.0; ROWS];
            for (i, number) in numbers.iter().enumerate() {
                off[i] = number.value - law.mean(i, &part.mean);
            }
            let squared = squared_length(&cov, n, &mut off);
            let moved: f64 = along[..n].iter().zip(off).map(|(a, o)| a * o).sum();
            shares.push((part.share + moved).clamp(0.0, 1.0));
            libm::log(part.weight)
                - log_root
                - (FREEDOM + n as f64) / 2.0 * libm::log1p(squared / FREEDOM)
        })
        .collect();
    let log = sum_of_logs(&logs);
    Weighed {
        log,
        parts: logs.iter().map(|one| libm::exp(one - log)).collect(),
        shares,
        share_var: (kind.share_sd * kind.share_sd - told).max(0.0),
    }
}

/// Cholesky's factor in the lower half; gives the log of its determinant.
pub fn factor(a: &mut [f64], n: usize) -> f64 {
    let mut log = 0.0;
    for i in 0..n {
        for j in 0..=i {
            let mut sum = a[i * n + j];
            for k in 0..j {
                sum -= a[i * n + k] * a[j * n + k];
            }
            a[i * n + j] = if i == j {
                sum.max(1e-6).sqrt()
            } else {
                sum / a[j * n + j]
            };
        }
        log += libm::log(a[i * n + i]);
    }
    log
}

/// `|L⁻¹ x|²`; `x` becomes `L⁻¹ x`.
pub fn squared_length(l: &[f64], n: usize, x: &mut [f64]) -> f64 {
    let mut squared = 0.0;
    for i in 0..n {
        let mut sum = x[i];
        for k in 0..i {
            sum -= l[i * n + k] * x[k];
        }
        x[i] = sum / l[i * n + i];
        squared += x[i] * x[i];
    }
    squared
}

/// Log of the sum of exponentials.
pub(crate) fn sum_of_logs(logs: &[f64]) -> f64 {
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if most == f64::NEG_INFINITY {
        return most;
    }
    most + libm::log(logs.iter().map(|one| libm::exp(one - most)).sum::<f64>())
}

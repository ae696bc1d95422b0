//! Where superheat will settle, and how much of the way is left.
//!
//! After a change at `t = 0` the reading is taken to be
//! `y(t) = S + A exp(-(t - t0)/lag) + C exp(-t/6 min) + noise`:
//! a fast part whose lag is unknown, and the slow tail that house air, oil and ducts add. For each
//! lag of a grid `S`, `A` and `C` have an exact normal posterior; the lags are weighed by how well
//! they explain the readings. So two readings far apart can say as much as ten close together, and
//! where neither can, the spread of `S` says so.

use crate::log::Point;

/// The lags weighed, minutes: log-normal prior about the median. Prototype-tested.
pub(crate) const LAGS: usize = 16;
const SHORTEST_LAG: f64 = 0.4;
const LONGEST_LAG: f64 = 8.0;
const MEDIAN_LAG: f64 = 1.8;
const LAG_SPREAD: f64 = 0.7;
/// The slow tail, minutes. Default of the model, no source.
pub(crate) const TAIL: f64 = 6.0;
/// What is read in this many minutes after a change is left out: the bulb is still warm and
/// superheat may go the wrong way. The prototype left out 1.5; what is left of the undershoot then
/// passed for the answer of the valve and doubled the false 'settled' of `tests/many_valves.rs`.
pub(crate) const DEAD: f64 = 2.0;
/// Never settled sooner after a change, minutes. Prototype-tested.
pub(crate) const EARLIEST: f64 = 4.0;
/// While hunting the mean is accepted this long after a change, minutes. Prototype-tested.
pub(crate) const HUNTING_AFTER: f64 = 7.0;
/// Older readings than this, minutes before the newest, say more of the weather than of now.
const WINDOW: f64 = 12.0;
/// Settled: the value is known to better than this, °F, one standard deviation; within the band,
/// where the job ends, a little better, and near an edge of it so much better that it is not over
/// the edge by `OVER` at a one-sided limit of `EDGE` deviations;
const KNOWN: f64 = 1.0;
const KNOWN_IN_BAND: f64 = 0.9;
const OVER: f64 = 1.0;
const EDGE: f64 = 1.5;
/// and the rest of the way is shorter than this, °F: a settled value may not be farther off either.
/// The prototype had 1 for all, without a slow tail in its estimator; these were tried in
/// `tests/many_valves.rs`.
const CLOSE: f64 = 2.0;
/// Newest readings that differ by more than so many standard deviations from each other, or in their
/// mean from the fit, are not at rest.
const AWAY: f64 = 3.0;
/// As found, a slope of more than so many of its standard deviations is no rest, unless it is less
/// than this, °F per minute: load drifts.
const SLOPE: f64 = 2.5;
const LEVEL: f64 = 0.25;
/// One-sided 90 % limit, in standard deviations, for the rest of the way.
const SURE: f64 = 1.28;
/// Readings that scatter so much more than the tools should are taken at their own scatter.
const ROUGH: f64 = 1.2;

/// How much of what one segment said about the lag is believed for the next: the lag changes along
/// the range. Our own; a system that answers slowly once will do so again.
const MEMORY: f64 = 0.7;

/// How likely each lag of the grid is, as logarithms.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lags([f64; LAGS]);

impl Lags {
    /// Before anything is known of this system.
    pub(crate) fn usual() -> Self {
        Self(core::array::from_fn(usual_weight))
    }

    /// How likely each is.
    pub(crate) fn weights(&self) -> [f64; LAGS] {
        let best = self.0.into_iter().fold(f64::NEG_INFINITY, f64::max);
        let weights = self.0.map(|log| libm::exp(log - best));
        let total: f64 = weights.iter().sum();
        weights.map(|weight| weight / total)
    }

    /// What the readings said, as the prior of the next segment.
    pub(crate) fn remember(&mut self, fit: &Fit) {
        for (i, (kept, heard)) in self.0.iter_mut().zip(fit.lags.0).enumerate() {
            let usual = usual_weight(i);
            *kept = usual + MEMORY * (heard - usual);
        }
    }
}

fn usual_weight(i: usize) -> f64 {
    let away = libm::log(lag(i) / MEDIAN_LAG) / LAG_SPREAD;
    -0.5 * away * away
}

/// One lag of the grid, minutes.
pub(crate) fn lag(i: usize) -> f64 {
    SHORTEST_LAG * libm::pow(LONGEST_LAG / SHORTEST_LAG, i as f64 / (LAGS - 1) as f64)
}

/// What is expected before a reading is in.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Prior {
    /// Settled value, °F, and its standard deviation.
    pub(crate) settled: (f64, f64),
    /// `A`, °F, and its standard deviation, for each lag of the grid.
    pub(crate) fast: [(f64, f64); LAGS],
    /// `C`, °F, and its standard deviation.
    pub(crate) slow: (f64, f64),
    /// The lag.
    pub(crate) lags: Lags,
    /// The target band, °F: a value within it ends the job, and more is asked of it.
    pub(crate) band: (f64, f64),
    /// A change came before: drop the first readings and wait the least time.
    pub(crate) changed: bool,
}

/// What the readings of one segment say.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fit {
    /// Settled value, °F, and its standard deviation.
    pub(crate) settled: f64,
    pub(crate) sd: f64,
    /// How far the newest reading's time still is from it, °F, and the standard deviation.
    pub(crate) remaining: f64,
    pub(crate) remaining_sd: f64,
    /// Minutes, mean over the posterior.
    pub(crate) lag: f64,
    /// The whole posterior of it.
    pub(crate) lags: Lags,
    /// Root mean square of what the fit leaves, °F.
    pub(crate) rms: f64,
    /// Share of steps in which what is left changes its sign.
    pub(crate) alternating: f64,
    /// Readings used, and minutes from first to last of them.
    pub(crate) count: usize,
    pub(crate) span: f64,
    enough: bool,
    /// Mean of what the fit leaves of the newest three readings, °F.
    off: f64,
    at_rest: bool,
    changed: bool,
    /// How far the settled value is inside the band, °F; `None` outside.
    inside: Option<f64>,
}

impl Fit {
    /// Both known: where it settles, and that it is there.
    pub(crate) fn is_settled(&self) -> bool {
        let known = match self.inside {
            Some(inside) => KNOWN_IN_BAND.min((inside + OVER) / EDGE),
            None => KNOWN,
        };
        self.enough
            && self.at_rest
            && self.sd < known
            && self.remaining.abs() + SURE * self.remaining_sd < CLOSE
    }

    /// The settled value and its standard deviation by the readings alone: the posterior with the
    /// prior taken out again.
    pub(crate) fn alone(&self, prior: &Prior) -> (f64, f64) {
        let (mean, sd) = prior.settled;
        let (before, after) = (1.0 / (sd * sd), 1.0 / (self.sd * self.sd));
        if after <= before {
            return (self.settled, sd);
        }
        let precision = after - before;
        (
            (after * self.settled - before * mean) / precision,
            1.0 / precision.sqrt(),
        )
    }
}

/// The readings of a segment that count.
pub(crate) fn used(points: &[Point], changed: bool) -> Vec<Point> {
    let newest = points.last().map_or(0.0, |point| point.t);
    let from = if changed { DEAD } else { 0.0 };
    points
        .iter()
        .filter(|p| p.t >= from && p.t >= newest - WINDOW)
        .copied()
        .collect()
}

/// Fits the readings that [`used`] gave; `None` when there are none.
///
/// - `scatter`: one standard deviation of a reading, °F.
pub(crate) fn fit(points: &[Point], prior: &Prior, scatter: f64) -> Option<Fit> {
    let mut fit = mixture(points, prior, scatter)?;
    // Four readings are the fewest whose scatter means anything beside three unknowns.
    if points.len() >= 4 && fit.rms > ROUGH * scatter {
        fit = mixture(points, prior, fit.rms)?;
    }
    // By the tools' own scatter: a fall must not excuse itself by fitting badly.
    fit.at_rest = at_rest(points, &fit, scatter);
    Some(fit)
}

/// How many more readings, `apart` minutes from each other, would settle it if they came as the
/// fit foresees, and the last one's minute; `None` when eight would not.
///
/// - `newest`: minute of the newest reading of the segment, used or not.
pub(crate) fn readings_wanted(
    points: &[Point],
    newest: f64,
    prior: &Prior,
    scatter: f64,
    apart: f64,
) -> Option<(u32, f64)> {
    let mut points = points.to_vec();
    let mut known = fit(&points, prior, scatter);
    // Readings within the dead time would count for nothing.
    let mut t = if prior.changed {
        newest.max(DEAD - apart)
    } else {
        newest
    };
    for more in 1..=8 {
        t += apart;
        let superheat = known.map_or(prior.settled.0, |fit| {
            fit.settled + fit.remaining * libm::exp(-apart / fit.lag)
        });
        points.push(Point {
            t,
            superheat,
            needle: None,
            condensing: None,
        });
        known = fit(&points, prior, scatter);
        if known.is_some_and(|fit| fit.is_settled()) {
            return Some((more, t));
        }
    }
    None
}

/// The middle one of the gaps between readings, minutes.
pub(crate) fn spacing(points: &[Point]) -> Option<f64> {
    let mut gaps: Vec<f64> = points
        .windows(2)
        .map(|pair| pair[1].t - pair[0].t)
        .collect();
    gaps.sort_by(f64::total_cmp);
    gaps.get(gaps.len() / 2).copied()
}

fn mixture(points: &[Point], prior: &Prior, scatter: f64) -> Option<Fit> {
    let (first, last) = (points.first()?, points.last()?);
    let offset = if prior.changed { DEAD } else { 0.0 };
    let tail: Vec<f64> = points.iter().map(|p| libm::exp(-p.t / TAIL)).collect();
    let each: [One; LAGS] = core::array::from_fn(|i| {
        let lag = lag(i);
        let forms: Vec<[f64; 3]> = points
            .iter()
            .zip(&tail)
            .map(|(point, tail)| [1.0, libm::exp(-(point.t - offset) / lag), *tail])
            .collect();
        let normal = Normal::of(points, &forms, prior, i, scatter);
        One { lag, forms, normal }
    });
    let logs = core::array::from_fn(|i| prior.lags.0[i] + each[i].normal.log_evidence);
    let best = logs.into_iter().fold(f64::NEG_INFINITY, f64::max);
    let lags = Lags(logs.map(|log| log - best));
    let weights = lags.weights();
    let mean = |of: &dyn Fn(&One) -> f64| -> f64 {
        each.iter().zip(&weights).map(|(one, w)| w * of(one)).sum()
    };
    // Mean and spread over the mixture of a linear form of `(S, A, C)`.
    let moments = |form: &dyn Fn(&One) -> [f64; 3]| {
        let centre = mean(&|one| one.normal.mean_of(form(one)));
        let second = mean(&|one| {
            let (form, off) = (form(one), one.normal.mean_of(form(one)) - centre);
            one.normal.variance_of(form) + off * off
        });
        (centre, second.sqrt())
    };
    let (settled, sd) = moments(&|_| [1.0, 0.0, 0.0]);
    let newest = points.len() - 1;
    let (remaining, remaining_sd) = moments(&|one| {
        let [_, fast, slow] = one.forms[newest];
        [0.0, fast, slow]
    });
    let left: Vec<f64> = points
        .iter()
        .enumerate()
        .map(|(at, point)| point.superheat - mean(&|one| one.normal.mean_of(one.forms[at])))
        .collect();
    let turns = left
        .windows(2)
        .filter(|pair| pair[0] * pair[1] < 0.0)
        .count();
    let (count, span) = (points.len(), last.t - first.t);
    // Three over two minutes, or a pair at least three minutes apart; the posterior judges the rest.
    let enough = (count >= 3 && span >= 2.0 - 0.01 || count >= 2 && span >= 3.0 - 0.1)
        && (!prior.changed || last.t >= EARLIEST - 0.01);
    Some(Fit {
        settled,
        sd,
        remaining,
        remaining_sd,
        lag: mean(&|one| one.lag),
        lags,
        rms: (left.iter().map(|r| r * r).sum::<f64>() / count as f64).sqrt(),
        alternating: turns as f64 / (count.max(2) - 1) as f64,
        count,
        span,
        enough,
        off: left.iter().rev().take(3).sum::<f64>() / count.min(3) as f64,
        at_rest: false,
        changed: prior.changed,
        inside: Some((settled - prior.band.0).min(prior.band.1 - settled)).filter(|by| *by >= 0.0),
    })
}

/// Whether the newest readings agree with each other and with the fit. A steady fall is no rest,
/// whatever the fit makes of it: its model knows only answers that die out.
fn at_rest(points: &[Point], fit: &Fit, scatter: f64) -> bool {
    let newest = &points[points.len().saturating_sub(3)..];
    let (Some(first), Some(last)) = (newest.first(), newest.last()) else {
        return false;
    };
    (last.superheat - first.superheat).abs() < AWAY * core::f64::consts::SQRT_2 * scatter
        && fit.off.abs() < AWAY * scatter / (newest.len() as f64).sqrt()
        && (fit.changed || is_level(points, scatter))
}

/// Whether a line through the readings is level. As found no change explains a slope.
fn is_level(points: &[Point], scatter: f64) -> bool {
    let count = points.len() as f64;
    let mean = points.iter().map(|point| point.t).sum::<f64>() / count;
    let (mut spread, mut rise) = (0.0, 0.0);
    for point in points {
        let t = point.t - mean;
        spread += t * t;
        rise += t * point.superheat;
    }
    (rise / spread).abs() < (SLOPE * scatter / spread.sqrt()).max(LEVEL)
}

/// One lag of the grid: what each reading holds of `(S, A, C)`, and what they say.
struct One {
    lag: f64,
    forms: Vec<[f64; 3]>,
    normal: Normal,
}

/// The posterior of `(S, A, C)` for one lag.
struct Normal {
    mean: [f64; 3],
    covariance: [[f64; 3]; 3],
    log_evidence: f64,
}

impl Normal {
    /// Takes the readings in one by one: each is a scalar Kalman step, and the product of what
    /// each was given before it is the evidence.
    fn of(points: &[Point], forms: &[[f64; 3]], prior: &Prior, lag: usize, scatter: f64) -> Self {
        let (fast, fast_sd) = prior.fast[lag];
        let sds = [prior.settled.1, fast_sd, prior.slow.1];
        let mut normal = Self {
            mean: [prior.settled.0, fast, prior.slow.0],
            covariance: core::array::from_fn(|i| {
                core::array::from_fn(|j| if i == j { sds[i] * sds[i] } else { 0.0 })
            }),
            log_evidence: 0.0,
        };
        for (point, &form) in points.iter().zip(forms) {
            let towards = normal.times(form);
            let variance = dot(form, towards) + scatter * scatter;
            let surprise = point.superheat - normal.mean_of(form);
            normal.log_evidence -= 0.5 * (surprise * surprise / variance + libm::log(variance));
            for i in 0..3 {
                normal.mean[i] += towards[i] / variance * surprise;
                for j in 0..3 {
                    normal.covariance[i][j] -= towards[i] * towards[j] / variance;
                }
            }
        }
        normal
    }

    fn times(&self, form: [f64; 3]) -> [f64; 3] {
        self.covariance.map(|row| dot(row, form))
    }

    fn mean_of(&self, form: [f64; 3]) -> f64 {
        dot(self.mean, form)
    }

    fn variance_of(&self, form: [f64; 3]) -> f64 {
        dot(form, self.times(form)).max(0.0)
    }
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

//! Does superheat swing on a beat?

use crate::log::Point;
use crate::settle::Fit;

/// Only the last minutes count, and after a change none of the first: the way down is no swing.
const WINDOW: f64 = 8.0;
const AFTER_CHANGE: f64 = 3.0;
/// Fewest readings, and minutes from first to last, that can show a beat.
const FEWEST: usize = 10;
const SHORTEST_SPAN: f64 = 3.0;
/// Periods tried, minutes: limit cycles of 40 to 110 s were prototype-measured.
const PERIODS: usize = 60;
const SHORTEST: f64 = 0.5;
const LONGEST: f64 = 5.0;
/// The sum of squares, in units of the scatter's, must fall by this much. The prototype took 18;
/// asked again at each reading that gave a false alarm in 1 % of jobs.
const DROP: f64 = 22.0;
/// Smallest amplitude, in units of the scatter.
const SMALLEST: f64 = 0.9;
/// The needle's whole swing that is called hunting, °F. Prototype: quiet valves stay under 0.7,
/// hunting ones are over 3.
const NEEDLE: f64 = 3.0;
/// For readings too far apart to follow a beat: what the fit leaves, as standard deviations of the
/// sum of squares above its mean (our own, as a plain share of the scatter cried wolf with few
/// readings); the fewest readings, the share of sign changes and the minutes after a change, all
/// three prototype-tested.
const LEFT: f64 = 4.0;
const LEFT_FEWEST: usize = 6;
const LEFT_ALTERNATING: f64 = 0.25;
const LEFT_AFTER: f64 = 7.0;

/// A swing, °F and minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Seen {
    pub(crate) amplitude: f64,
    pub(crate) period: Option<f64>,
    /// Large and regular enough to be called hunting.
    pub(crate) hunting: bool,
}

/// Looks for a swing: by the needle, by the beat of close readings, by what the fit leaves.
pub(crate) fn look(points: &[Point], changed: bool, fit: &Fit, scatter: f64) -> Option<Seen> {
    let last = points.last()?;
    let from = if changed { AFTER_CHANGE } else { 0.0 };
    let recent: Vec<Point> = points
        .iter()
        .filter(|p| p.t >= from && p.t >= last.t - WINDOW)
        .copied()
        .collect();
    let needle = recent
        .iter()
        .rev()
        .find_map(|point| point.needle)
        .map(|(low, high)| Seen {
            amplitude: (high - low) / 2.0,
            period: None,
            hunting: high - low >= NEEDLE.max(2.0 * scatter),
        });
    let heard = beat(&recent, scatter).or_else(|| left_over(last, changed, fit, scatter));
    match (needle, heard) {
        // The needle was watched: it is believed for the size, the readings for the period.
        (Some(needle), heard) => Some(Seen {
            period: heard.and_then(|seen| seen.period),
            hunting: needle.hunting || heard.is_some(),
            amplitude: heard
                .map_or(0.0, |seen| seen.amplitude)
                .max(needle.amplitude),
        }),
        (None, heard) => heard,
    }
}

fn left_over(last: &Point, changed: bool, fit: &Fit, scatter: f64) -> Option<Seen> {
    let late = !changed || last.t >= LEFT_AFTER;
    let limit = scatter * scatter * (1.0 + LEFT * (2.0 / fit.count as f64).sqrt());
    let rough = fit.rms * fit.rms > limit
        && fit.count >= LEFT_FEWEST
        && fit.alternating >= LEFT_ALTERNATING;
    (late && rough).then(|| Seen {
        amplitude: (2.0 * (fit.rms * fit.rms - scatter * scatter)).sqrt(),
        period: None,
        hunting: true,
    })
}

/// A sine wave on top of a bent line, against the bent line alone.
fn beat(points: &[Point], scatter: f64) -> Option<Seen> {
    let span = points.last()?.t - points.first()?.t;
    if points.len() < FEWEST || span < SHORTEST_SPAN {
        return None;
    }
    let middle = points[points.len() / 2].t;
    let line = |t: f64| {
        let x = (t - middle) / span;
        [1.0, x, x * x]
    };
    let apart = span / (points.len() - 1) as f64;
    let (shortest, longest) = (SHORTEST.max(2.2 * apart), LONGEST.min(span / 1.5));
    if shortest >= longest {
        return None;
    }
    let plain = least_squares(points, |t| {
        let [a, b, c] = line(t);
        [a, b, c, 0.0, 0.0]
    });
    let (period, wave) = (0..PERIODS)
        .map(|i| shortest * libm::pow(longest / shortest, i as f64 / (PERIODS - 1) as f64))
        .map(|period| {
            let wave = least_squares(points, |t| {
                let ([a, b, c], turn) = (line(t), core::f64::consts::TAU * t / period);
                [a, b, c, libm::sin(turn), libm::cos(turn)]
            });
            (period, wave)
        })
        .min_by(|a, b| a.1.left.total_cmp(&b.1.left))?;
    let amplitude = libm::hypot(wave.parts[3], wave.parts[4]);
    let drop = (plain.left - wave.left) / (scatter * scatter);
    // Enough against the tools' scatter, and against what the wave itself leaves: readings that are
    // rough for another reason show no beat.
    let rest = wave.left / (points.len() as f64 - 5.0);
    let clear = (plain.left - wave.left) / rest.max(scatter * scatter) > DROP;
    (drop > DROP && clear && amplitude > SMALLEST * scatter).then_some(Seen {
        amplitude,
        period: Some(period),
        hunting: true,
    })
}

struct Squares {
    parts: [f64; 5],
    left: f64,
}

/// Ordinary least squares by elimination with a whisper of ridge, so that a column of zeros or a
/// wave that the readings cannot tell from the line does no harm.
fn least_squares(points: &[Point], form: impl Fn(f64) -> [f64; 5]) -> Squares {
    let mut matrix = [[0.0; 6]; 5];
    let rows: Vec<[f64; 5]> = points.iter().map(|point| form(point.t)).collect();
    for (point, row) in points.iter().zip(&rows) {
        for i in 0..5 {
            for j in 0..5 {
                matrix[i][j] += row[i] * row[j];
            }
            matrix[i][5] += row[i] * point.superheat;
        }
    }
    for (i, row) in matrix.iter_mut().enumerate() {
        row[i] += 1e-6;
    }
    for pivot in 0..5 {
        let head = matrix[pivot];
        for (_, row) in matrix.iter_mut().enumerate().filter(|(i, _)| *i != pivot) {
            let share = row[pivot] / head[pivot];
            for (to, from) in row.iter_mut().zip(head) {
                *to -= share * from;
            }
        }
    }
    let parts: [f64; 5] = core::array::from_fn(|i| matrix[i][5] / matrix[i][i]);
    let left = points
        .iter()
        .zip(&rows)
        .map(|(point, row)| {
            let fitted: f64 = row.iter().zip(parts).map(|(a, b)| a * b).sum();
            (point.superheat - fitted) * (point.superheat - fitted)
        })
        .sum();
    Squares { parts, left }
}

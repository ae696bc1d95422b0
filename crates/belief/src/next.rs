//! Which test to make next: the one that leaves the least doubt for a minute of work.
//!
//! For each test the plant's model foretells in each class what would be read, given what has been
//! read already; what it would leave of the doubt (entropy) is averaged over those outcomes.

use diagnosis::{Assessment, Cause, Metering, Setup, Sign, cause::Test, expected_shares};

use crate::class::Class;
use crate::judge::State;
use crate::row::{ROWS, Row};
use crate::weigh::{Law, Number, factor, squared_length};

/// A test and what it is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NextTest {
    /// The trade's test.
    pub test: Test,
    /// By how much it lowers the doubt on average, bits.
    pub gain_bits: f64,
}

/// A test that would tell less is not worth naming, bits. Judgement, no source.
const LEAST_GAIN: f64 = 0.03;
/// Causes less probable than this propose no test of their own.
const IN_PLAY: f64 = 0.02;
/// Classes less probable than this are left out of the forecast.
const COUNTS: f64 = 0.02;
/// How often an act that proves a cause says yes with it and without it. Judgement, no source.
const PROOF: (f64, f64) = (0.85, 0.1);
/// Thermometer of a test, K.
const TOOL_K: f64 = 0.4;
/// Points at which a forecast is looked at, and how far beyond the means, standard deviations.
const POINTS: usize = 16;
const BEYOND: f64 = 2.5;

/// The best test, if any is worth it.
pub(crate) fn next_test(
    setup: &Setup,
    assessment: &Assessment,
    numbers: &[Number],
    states: &[State],
    wrong: f64,
) -> Option<NextTest> {
    let counted: Vec<&State> = states.iter().filter(|s| s.probability > COUNTS).collect();
    let forecasts: Vec<Forecast> = counted.iter().map(|s| Forecast::new(s, numbers)).collect();
    let mut chances: Vec<f64> = counted.iter().map(|s| s.probability).collect();
    chances.push(wrong);
    let all: f64 = chances.iter().sum();
    chances.iter_mut().for_each(|chance| *chance /= all);
    let before = doubt(&chances);

    let done = |sign: Sign| {
        let evidence = assessment.findings.first().map(|f| &f.evidence);
        evidence.is_some_and(|all| all.iter().any(|(seen, _)| seen.sign == sign))
    };
    let mut tried: Vec<&str> = Vec::new();
    let mut best: Option<(f64, NextTest)> = None;
    let in_play = |cause: Cause| {
        let of = states.iter().filter(|s| s.class.has(cause));
        of.map(|s| s.probability).sum::<f64>() > IN_PLAY
            || cause == Cause::WrongRefrigerant && wrong > IN_PLAY
    };
    for &cause in Cause::ALL.iter().filter(|&&cause| in_play(cause)) {
        for test in cause.tests(setup.metering) {
            if tried.contains(&test.says) || test.sign.is_some_and(done) {
                continue;
            }
            tried.push(test.says);
            let outcomes = outcomes(&test, setup.metering, &counted, &forecasts, numbers);
            let Some(outcomes) = outcomes else { continue };
            let gain_bits = before - left(&chances, &outcomes);
            let worth = gain_bits / test.minutes;
            if gain_bits > LEAST_GAIN && best.is_none_or(|(most, _)| worth > most) {
                best = Some((worth, NextTest { test, gain_bits }));
            }
        }
    }
    best.map(|(_, test)| test)
}

/// Entropy, bits.
fn doubt(chances: &[f64]) -> f64 {
    let part = |p: &f64| if *p > 0.0 { -p * libm::log2(*p) } else { 0.0 };
    chances.iter().map(part).sum()
}

/// Doubt that is left on average. `outcomes`: for each class, last the wrong refrigerant, how
/// probable each outcome is.
fn left(chances: &[f64], outcomes: &[Vec<f64>]) -> f64 {
    let count = outcomes.first().map_or(0, Vec::len);
    (0..count)
        .map(|o| {
            let joint: Vec<f64> = chances
                .iter()
                .zip(outcomes)
                .map(|(chance, of)| chance * of[o])
                .collect();
            let total: f64 = joint.iter().sum();
            if total <= 0.0 {
                return 0.0;
            }
            let after: Vec<f64> = joint.iter().map(|j| j / total).collect();
            total * doubt(&after)
        })
        .sum()
}

/// How probable each outcome of a test is in each class; none where nothing is foretold.
fn outcomes(
    test: &Test,
    metering: Metering,
    counted: &[&State],
    forecasts: &[Forecast],
    numbers: &[Number],
) -> Option<Vec<Vec<f64>>> {
    let sign = match (test.sign, test.proves) {
        (None, None | Some(Cause::NoFault)) => return None,
        (None, Some(cause)) => {
            let yes = |has: bool| if has { PROOF.0 } else { PROOF.1 };
            let row = |has| vec![yes(has), 1.0 - yes(has)];
            let of = counted.iter().map(|state| row(state.class.has(cause)));
            return Some(of.chain([row(cause == Cause::WrongRefrigerant)]).collect());
        }
        (Some(sign), _) => sign,
    };
    match rows(sign) {
        Some(rows) => by_model(rows, forecasts, numbers),
        None => {
            let of = counted.iter().map(|s| by_table(s.class, metering, sign));
            let wrong = expected_shares(Cause::WrongRefrigerant, metering, sign).to_vec();
            Some(of.chain([wrong]).collect())
        }
    }
}

/// Two causes at once show the sign of the one that moves it further.
fn by_table(class: Class, metering: Metering, sign: Sign) -> Vec<f64> {
    let sound = expected_shares(Cause::NoFault, metering, sign);
    let shares = |cause| expected_shares(cause, metering, sign);
    let moved = |of: [f64; 3]| -> f64 { of.iter().zip(sound).map(|(a, b)| (a - b).abs()).sum() };
    let first = shares(class.first);
    let second = class.second.map_or(first, shares);
    if moved(second) > moved(first) {
        second.to_vec()
    } else {
        first.to_vec()
    }
}

/// What a test reads, each row with its sign; none for signs that only the table knows.
const fn rows(sign: Sign) -> Option<&'static [(Row, f64)]> {
    Some(match sign {
        Sign::LiquidLineDrop => &[(Row::LineEnd, 1.0), (Row::LiquidLine, -1.0)],
        Sign::EnteringAirRise => &[(Row::EnteringAir, 1.0), (Row::OpenAir, -1.0)],
        Sign::AirSplit => &[(Row::Supply, 1.0), (Row::ReturnDry, -1.0)],
        Sign::CondenserAirRise => &[(Row::LeavingAir, 1.0), (Row::EnteringAir, -1.0)],
        Sign::ReturnAir => &[(Row::ReturnWet, 1.0)],
        Sign::Amps => &[(Row::Amps, 1.0)],
        Sign::SuctionLineDrop => &[(Row::CoilDew, 1.0), (Row::PortDew, -1.0)],
        _ => return None,
    })
}

/// A normal outcome in each class, cut into points. The wrong refrigerant: every point alike.
fn by_model(
    rows: &[(Row, f64)],
    forecasts: &[Forecast],
    numbers: &[Number],
) -> Option<Vec<Vec<f64>>> {
    let unread = |row: Row| numbers.iter().all(|number| number.row != row);
    let asked: Vec<(Row, f64)> = rows
        .iter()
        .copied()
        .filter(|(row, _)| unread(*row))
        .collect();
    if asked.is_empty() {
        return None;
    }
    let foretold: Vec<(f64, f64)> = forecasts.iter().map(|f| f.of(&asked)).collect();
    let low = foretold.iter().map(|(m, sd)| m - BEYOND * sd);
    let low = low.fold(f64::INFINITY, f64::min);
    let high = foretold.iter().map(|(m, sd)| m + BEYOND * sd);
    let high = high.fold(f64::NEG_INFINITY, f64::max);
    let at = |i: usize| low + (high - low) * (i as f64 + 0.5) / POINTS as f64;
    let cut = |(mean, sd): (f64, f64)| -> Vec<f64> {
        let density = (0..POINTS).map(|i| {
            let off = (at(i) - mean) / sd;
            libm::exp(-off * off / 2.0)
        });
        let density: Vec<f64> = density.collect();
        let all: f64 = density.iter().sum::<f64>().max(f64::MIN_POSITIVE);
        density.iter().map(|d| d / all).collect()
    };
    let even = vec![1.0 / POINTS as f64; POINTS];
    Some(foretold.into_iter().map(cut).chain([even]).collect())
}

/// What a class foretells of rows not read, given those that were.
struct Forecast {
    cov: Vec<f64>,
    /// Cholesky's factor of the rows that were read, and which these are.
    root: Vec<f64>,
    read: Vec<usize>,
    /// For each part its share, its means, and the reading's distance from them in the factor's
    /// measure.
    parts: Vec<(f64, [f64; ROWS], Vec<f64>)>,
}

impl Forecast {
    fn new(state: &State, numbers: &[Number]) -> Self {
        let law = Law::new(state.ground, state.kind, &Row::ALL);
        let n = numbers.len();
        let read: Vec<usize> = numbers.iter().map(|number| number.row.index()).collect();
        let mut root = vec![0.0; n * n];
        for i in 0..n {
            for j in 0..n {
                root[i * n + j] = law.cov(read[i], read[j]);
            }
            root[i * n + i] += numbers[i].sd * numbers[i].sd;
        }
        factor(&mut root, n);
        let weights = state.kind.parts.iter().zip(&state.weighed.parts);
        let parts = weights
            .filter(|(_, weight)| **weight > COUNTS)
            .map(|(part, weight)| {
                let means: [f64; ROWS] = core::array::from_fn(|i| law.mean(i, &part.mean));
                let mut off: Vec<f64> = numbers
                    .iter()
                    .zip(&read)
                    .map(|(number, &i)| number.value - means[i])
                    .collect();
                squared_length(&root, n, &mut off);
                (*weight, means, off)
            })
            .collect();
        Self {
            cov: law.into_cov(),
            root,
            read,
            parts,
        }
    }

    /// Mean and standard deviation of a sum of rows, with the tools' error.
    fn of(&self, asked: &[(Row, f64)]) -> (f64, f64) {
        let n = self.read.len();
        let cov = |i: usize, j: usize| self.cov[i * ROWS + j];
        let mut along: Vec<f64> = self
            .read
            .iter()
            .map(|&i| {
                asked
                    .iter()
                    .map(|(row, sign)| sign * cov(i, row.index()))
                    .sum()
            })
            .collect();
        let explained = squared_length(&self.root, n, &mut along);
        let own: f64 = asked
            .iter()
            .flat_map(|(a, sa)| asked.iter().map(move |(b, sb)| (a, sa * sb, b)))
            .map(|(a, sign, b)| sign * cov(a.index(), b.index()))
            .sum();
        let tools = TOOL_K * TOOL_K * asked.len() as f64;
        let within = (own - explained).max(0.0) + tools;
        let (mut total, mut mean, mut square) = (0.0, 0.0, 0.0);
        for (weight, means, off) in &self.parts {
            let before: f64 = asked
                .iter()
                .map(|(row, sign)| sign * means[row.index()])
                .sum();
            let moved: f64 = along.iter().zip(off).map(|(a, o)| a * o).sum();
            let at = before + moved;
            total += weight;
            mean += weight * at;
            square += weight * at * at;
        }
        let total = total.max(f64::MIN_POSITIVE);
        let mean = mean / total;
        let between = (square / total - mean * mean).max(0.0);
        (mean, (within + between).sqrt())
    }
}

//! From simulated calls to a model: the sound surface by least squares, then for each class a few
//! parts with one spread (expectation and maximisation, started by size).

use belief::library::{Kind, Model, Part};
use belief::surface::{Lean, Surface, TERMS, steps, terms};
use belief::weigh::{factor, squared_length};
use belief::{ANSWERS, Class, GIVENS, Row, answers};
use diagnosis::{Cause, Metering};
use refrigerant::Refrigerant;

use crate::step::step;
use crate::units::{Build, Call, Dice, Unit};

/// Passes of expectation and maximisation.
const PASSES: usize = 25;
/// Least variance of an answer, K²: no unit is known better than this.
const LEAST: f64 = 0.02;
/// A part rarer than this is left out.
const RAREST: f64 = 0.004;

/// A simulated call, as the fit needs it.
struct Sample {
    givens: [f64; GIVENS],
    answers: [f64; ANSWERS],
    share: f64,
    refrigerant: Refrigerant,
}

/// How many parts a class gets.
fn parts(class: Class) -> usize {
    match (class.first, class.second) {
        (Cause::NoFault, _) => 1,
        (_, Some(_)) => 10,
        (Cause::ValveUnderfeeding, _) => 9,
        (_, None) => 6,
    }
}

/// Draws calls and fits.
pub fn model(refrigerants: &[Refrigerant], metering: Metering, calls: usize, seed: u64) -> Model {
    let mut dice = Dice(seed);
    let sound: Vec<Sample> = [Cause::NoFault, Cause::LowLoad, Cause::HighLoad]
        .into_iter()
        .flat_map(|first| {
            let class = Class {
                first,
                second: None,
            };
            samples(&mut dice, refrigerants, metering, class, calls)
        })
        .collect();
    let surface = surface(&sound);
    let own: Vec<[f64; ANSWERS]> = Refrigerant::ALL
        .iter()
        .map(|&one| own(&sound, one, &surface))
        .collect();
    let kinds = Class::ALL
        .iter()
        .map(|&class| {
            if !class.is_possible(metering) || class.is_return_air() {
                return None;
            }
            let drawn = if class.first == Cause::NoFault {
                Vec::new()
            } else {
                let more = if class.second.is_some() { 3 } else { 2 };
                samples(&mut dice, refrigerants, metering, class, calls * more / 2)
            };
            let of = if drawn.is_empty() { &sound } else { &drawn };
            Some(kind(of, &surface, &own, parts(class)))
        })
        .collect();
    Model {
        surface,
        own,
        kinds,
        steps: [
            step(&mut dice, refrigerants, metering, Cause::LowCharge, calls),
            step(&mut dice, refrigerants, metering, Cause::Overcharge, calls),
        ],
    }
}

fn samples(
    dice: &mut Dice,
    refrigerants: &[Refrigerant],
    metering: Metering,
    class: Class,
    calls: usize,
) -> Vec<Sample> {
    let mut found = Vec::new();
    for i in 0..calls {
        let refrigerant = refrigerants[i % refrigerants.len()];
        // A draw that the model has no answer to is drawn again, a few times.
        for _ in 0..4 {
            let share = (i as f64 + dice.unit()) / calls as f64;
            let Some(unit) = Unit::draw(dice, refrigerant, metering, Build::Usual) else {
                continue;
            };
            if let Some(call) = unit.call(dice, class, share) {
                found.push(sample(&unit, &call));
                break;
            }
        }
    }
    found
}

fn sample(unit: &Unit, call: &Call) -> Sample {
    let of = |row: Row| call.rows[row.index()];
    Sample {
        givens: [
            of(Row::OpenAir),
            of(Row::ReturnDry),
            of(Row::ReturnWet),
            unit.superheat.k(),
            unit.subcooling.k(),
        ],
        answers: answers(&call.rows),
        share: call.share,
        refrigerant: unit.refrigerant,
    }
}

fn surface(sound: &[Sample]) -> Surface {
    let rows: Vec<[f64; TERMS]> = sound.iter().map(|s| terms(&steps(&s.givens))).collect();
    core::array::from_fn(|a| {
        let values: Vec<f64> = sound.iter().map(|s| s.answers[a]).collect();
        least_squares(&rows, &values, 1e-6)
    })
}

/// Answers over the surface.
fn over(s: &Sample, surface: &Surface) -> [f64; ANSWERS] {
    let row = terms(&steps(&s.givens));
    core::array::from_fn(|a| {
        let sound: f64 = row.iter().zip(&surface[a]).map(|(t, c)| t * c).sum();
        s.answers[a] - sound
    })
}

fn own(sound: &[Sample], refrigerant: Refrigerant, surface: &Surface) -> [f64; ANSWERS] {
    let its: Vec<_> = sound
        .iter()
        .filter(|s| s.refrigerant == refrigerant)
        .map(|s| over(s, surface))
        .collect();
    core::array::from_fn(|a| its.iter().map(|over| over[a]).sum::<f64>() / its.len().max(1) as f64)
}

fn least_squares<const N: usize>(rows: &[[f64; N]], values: &[f64], ridge: f64) -> [f64; N] {
    let mut a = vec![vec![0.0; N + 1]; N];
    for (row, value) in rows.iter().zip(values) {
        for i in 0..N {
            for j in 0..N {
                a[i][j] += row[i] * row[j];
            }
            a[i][N] += row[i] * value;
        }
    }
    for (i, row) in a.iter_mut().enumerate() {
        row[i] += ridge * rows.len() as f64;
    }
    for p in 0..N {
        let best = (p..N).max_by(|&x, &y| a[x][p].abs().total_cmp(&a[y][p].abs()));
        a.swap(p, best.unwrap_or(p));
        let upper = a[p].clone();
        for row in a.iter_mut().skip(p + 1) {
            let f = row[p] / upper[p];
            for (x, u) in row.iter_mut().zip(&upper).skip(p) {
                *x -= f * u;
            }
        }
    }
    let mut solved = [0.0; N];
    for p in (0..N).rev() {
        let known: f64 = (p + 1..N).map(|j| a[p][j] * solved[j]).sum();
        solved[p] = (a[p][N] - known) / a[p][p];
    }
    solved
}

/// The calls of one class while it is fitted.
struct Calls<'a> {
    of: &'a [Sample],
    /// Answers over those of the sound plant.
    over: Vec<[f64; ANSWERS]>,
    /// Steps from the middle of the weather.
    weather: Vec<[f64; 3]>,
    /// How much each call belongs to each part.
    belongs: Vec<Vec<f64>>,
}

fn kind(of: &[Sample], surface: &Surface, own: &[[f64; ANSWERS]], parts: usize) -> Kind {
    let mut calls = Calls::new(of, surface, own, parts);
    let mut found = Kind {
        spread: [[0.0; ANSWERS]; ANSWERS],
        lean: [[0.0; 3]; ANSWERS],
        share_sd: 0.0,
        share_along: [0.0; ANSWERS],
        parts: Vec::new(),
    };
    for _ in 0..PASSES {
        if parts > 1 {
            found.lean = calls.lean(&found.lean);
        }
        let means = calls.means(&found.lean);
        found.spread = calls.spread(&found.lean, &means);
        found.parts = calls.parts(&means);
        calls.share_out(&found);
    }
    (found.share_sd, found.share_along) = calls.size_along(&found);
    found.parts.retain(|part| part.weight > RAREST);
    found.parts.sort_by(|a, b| a.share.total_cmp(&b.share));
    found
}

impl<'a> Calls<'a> {
    /// The first parts are by size.
    fn new(of: &'a [Sample], surface: &Surface, own: &[[f64; ANSWERS]], parts: usize) -> Self {
        let mut order: Vec<usize> = (0..of.len()).collect();
        order.sort_by(|&i, &j| of[i].share.total_cmp(&of[j].share));
        let mut belongs = vec![vec![0.0; parts]; of.len()];
        for (place, &i) in order.iter().enumerate() {
            belongs[i][place * parts / of.len()] = 1.0;
        }
        let over = of.iter().map(|sample| {
            let over = over(sample, surface);
            core::array::from_fn(|a| over[a] - own[sample.refrigerant as usize][a])
        });
        let weather = of.iter().map(|sample| {
            let [outdoor, dry, wet, ..] = steps(&sample.givens);
            [outdoor, dry, wet]
        });
        Self {
            of,
            over: over.collect(),
            weather: weather.collect(),
            belongs,
        }
    }

    /// How far call `i` is from a part.
    fn off(&self, i: usize, lean: &Lean, mean: &[f64; ANSWERS]) -> [f64; ANSWERS] {
        core::array::from_fn(|a| self.over[i][a] - leant(&lean[a], &self.weather[i]) - mean[a])
    }

    fn weight(&self, part: usize) -> f64 {
        self.belongs.iter().map(|b| b[part]).sum::<f64>().max(1e-9)
    }

    /// What is left beside the means, by weather.
    fn lean(&self, before: &Lean) -> Lean {
        let means = self.means(before);
        core::array::from_fn(|a| {
            let left: Vec<f64> = self
                .over
                .iter()
                .zip(&self.belongs)
                .map(|(over, belongs)| {
                    let mean: f64 = belongs.iter().zip(&means).map(|(b, m)| b * m[a]).sum();
                    over[a] - mean
                })
                .collect();
            least_squares(&self.weather, &left, 0.01)
        })
    }

    fn means(&self, lean: &Lean) -> Vec<[f64; ANSWERS]> {
        let parts = self.belongs.first().map_or(0, Vec::len);
        let none = [0.0; ANSWERS];
        let mean = |part: usize| {
            let mut sum = none;
            for (i, belongs) in self.belongs.iter().enumerate() {
                for (sum, off) in sum.iter_mut().zip(self.off(i, lean, &none)) {
                    *sum += belongs[part] * off;
                }
            }
            sum.map(|sum| sum / self.weight(part))
        };
        (0..parts).map(mean).collect()
    }

    fn spread(&self, lean: &Lean, means: &[[f64; ANSWERS]]) -> [[f64; ANSWERS]; ANSWERS] {
        let mut spread = [[0.0; ANSWERS]; ANSWERS];
        for (i, belongs) in self.belongs.iter().enumerate() {
            for (belongs, mean) in belongs.iter().zip(means) {
                let off = self.off(i, lean, mean);
                for (row, a) in spread.iter_mut().zip(off) {
                    for (cell, b) in row.iter_mut().zip(off) {
                        *cell += belongs * a * b / self.of.len() as f64;
                    }
                }
            }
        }
        for (a, row) in spread.iter_mut().enumerate() {
            row[a] += LEAST;
        }
        spread
    }

    fn parts(&self, means: &[[f64; ANSWERS]]) -> Vec<Part> {
        let part = |(k, mean): (usize, &[f64; ANSWERS])| {
            let weight = self.weight(k);
            let shares = self.of.iter().zip(&self.belongs);
            let share: f64 = shares.map(|(sample, b)| sample.share * b[k]).sum();
            Part {
                weight: weight / self.of.len() as f64,
                share: share / weight,
                mean: *mean,
            }
        };
        means.iter().enumerate().map(part).collect()
    }

    /// How sizes lie within the parts, and how that goes along with the answers.
    fn size_along(&self, found: &Kind) -> (f64, [f64; ANSWERS]) {
        let (mut var, mut along) = (0.0, [0.0; ANSWERS]);
        for (i, sample) in self.of.iter().enumerate() {
            for (belongs, part) in self.belongs[i].iter().zip(&found.parts) {
                let weight = belongs / self.of.len() as f64;
                let size = sample.share - part.share;
                var += weight * size * size;
                let off = self.off(i, &found.lean, &part.mean);
                for (along, off) in along.iter_mut().zip(off) {
                    *along += weight * size * off;
                }
            }
        }
        let sd = var.sqrt();
        let scale = |a: usize| sd * found.spread[a][a].sqrt();
        (sd, core::array::from_fn(|a| along[a] / scale(a)))
    }

    /// Whom each call belongs to.
    fn share_out(&mut self, found: &Kind) {
        let mut root: Vec<f64> = found.spread.iter().flatten().copied().collect();
        factor(&mut root, ANSWERS);
        for i in 0..self.of.len() {
            let log = |part: &Part| {
                let mut off = self.off(i, &found.lean, &part.mean);
                libm::log(part.weight) - squared_length(&root, ANSWERS, &mut off) / 2.0
            };
            let logs: Vec<f64> = found.parts.iter().map(log).collect();
            let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let likely: Vec<f64> = logs.iter().map(|log| libm::exp(log - most)).collect();
            let all: f64 = likely.iter().sum();
            self.belongs[i] = likely.iter().map(|one| one / all).collect();
        }
    }
}

fn leant(lean: &[f64; 3], weather: &[f64; 3]) -> f64 {
    lean.iter().zip(weather).map(|(l, w)| l * w).sum()
}

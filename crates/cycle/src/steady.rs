//! Rest: the unknowns at which nothing changes.
//!
//! Pseudo-transient continuation: time steps `(I/d - J) dx = f` that grow as the plant calms down,
//! so that far from rest it follows the plant and near it is Newton's method.
//!
//! # Source
//! C. T. Kelley and D. E. Keyes, SIAM Journal on Numerical Analysis 35 (1998) 508 (cited from
//! memory).

use crate::charge::{MOST_LIQUID, MOST_QUALITY};
use crate::compressor::{LEAST_MAP_FLOW, Pump};
use crate::error::{Bound, NoSolution, Unknown};
use crate::faults::Faults;
use crate::plant::{Needle, Seen};
use crate::point::Point;
use crate::round::{Round, Scene};
use crate::system::{COUNT, Lags, State, System, UNKNOWNS};
use crate::weather::Weather;

/// Longest step of each unknown, also the unit in which its change is judged.
const LONGEST: State = [4.0, 0.08, 4.0, 6.0, 6.0, 20.0, 0.3, 0.3, 0.3, 0.2];
/// At rest when no unknown changes by more than this of its longest step a second.
const REST: f64 = 1e-9;
/// How to go about it.
struct Pace {
    iterations: usize,
    /// Pseudo time step, s, and how fast it may shrink or grow.
    first_step: f64,
    growth: (f64, f64),
    /// A step that calms the plant by this much used slopes that serve once more: near rest they
    /// hardly change, and they are most of the work.
    calming: f64,
}
/// For nearly all; and for the few that a quick pace throws to and fro.
const QUICK: Pace = Pace {
    iterations: 100,
    first_step: 4.0,
    growth: (0.3, 4.0),
    calming: 10.0,
};
/// From a place that came to rest in much the same scene.
const NEAR: Pace = Pace {
    iterations: 30,
    first_step: 1e5,
    growth: (0.1, 10.0),
    calming: 3.0,
};
const PATIENT: Pace = Pace {
    iterations: 600,
    first_step: 1.0,
    growth: (0.5, 1.3),
    calming: 10.0,
};
const LONGEST_TIME: f64 = 1e9;
/// Sweeps over the round from a place near by.
const SWEEPS: usize = 2;
/// Step of the difference quotients, of the longest step.
const NUDGE: f64 = 1e-6;
/// Iterations at a bound after which the start is given up.
const PINNED: usize = 25;
/// Most liquid that may leave the coil at rest, share of the flow: beyond it the suction gas is no gas.
const MOST_FLOODBACK: f64 = 0.9;
/// Most discharge superheat, K: the end of the vapour tables.
const MOST_SUPERHEAT: f64 = 100.0;
/// Closer to the end of a range than this part of it counts as out of it.
const EDGE: f64 = 1e-3;

type Matrix = [[f64; COUNT]; COUNT];

/// Rest, and all there is to see there.
pub(crate) struct Rest {
    pub(crate) state: State,
    pub(crate) seen: Seen,
    /// Iterations that the successful start took.
    pub(crate) iterations: usize,
}

impl System {
    /// The operating point at which the plant comes to rest, without friction in the valve.
    ///
    /// - `turns`: stem from the design setting, clockwise positive (in, more superheat).
    ///
    /// # Errors
    /// [`NoSolution`]: a fault or the stem out of range, an unknown that runs out of the model
    /// (head above all), or a plant that finds no rest. Never a number in place of those.
    pub fn steady(
        &self,
        weather: &Weather,
        faults: &Faults,
        turns: f64,
    ) -> Result<Point, NoSolution> {
        let scene = Scene::new(self, weather, faults, turns)?;
        let rest = rest(&scene)?;
        Ok(Point::of(&scene, &rest.state, &rest.seen))
    }

    /// The same from a place near by, where another weather, fault or setting of the same system came
    /// to rest: a third of the work when it is near. From far away it starts as [`Self::steady`] does, but with less patience: it may
    /// miss one point in thousands that that finds.
    ///
    /// # Errors
    /// As [`Self::steady`].
    pub fn steady_near(
        &self,
        weather: &Weather,
        faults: &Faults,
        turns: f64,
        near: Option<&Rested>,
    ) -> Result<Rested, NoSolution> {
        let scene = Scene::new(self, weather, faults, turns)?;
        let found = match near {
            None => rest(&scene)?,
            // One that comes to rest only with patience is not near: its neighbour would not either.
            Some(near) => from(&scene, near.state, &NEAR)
                .or_else(|_| first_of(&scene, &starts(&scene)[..QUICKLY]))?,
        };
        Ok(Rested {
            point: Point::of(&scene, &found.state, &found.seen),
            state: found.state,
        })
    }

    /// Iterations that [`Self::steady`] takes: for benches and tests.
    ///
    /// # Errors
    /// As [`Self::steady`].
    pub fn steady_iterations(
        &self,
        weather: &Weather,
        faults: &Faults,
        turns: f64,
    ) -> Result<usize, NoSolution> {
        let scene = Scene::new(self, weather, faults, turns)?;
        rest(&scene).map(|rest| rest.iterations)
    }
}

/// How many of the starts are quick ones.
const QUICKLY: usize = 4;

/// An operating point, and what another one near by may start from: [`System::steady_near`].
#[derive(Clone, Debug)]
pub struct Rested {
    /// The operating point.
    pub point: Point,
    state: State,
}

/// Starts in turn: design, starved, flooded, hot, and the design again with patience. The first that
/// comes to rest is the answer. When none does, the first that ran out of the model says why, or
/// else the first of all.
pub(crate) fn rest(scene: &Scene) -> Result<Rest, NoSolution> {
    first_of(scene, &starts(scene))
}

/// The starts of [`rest`].
fn starts(scene: &Scene) -> [(State, Pace); QUICKLY + 1] {
    let design = scene.system.design;
    let moved = |front: f64, evaporating: f64, condensing: f64| {
        let mut start = design;
        start[0] += evaporating;
        start[1] = front;
        start[2] += condensing;
        start
    };
    [
        (design, QUICK),
        (moved(0.5, -12.0, 0.0), QUICK),
        (moved(1.02, 4.0, 0.0), QUICK),
        (moved(0.85, 4.0, 12.0), QUICK),
        (design, PATIENT),
    ]
}

fn first_of(scene: &Scene, starts: &[(State, Pace)]) -> Result<Rest, NoSolution> {
    let mut why: Option<NoSolution> = None;
    for (start, pace) in starts {
        match (from(scene, *start, pace), why) {
            (Ok(rest), _) => return Ok(rest),
            (Err(reason), None) => why = Some(reason),
            (Err(reason @ NoSolution::Beyond { .. }), Some(NoSolution::Restless { .. })) => {
                why = Some(reason);
            }
            (Err(_), Some(_)) => {}
        }
    }
    Err(why.unwrap_or(NoSolution::Restless {
        unknown: UNKNOWNS[0],
        per_second: f64::NAN,
    }))
}

/// Rest from one start.
fn from(scene: &Scene, start: State, pace: &Pace) -> Result<Rest, NoSolution> {
    let bounds = scene.system.bounds();
    let mut state = start;
    let mut near = scene.round(&state);
    let mut seen = look(scene, &state, &near);
    let (mut worst, mut speed) = fastest(&seen.fed.rates);
    let mut time = pace.first_step;
    let mut slopes = [[0.0; COUNT]; COUNT];
    let mut calming = false;
    let mut pinned: Option<(Unknown, Bound, f64)> = None;
    let mut pinned_for = 0;
    for iterations in 0..pace.iterations {
        if speed < REST {
            check_rest(scene, &seen.round)?;
            return Ok(Rest {
                state,
                seen,
                iterations,
            });
        }
        if !calming {
            slopes = self::slopes(scene, &state, &seen, &near, &bounds);
        }
        let step = step(&slopes, &seen.fed.rates, time);
        let mut now: Option<(Unknown, Bound, f64)> = None;
        for (place, (by, longest)) in step.iter().zip(LONGEST).enumerate() {
            let (low, high) = bounds[place];
            let wanted = state[place] + by.clamp(-longest, longest);
            state[place] = wanted.clamp(low, high);
            let end = if wanted > high {
                (UNKNOWNS[place], Bound::High, high)
            } else if wanted < low {
                (UNKNOWNS[place], Bound::Low, low)
            } else {
                continue;
            };
            // A temperature tells more than a coil that ran empty meanwhile.
            if !now.is_some_and(|(unknown, ..)| unknown.is_temperature()) {
                now = Some(end);
            }
        }
        pinned_for = if now.is_some() && now == pinned {
            pinned_for + 1
        } else {
            0
        };
        pinned = now;
        if pinned_for > PINNED {
            break;
        }
        near = seen.round;
        seen = look(scene, &state, &near);
        let before = speed;
        (worst, speed) = fastest(&seen.fed.rates);
        calming = before > pace.calming * speed;
        time = (time * (before / speed).clamp(pace.growth.0, pace.growth.1)).min(LONGEST_TIME);
    }
    Err(match pinned {
        Some((unknown, bound, limit)) => NoSolution::Beyond {
            unknown,
            bound,
            limit,
        },
        None => NoSolution::Restless {
            unknown: UNKNOWNS[worst],
            per_second: seen.fed.rates[worst],
        },
    })
}

/// The circuit from a place near by. Steps and their slopes sweep equally often from the same place,
/// so that the slopes are those of what is solved.
fn look(scene: &Scene, state: &State, near: &Round) -> Seen {
    let round = scene.round_from(state, near, SWEEPS);
    let fed = scene.fed(&round, state, &Lags::BRISK, Needle::Free);
    Seen { round, fed }
}

/// The unknown that changes fastest, and how fast, in longest steps a second.
fn fastest(rates: &State) -> (usize, f64) {
    let mut worst = (0, 0.0);
    for (place, (rate, longest)) in rates.iter().zip(LONGEST).enumerate() {
        let speed = rate.abs() / longest;
        // Not-a-number is the fastest of all, so that it is never taken for rest.
        let speed = if speed.is_nan() { f64::INFINITY } else { speed };
        if speed > worst.1 {
            worst = (place, speed);
        }
    }
    worst
}

/// How each rate answers each unknown, by differences that stay inside the bounds.
fn slopes(
    scene: &Scene,
    state: &State,
    seen: &Seen,
    near: &Round,
    bounds: &[(f64, f64); COUNT],
) -> Matrix {
    let rates = &seen.fed.rates;
    let mut matrix = [[0.0; COUNT]; COUNT];
    for column in 0..COUNT {
        let mut nudged = *state;
        let size = NUDGE * LONGEST[column];
        let by = if state[column] + size > bounds[column].1 {
            -size
        } else {
            size
        };
        nudged[column] += by;
        let fed = |round: &Round| scene.fed(round, &nudged, &Lags::BRISK, Needle::Free);
        let moved = if UNKNOWNS[column].is_of_the_valve() {
            fed(&seen.round).rates
        } else {
            fed(&scene.round_from(&nudged, near, SWEEPS)).rates
        };
        for row in 0..COUNT {
            matrix[row][column] = (moved[row] - rates[row]) / by;
        }
    }
    matrix
}

/// One step of `(I/d - J) dx = f`.
fn step(slopes: &Matrix, rates: &State, time: f64) -> State {
    let mut matrix = slopes.map(|row| row.map(|slope| -slope));
    for (place, row) in matrix.iter_mut().enumerate() {
        row[place] += 1.0 / time;
    }
    solve(matrix, *rates)
}

/// How each rate answers each unknown, both in their longest steps; by differences to both sides.
pub(crate) fn jacobian(scene: &Scene, state: &State, lags: &Lags) -> Matrix {
    let mut matrix = [[0.0; COUNT]; COUNT];
    for column in 0..COUNT {
        let beside = |sign: f64| {
            let mut nudged = *state;
            nudged[column] += sign * NUDGE * LONGEST[column];
            scene.look(&nudged, lags, Needle::Free).fed.rates
        };
        let (up, down) = (beside(1.0), beside(-1.0));
        for row in 0..COUNT {
            matrix[row][column] = (up[row] - down[row]) / (2.0 * NUDGE * LONGEST[row]);
        }
    }
    matrix
}

/// Gaussian elimination with row exchange. A row that has vanished leaves its unknown alone.
fn solve(mut a: Matrix, mut b: State) -> State {
    for pivot in 0..COUNT {
        let best = (pivot..COUNT)
            .max_by(|x, y| a[*x][pivot].abs().total_cmp(&a[*y][pivot].abs()))
            .unwrap_or(pivot);
        a.swap(pivot, best);
        b.swap(pivot, best);
        if a[pivot][pivot].abs() < f64::MIN_POSITIVE {
            continue;
        }
        for row in pivot + 1..COUNT {
            let factor = a[row][pivot] / a[pivot][pivot];
            if factor == 0.0 {
                continue;
            }
            let upper = a[pivot];
            for (place, above) in a[row].iter_mut().zip(upper).skip(pivot) {
                *place -= factor * above;
            }
            b[row] -= factor * b[pivot];
        }
    }
    for pivot in (0..COUNT).rev() {
        let known: f64 = (pivot + 1..COUNT)
            .map(|column| a[pivot][column] * b[column])
            .sum();
        b[pivot] = if a[pivot][pivot].abs() < f64::MIN_POSITIVE {
            0.0
        } else {
            (b[pivot] - known) / a[pivot][pivot]
        };
    }
    b
}

/// What is no unknown of the solver but has an end too.
pub(crate) fn check(scene: &Scene, round: &Round) -> Result<(), NoSolution> {
    below(
        Unknown::CondenserLiquid,
        round.level.liquid,
        MOST_LIQUID * (1.0 - 20.0 * EDGE),
    )?;
    below(
        Unknown::LeavingQuality,
        round.level.quality,
        MOST_QUALITY * (1.0 - EDGE),
    )?;
    below(
        Unknown::DischargeSuperheat,
        round.zones.superheat,
        MOST_SUPERHEAT,
    )?;
    match scene.system.compressor.pump {
        Pump::Map(_, design) => above(
            Unknown::MapFlow,
            round.compression.flow / design,
            LEAST_MAP_FLOW,
        ),
        Pump::Swept(_) => Ok(()),
    }
}

/// What may pass for a moment but is no place to rest: so much liquid out of the coil that the gas
/// cannot boil it, or a coil warmer than the room.
fn check_rest(scene: &Scene, round: &Round) -> Result<(), NoSolution> {
    check(scene, round)?;
    below(
        Unknown::Floodback,
        round.carry / round.compression.flow,
        MOST_FLOODBACK,
    )?;
    below(Unknown::Evaporating, round.low.dew, scene.room().dry_bulb)
}

fn below(unknown: Unknown, value: f64, limit: f64) -> Result<(), NoSolution> {
    if value < limit {
        return Ok(());
    }
    Err(NoSolution::Beyond {
        unknown,
        bound: Bound::High,
        limit,
    })
}

fn above(unknown: Unknown, value: f64, limit: f64) -> Result<(), NoSolution> {
    if value > limit {
        return Ok(());
    }
    Err(NoSolution::Beyond {
        unknown,
        bound: Bound::Low,
        limit,
    })
}

//! The plant in time: the same function as at rest, stepped.
//!
//! Heun's method with a fixed step. The plant is not stiff, because metal is lumped with the
//! saturation temperatures; that half a second is short enough is shown by halving it, in
//! `tests/time.rs`.

use crate::error::{Bound, NoSolution, OutOfRange};
use crate::faults::Faults;
use crate::plant::Needle;
use crate::point::Point;
use crate::round::{Round, Scene, Start};
use crate::steady::{check, rest};
use crate::system::{COUNT, Lags, State, System, UNKNOWNS};
use crate::valve::Device;
use crate::weather::Weather;

/// Step, s.
const STEP: f64 = 0.5;
/// Motor of an electronic valve: steps of full travel, and most steps a second. Engineering
/// defaults, no source.
const MOTOR_STEPS: f64 = 480.0;
const MOTOR_RATE: f64 = 30.0;

/// What comes late: house air, oil, ducts. Part of every change of what can be read arrives with a
/// lag of minutes. It stands outside the circuit: what is read is that share of the way behind.
///
/// # Source
/// Makers' guidance is to wait 5 to 10 minutes (`us_army_tm_txv_adjustment.csv`) where the circuit
/// alone settles in two. Size and lag: default, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tail {
    /// Share of a change that comes late, 0 to 0.8.
    pub share: f64,
    /// Lag, s.
    pub seconds: f64,
}

impl Tail {
    /// The circuit alone.
    pub const NONE: Self = Self {
        share: 0.0,
        seconds: 360.0,
    };

    fn check(&self) -> Result<(), OutOfRange> {
        OutOfRange::check(&[
            ("late share", self.share, 0.0, 0.8),
            ("late lag, s", self.seconds, 30.0, 3600.0),
        ])
    }
}

impl Default for Tail {
    /// A quarter of each change with 6 minutes.
    fn default() -> Self {
        Self {
            share: 0.25,
            seconds: 360.0,
        }
    }
}

/// A system in time.
///
/// # Example
/// ```
/// use cycle::{Equalizer, Faults, Metering, Plate, Run, System, Tail, Weather};
/// use refrigerant::Refrigerant;
/// let plate = Plate::new(Refrigerant::R22, 3.0, Metering::Txv(Equalizer::External));
/// let system = System::build(&plate)?;
/// let weather = Weather::at_sea_level_f(95.0, 80.0, 67.0)?;
/// let mut run = Run::at_rest(system, weather, Faults::NONE, 4.0, Tail::default())?;
/// let before = run.point().superheat();
/// assert_eq!(run.turn_quarters(-4), -4); // one turn out
/// run.advance(600.0)?;
/// assert!(run.point().superheat() < before);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Run {
    system: System,
    weather: Weather,
    faults: Faults,
    turns: f64,
    tail: Tail,
    lags: Lags,
    state: State,
    late: State,
    /// Where friction holds the needle (lifts), or the motor stands (share of travel).
    held: f64,
    /// Where the sweeps of the last look ended, and those of the first look of its step.
    last: Start,
    first: Start,
    seconds: f64,
}

impl Run {
    /// A system that has run long enough to rest.
    ///
    /// # Errors
    /// [`NoSolution`] when it does not rest there, see [`System::steady`].
    pub fn at_rest(
        system: System,
        weather: Weather,
        faults: Faults,
        turns: f64,
        tail: Tail,
    ) -> Result<Self, NoSolution> {
        tail.check()?;
        let rest = rest(&Scene::new(&system, &weather, &faults, turns)?)?;
        Ok(Self {
            lags: Lags::of(system.traits()),
            state: rest.state,
            late: rest.state,
            held: rest.seen.fed.force,
            last: Start::of(&rest.seen.round),
            first: Start::of(&rest.seen.round),
            seconds: 0.0,
            system,
            weather,
            faults,
            turns,
            tail,
        })
    }

    /// Seconds since the start.
    pub fn seconds(&self) -> f64 {
        self.seconds
    }

    /// The system that runs.
    pub fn system(&self) -> &System {
        &self.system
    }

    /// Turns of the stem from the design setting, clockwise positive.
    pub fn stem_turns(&self) -> f64 {
        self.turns
    }

    /// Turns the stem by quarters, clockwise positive, as far as it goes; gives back how many
    /// quarters it went.
    pub fn turn_quarters(&mut self, quarters: i32) -> i32 {
        let (out, inward) = self.system.stem_ends();
        let now = 4.0 * self.turns;
        let wanted = (now + f64::from(quarters)).clamp(-4.0 * out, 4.0 * inward);
        // Towards zero: an end between two quarters stops before it.
        let moved = libm::trunc(wanted - now) as i32;
        self.turns += f64::from(moved) / 4.0;
        moved
    }

    /// What is wrong from now on.
    ///
    /// # Errors
    /// [`OutOfRange`]; nothing is changed then.
    pub fn set_faults(&mut self, faults: Faults) -> Result<(), OutOfRange> {
        faults.check()?;
        self.faults = faults;
        Ok(())
    }

    /// What is wrong now.
    pub fn faults(&self) -> &Faults {
        &self.faults
    }

    /// The weather from now on.
    pub fn set_weather(&mut self, weather: Weather) {
        self.weather = weather;
    }

    /// Lets time pass.
    ///
    /// # Errors
    /// [`NoSolution`] when the plant runs out of the model. Time stands where that happened; a real
    /// system would stop there.
    pub fn advance(&mut self, seconds: f64) -> Result<(), NoSolution> {
        self.advance_in_steps(seconds, STEP)
    }

    /// The same with another step, s: shorter to check, up to a second to hasten.
    ///
    /// # Errors
    /// As [`Self::advance`]; and for a step outside 0.05 to 1 s.
    pub fn advance_in_steps(&mut self, seconds: f64, step: f64) -> Result<(), NoSolution> {
        OutOfRange::check(&[
            ("step, s", step, 0.05, 1.0),
            ("time to pass, s", seconds, 0.0, 86_400.0),
        ])?;
        let scene = Scene::of_checked(&self.system, &self.weather, &self.faults, self.turns);
        let bounds = self.system.bounds();
        let count = libm::ceil(seconds / step - 1e-9).max(0.0);
        let step = if count > 0.0 { seconds / count } else { 0.0 };
        for _ in 0..count as u32 {
            self.held = held(&self.system, self.held, scene.force(&self.state), step);
            let needle = needle(&self.system, self.held);
            // The last look was at where this step begins, but for its own small error. The second
            // look is a step ahead; so is its start, since one sweep from here would leave an error
            // that falls only with the step, not with its square.
            let round = swept(&scene, &self.state, self.last);
            let first = scene.fed(&round, &self.state, &self.lags, needle);
            let guess = moved(&self.state, step, &first.rates, &bounds);
            let here = Start::of(&round);
            let round = swept(&scene, &guess, here.ahead_of(&self.first));
            let second = scene.fed(&round, &guess, &self.lags, needle);
            self.first = here;
            self.last = Start::of(&round);
            let mean: State =
                core::array::from_fn(|place| 0.5 * (first.rates[place] + second.rates[place]));
            self.state = moved(&self.state, step, &mean, &bounds);
            let share = step / self.tail.seconds;
            for (late, now) in self.late.iter_mut().zip(self.state) {
                *late += share * (now - *late);
            }
            self.seconds += step;
            check(&scene, &round)?;
            out_of_model(&self.state, &bounds)?;
        }
        Ok(())
    }

    /// What there is to read now, with what comes late.
    pub fn point(&self) -> Point {
        let scene = Scene::of_checked(&self.system, &self.weather, &self.faults, self.turns);
        let share = self.tail.share;
        let shown: State = core::array::from_fn(|place| {
            self.state[place] + share * (self.late[place] - self.state[place])
        });
        let seen = scene.look(&shown, &self.lags, needle(&self.system, self.held));
        Point::of(&scene, &shown, &seen)
    }
}

/// The round by one sweep, where that is enough; after a sudden change from nothing but the unknowns.
fn swept(scene: &Scene, state: &State, start: Start) -> Round {
    let round = scene.swept(state, start, 1);
    if start.agrees_with(&Start::of(&round)) {
        round
    } else {
        scene.round(state)
    }
}

/// What holds the needle of this device.
fn needle(system: &System, held: f64) -> Needle {
    match system.valve.device {
        Device::Txv(_) => Needle::Rubbing {
            held,
            half_band: system.traits.friction,
        },
        Device::Eev(_) => Needle::Motor(held),
        Device::Orifice => Needle::Free,
    }
}

/// Where it is held after a step: dragged by the band of friction, or by the motor in whole steps.
fn held(system: &System, held: f64, force: f64, step: f64) -> f64 {
    match system.valve.device {
        Device::Txv(_) => {
            let half = system.traits.friction;
            held.clamp(force - half, force + half)
        }
        Device::Eev(_) => {
            let most = MOTOR_RATE * step;
            let steps = ((force - held) * MOTOR_STEPS).clamp(-most, most);
            held + libm::trunc(steps) / MOTOR_STEPS
        }
        Device::Orifice => held,
    }
}

/// One step along these rates, inside the bounds.
fn moved(state: &State, step: f64, rates: &State, bounds: &[(f64, f64); COUNT]) -> State {
    core::array::from_fn(|place| {
        let (low, high) = bounds[place];
        (state[place] + step * rates[place]).clamp(low, high)
    })
}

/// A temperature at its bound is out of the model.
fn out_of_model(state: &State, bounds: &[(f64, f64); COUNT]) -> Result<(), NoSolution> {
    for ((value, (low, high)), unknown) in state.iter().zip(bounds).zip(UNKNOWNS) {
        if !unknown.is_temperature() || (low < value && value < high) {
            continue;
        }
        let (bound, limit) = if value <= low {
            (Bound::Low, *low)
        } else {
            (Bound::High, *high)
        };
        return Err(NoSolution::Beyond {
            unknown,
            bound,
            limit,
        });
    }
    Ok(())
}

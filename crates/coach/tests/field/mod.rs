//! Systems of the cycle model, drawn at random, as the coach meets them: the superheat that is read
//! has the tools' standing error and scatter, the weather drifts, a quarter of each change comes
//! late, and the stem is turned slowly, half a turn in half a minute, as the Stem screen asks.
//!
//! Ranges: superheat per turn 0.5 to 4 °F (US Army manual; a valve maker's sheet); friction up to
//! worn (`cycle::Traits`); the rest are those the model's prototype was tried on, without a source.

#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    missing_docs,
    dead_code
)]

use crate::plant::Dice;
use cycle::{Equalizer, Faults, Metering, Plate, Run, System, Tail, Traits, Weather};
use quantity::{Temperature, TemperatureDifference as Difference};
use refrigerant::Refrigerant;

const REFRIGERANTS: [Refrigerant; 5] = [
    Refrigerant::R22,
    Refrigerant::R410A,
    Refrigerant::R32,
    Refrigerant::R454B,
    Refrigerant::R407C,
];
/// Scatter of a reading, one standard deviation, and the largest standing error, °F.
pub const SCATTER: f64 = 0.8;
pub const BIAS: f64 = 0.8;
/// Minutes between two quarters of a turn made slowly.
pub const QUARTER: f64 = 0.25;
/// Step of the plant, s, and how often the weather is followed, minutes. `cycle`'s own tests show
/// what the long step costs: 0.33 °F at worst, in the fastest transients.
const STEP_S: f64 = 1.0;
const WEATHER_EVERY: f64 = 1.0;
/// Quarter turns from as found that the coach goes, `coach/src/next.rs`.
const TRAVEL: i32 = 40;
/// The superheat below which liquid may return, °F, for the count of what dipped.
pub const MINIMUM: f64 = 5.0;

/// A swing of the true superheat from low to high that is hunting, °F.
const HUNTS: f64 = 2.0;

/// The air about a system and how it drifts, °F and minutes.
#[derive(Clone, Copy, Debug)]
pub struct Air {
    outdoor: f64,
    indoor: f64,
    wet: f64,
    drift: (f64, f64, f64),
    phase: (f64, f64, f64),
}

impl Air {
    pub fn any(dice: &mut Dice) -> Self {
        let indoor = dice.between(72.0, 82.0);
        Self {
            outdoor: dice.between(78.0, 105.0),
            indoor,
            wet: indoor - dice.between(9.0, 15.0),
            drift: (
                dice.between(0.0, 2.0),
                dice.between(0.0, 1.5),
                dice.between(0.0, 1.0),
            ),
            phase: (
                dice.between(20.0, 60.0),
                dice.between(20.0, 60.0),
                dice.between(0.0, core::f64::consts::TAU),
            ),
        }
    }

    /// Without its drift.
    pub fn still(&mut self) {
        self.drift = (0.0, 0.0, 0.0);
    }

    pub fn at(&self, minute: f64) -> Weather {
        let wave = |size: f64, period: f64| {
            size * (core::f64::consts::TAU * minute / period + self.phase.2).sin()
        };
        let dry = self.indoor + wave(self.drift.1, self.phase.1);
        Weather::at_sea_level_f(
            self.outdoor + wave(self.drift.0, self.phase.0),
            dry,
            self.wet + wave(self.drift.2, self.phase.1),
        )
        .unwrap()
    }
}

/// A system in time, with the tools it is read by.
#[derive(Clone, Debug)]
pub struct Field {
    pub air: Air,
    pub faults: Faults,
    pub bias: f64,
    /// Stem from the design setting as found, and quarter turns from there.
    pub found: f64,
    pub position: i32,
    /// Minutes.
    pub now: f64,
    /// Minutes of true superheat under the minimum since the start.
    pub below: f64,
    /// The lowest true superheat and the highest true condensing temperature since they were last
    /// set, °F.
    pub lowest: f64,
    pub hottest: f64,
    /// The stem is turned at once and not slowly.
    pub at_once: bool,
    pub run: Run,
}

/// Any system with a valve, by the ranges above.
pub fn any_system(dice: &mut Dice) -> System {
    let refrigerant = REFRIGERANTS[(dice.between(0.0, 5.0) as usize).min(4)];
    let mut plate = Plate::new(
        refrigerant,
        dice.between(1.5, 5.0),
        Metering::Txv(Equalizer::External),
    );
    plate.superheat = Difference::from_f(dice.between(6.0, 20.0));
    let traits = Traits {
        superheat_per_turn: Difference::from_f(dice.between(0.5, 4.0)),
        stem_turns_out: 20.0,
        stem_turns_in: 40.0,
        valve_size: dice.between(0.85, 1.7),
        bulb_lag_s: dice.between(20.0, 90.0),
        bulb_slope: dice.between(0.75, 1.0),
        friction: dice.between(0.01, 0.08),
        ..Traits::default()
    };
    System::build_with(&plate, &traits).unwrap()
}

impl Field {
    /// A system as found at a superheat between two; draws on until there is one.
    pub fn any(dice: &mut Dice, (low, high): (f64, f64)) -> Self {
        loop {
            let (system, air) = (any_system(dice), Air::any(dice));
            let start = dice.between(low, high);
            let bias = dice.between(-BIAS, BIAS);
            let weather = air.at(0.0);
            let Some(found) = stem_for(&system, &weather, start) else {
                continue;
            };
            if let Ok(run) = Run::at_rest(system, weather, Faults::NONE, found, Tail::default()) {
                return Self {
                    air,
                    faults: Faults::NONE,
                    bias,
                    found,
                    position: 0,
                    now: 0.0,
                    below: 0.0,
                    lowest: f64::MAX,
                    hottest: f64::MIN,
                    at_once: false,
                    run,
                };
            }
        }
    }

    /// Where superheat would settle with the stem and the weather of now, °F.
    pub fn settles(&self) -> f64 {
        self.settles_at(self.run.stem_turns())
    }

    /// The same with the stem elsewhere, turns from the design setting.
    pub fn settles_at(&self, stem: f64) -> f64 {
        self.run
            .system()
            .steady(&self.air.at(self.now), &self.faults, stem)
            .map_or(f64::NAN, |point| point.superheat().f())
    }

    /// Whether a quarter within the travel rests in the band.
    pub fn reachable(&self, low: f64, high: f64) -> bool {
        let (out, inward) = self.run.system().stem_ends();
        (-TRAVEL..=TRAVEL)
            .map(|quarter| self.found + f64::from(quarter) / 4.0)
            .filter(|stem| (-out..=inward).contains(stem))
            .collect::<Vec<_>>()
            // Superheat rises with the stem: the quarter to look at is the first over the edge.
            .binary_search_by(|stem| {
                let rest = self.settles_at(*stem);
                if rest < low {
                    core::cmp::Ordering::Less
                } else if rest <= high {
                    core::cmp::Ordering::Equal
                } else {
                    core::cmp::Ordering::Greater
                }
            })
            .is_ok()
    }

    /// What the superheat is, °F.
    pub fn superheat(&self) -> f64 {
        self.run.point().superheat().f()
    }

    /// Condensing temperature as a gauge reads it.
    pub fn gauge_condensing(&self) -> Temperature {
        self.run.point().liquid_saturation
    }

    /// What the tools read, °F.
    pub fn read(&self, dice: &mut Dice) -> f64 {
        self.superheat() + self.bias + SCATTER * dice.normal()
    }

    /// Lets minutes pass and watches the true superheat.
    pub fn pass(&mut self, minutes: f64) {
        let until = self.now + minutes;
        while self.now < until - 1e-9 {
            let step = (1.0f64 / 12.0).min(until - self.now);
            let (before, after) = (self.now / WEATHER_EVERY, (self.now + step) / WEATHER_EVERY);
            if before.floor() < (after + 1e-9).floor() {
                self.run.set_weather(self.air.at(self.now));
            }
            self.run.advance_in_steps(60.0 * step, STEP_S).unwrap();
            self.now += step;
            let point = self.run.point();
            let superheat = point.superheat().f();
            self.lowest = self.lowest.min(superheat);
            self.hottest = self.hottest.max(point.liquid_saturation.f());
            if superheat < MINIMUM {
                self.below += step;
            }
        }
    }

    /// Whether the true superheat goes on swinging, ten minutes from now.
    pub fn hunts(&mut self) -> bool {
        self.pass(6.0);
        let (mut low, mut high) = (f64::MAX, f64::MIN);
        for _ in 0..48 {
            self.pass(1.0 / 12.0);
            let now = self.superheat();
            (low, high) = (low.min(now), high.max(now));
        }
        high - low > HUNTS
    }

    /// Turns slowly, quarter by quarter; when it returns the turn is complete.
    pub fn turn(&mut self, quarters: i32) {
        for quarter in 0..quarters.abs() {
            if quarter > 0 && !self.at_once {
                self.pass(QUARTER);
            }
            self.position += self.run.turn_quarters(quarters.signum());
        }
    }
}

/// The stem, turns, at which the system rests at a superheat; `None` beyond its ends.
fn stem_for(system: &System, weather: &Weather, superheat: f64) -> Option<f64> {
    let rests = |stem: f64| {
        system
            .steady(weather, &Faults::NONE, stem)
            .map(|point| point.superheat().f())
    };
    let (out, inward) = system.stem_ends();
    let (mut low, mut high) = (-out, inward);
    // A stem at the far ends may be out of the model: bisection from the middle needs them not.
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        match rests(middle) {
            Ok(f) if f < superheat => low = middle,
            Ok(_) => high = middle,
            Err(_) if middle > 0.0 => high = middle,
            Err(_) => low = middle,
        }
    }
    let stem = 0.5 * (low + high);
    rests(stem)
        .is_ok_and(|f| (f - superheat).abs() < 0.1)
        .then_some(stem)
}

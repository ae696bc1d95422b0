//! The way superheat is expected to take after a turn, from what is known before it.

use quantity::TemperatureDifference;

use crate::advice::{Estimate, PathPoint};
use crate::course::Settled;
use crate::dip::{self, Spread};
use crate::gain::Gain;
use crate::settle::{self, DEAD, LAGS, Lags};
use crate::{Minutes, NINETY};

/// The slow tail's share of a step, and how unsure that is. Default of the model, no source.
pub(crate) const TAIL_SHARE: f64 = 0.2;
const TAIL_SD: f64 = 0.1;
/// What no step foretells of the fast part once the dead time is over: °F, and share of what is
/// still to come of it. Tried on the systems of `tests/many_valves.rs`.
const FAST_SD: Spread = (0.4, 0.4);
/// How far a settled value may lie from what a known gain foretells, °F, one standard deviation:
/// friction, load, a bent slope. Tried on other systems than those of `tests/foretold.rs`.
pub(crate) const SPREAD: f64 = 0.3;
/// Minutes since the turn at which the way is shown: denser where it is bent.
const SHOWN: [f64; 15] = [
    0.0, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0,
];

/// What is expected of a turn. °F, minutes, turns.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Forecast {
    /// Where it settles from, with its standard deviation.
    from: Spread,
    /// How far the turn moves it.
    step: Spread,
    /// The larger of that and of what the last turn alone does, without a sign: it may have been made
    /// before the one ahead of it had come.
    stir: f64,
    /// Of the slow tail: what is to come of it when the turn is complete, with the sign by which
    /// superheat is off.
    pub(crate) slow: Spread,
    lags: Lags,
    gain: f64,
    /// Of the last turn, clockwise positive.
    quarters: i32,
}

impl Forecast {
    /// - `from`: the last settled value.
    /// - `start`: minute at which the turn is complete, by the clock of `from`.
    /// - `turns`: from there, clockwise positive.
    /// - `last`: the last turn alone; the way in the first minutes is its.
    pub(crate) fn new(
        from: &Settled,
        start: f64,
        gain: &Gain,
        lags: Lags,
        turns: f64,
        last: f64,
    ) -> Self {
        let step = (gain.mean * turns, gain.sd_over(turns) * turns.abs());
        let (rest, rest_sd) = from.rest_at(start);
        let own = TAIL_SD * step.0.abs() + TAIL_SHARE * step.1;
        Self {
            from: (from.value, from.sd),
            step,
            stir: step.0.abs().max((gain.mean * last).abs()),
            slow: (rest - TAIL_SHARE * step.0, 0.1 + libm::hypot(own, rest_sd)),
            lags,
            gain: gain.mean,
            quarters: libm::round(4.0 * last) as i32,
        }
    }

    /// Where it settles, the tools' standing error apart.
    pub(crate) fn settles(&self) -> Spread {
        let sd = (self.from.1 * self.from.1 + self.step.1 * self.step.1 + SPREAD * SPREAD).sqrt();
        (self.from.0 + self.step.0, sd)
    }

    /// What is still to come of the fast part when the dead time is over, for each lag.
    pub(crate) fn fast(&self) -> [Spread; LAGS] {
        core::array::from_fn(|i| {
            let missing = missing(DEAD, i);
            (
                -missing * self.step.0,
                FAST_SD.0 + missing * (FAST_SD.1 * self.stir + self.step.1),
            )
        })
    }

    /// Where it settles, with the band that the tools' standing error is part of.
    pub(crate) fn expected(&self, bias_sd: f64) -> Estimate {
        let (value, sd) = self.settles();
        Estimate {
            value: f(value),
            half_width: f(NINETY * libm::hypot(sd, bias_sd)),
        }
    }

    /// The way readings will take, see [`PathPoint`].
    pub(crate) fn path(&self, scatter: f64, bias_sd: f64) -> Vec<PathPoint> {
        SHOWN
            .iter()
            .map(|&minutes| {
                let (middle, sd) = self.reading(minutes, scatter, bias_sd);
                PathPoint {
                    since: Minutes::new(minutes),
                    low: f(middle - NINETY * sd),
                    middle: f(middle),
                    high: f(middle + NINETY * sd),
                }
            })
            .collect()
    }

    /// What will be read so many minutes after the turn.
    fn reading(&self, minutes: f64, scatter: f64, bias_sd: f64) -> Spread {
        let (past, past_sd) = dip::course(self.quarters.unsigned_abs(), minutes);
        let past = past * self.gain * f64::from(self.quarters.signum());
        let left = libm::exp(-minutes / settle::TAIL);
        let apart = [
            self.from.1,
            SPREAD,
            past_sd * self.gain,
            self.slow.1 * left,
            scatter,
            bias_sd,
        ];
        let apart: f64 = apart.iter().map(|sd| sd * sd).sum();
        let weights = self.lags.weights();
        let each: [Spread; LAGS] = core::array::from_fn(|i| {
            let missing = missing(minutes, i);
            // A larger gain than thought moves what has come and not what is still to come.
            let come = (1.0 - missing - TAIL_SHARE * left) * self.step.1;
            let unsure = FAST_SD.1 * missing * self.stir;
            (-missing * self.step.0, come * come + unsure * unsure)
        });
        let sum = |of: &dyn Fn(Spread) -> f64| -> f64 {
            each.iter().zip(weights).map(|(one, w)| w * of(*one)).sum()
        };
        let mean = sum(&|(mean, _)| mean);
        let between = sum(&|(one, variance)| variance + (one - mean) * (one - mean));
        let middle = self.from.0 + self.step.0 + self.slow.0 * left + past + mean;
        (middle, (apart + between).sqrt())
    }
}

/// Share of a step that a slow answer (one of the grid of lags) still holds back. The model's own
/// plants are as quick as the shortest lag of the grid: their way is in `dip::course`.
fn missing(minutes: f64, lag: usize) -> f64 {
    let [slow, quick] = [lag, 0].map(|i| libm::exp(-minutes / settle::lag(i)));
    (1.0 - TAIL_SHARE) * (slow - quick)
}

fn f(fahrenheit: f64) -> TemperatureDifference {
    TemperatureDifference::from_f(fahrenheit)
}

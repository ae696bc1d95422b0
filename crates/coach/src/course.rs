//! What the segments of a log teach, one after another: settled values, responses, gain and lag.

use crate::gain::Gain;
use crate::log::{Began, Point, Segment};
use crate::settle::{self, EARLIEST, Fit, Lags, Prior};
use crate::swing::{self, Seen};
use crate::{NINETY, Quarters};

/// How far load moves a settled superheat between two turns, °F, one standard deviation. Default,
/// no source.
const LOAD: f64 = 0.5;
/// The slow tail's share of a step, and how unsure that is. Default of the model, no source.
const TAIL_SHARE: f64 = 0.2;
const TAIL_SD: f64 = 0.1;
/// How far a settled value may lie from what a known gain foretells, °F, one standard deviation:
/// friction, load, a bent slope. Tried on the simulated systems of `tests/many_valves.rs`.
const SPREAD: f64 = 1.5;
/// Less than this share of the foreseen response is none.
const NO_RESPONSE: f64 = 0.25;
/// The smallest gain of the literature, °F per turn: US Army manual, gear-type stems.
const LEAST: f64 = 0.5;

/// A settled value, °F, and where the stem stood, turns.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Settled {
    pub(crate) value: f64,
    pub(crate) sd: f64,
    pub(crate) position: f64,
    /// What the readings alone say of it, without what was foreseen, with the standard deviation: a
    /// response measured on `value` would confirm its own prediction.
    pub(crate) alone: (f64, f64),
    /// What was still to come at its newest reading, °F, with the standard deviation, and that
    /// reading's minute. The slow tail of one turn runs on under the next.
    pub(crate) rest: (f64, f64),
    pub(crate) at: f64,
}

impl Settled {
    fn rest_at(&self, minute: f64) -> (f64, f64) {
        let kept = libm::exp(-(minute - self.at).max(0.0) / settle::TAIL);
        (self.rest.0 * kept, self.rest.1 * kept)
    }
}

/// One settled value after another with the stem turned between.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Response {
    pub(crate) before: Settled,
    pub(crate) after: Settled,
    /// °F per turn, as it was thought to be.
    pub(crate) gain: f64,
}

impl Response {
    pub(crate) fn turns(&self) -> f64 {
        self.after.position - self.before.position
    }
    pub(crate) fn moved(&self) -> f64 {
        self.after.alone.0 - self.before.alone.0
    }
    pub(crate) fn expected(&self) -> f64 {
        self.gain * self.turns()
    }
    /// One standard deviation of `moved`, the weather included.
    pub(crate) fn sd(&self) -> f64 {
        libm::hypot(libm::hypot(self.before.alone.1, self.after.alone.1), LOAD)
    }
    /// Superheat moved against the turn, beyond the error band.
    fn is_wrong(&self) -> bool {
        -self.moved() * self.turns().signum() > NINETY * self.sd()
    }
    pub(crate) fn quarters(&self) -> Quarters {
        Quarters::new(libm::round(4.0 * self.turns()) as i32)
    }
}

/// What one segment showed.
pub(crate) struct Shown {
    pub(crate) prior: Prior,
    pub(crate) used: Vec<Point>,
    pub(crate) fit: Option<Fit>,
    pub(crate) swing: Option<Seen>,
    pub(crate) settled: Option<Settled>,
}

impl Shown {
    pub(crate) fn hunting(&self) -> bool {
        self.swing.is_some_and(|swing| swing.hunting)
    }
}

/// What is known after some segments.
pub(crate) struct Course {
    band: (f64, f64),
    pub(crate) gain: Gain,
    lags: Lags,
    /// The last settled value; none since the last disturbance.
    pub(crate) reference: Option<Settled>,
    pub(crate) responses: Vec<Response>,
}

impl Course {
    pub(crate) fn new(band: (f64, f64)) -> Self {
        Self {
            band,
            gain: Gain::usual(),
            lags: Lags::usual(),
            reference: None,
            responses: Vec::new(),
        }
    }

    pub(crate) fn take(&mut self, segment: &Segment, scatter: f64) -> Shown {
        if segment.began == Began::Disturbed {
            self.gain.widen();
            self.reference = None;
            self.responses.clear();
        }
        let changed = segment.began != Began::AsFound;
        let used = settle::used(&segment.points, changed);
        let prior = self.prior(segment, &used);
        let fit = settle::fit(&used, &prior, scatter);
        let swing = fit.and_then(|fit| swing::look(&segment.points, changed, &fit, scatter));
        let settled = fit.and_then(|fit| settled_at(segment, &used, &fit, &prior, swing));
        if let Some(after) = settled {
            self.learn(after);
        }
        // As found there is no step whose answer would show the lag.
        if let Some(fit) = fit.filter(|_| segment.began == Began::Turned) {
            self.lags.remember(&fit);
        }
        Shown {
            prior,
            used,
            fit,
            swing,
            settled,
        }
    }

    /// What is expected of a segment before its readings are in.
    fn prior(&self, segment: &Segment, used: &[Point]) -> Prior {
        let changed = segment.began != Began::AsFound;
        let turns = self
            .reference
            .map_or(segment.turned, |before| segment.position - before.position);
        let (step, step_sd) = (
            self.gain.mean * turns,
            self.gain.sd_over(turns) * turns.abs(),
        );
        let mean = used.iter().map(|p| p.superheat).sum::<f64>() / used.len().max(1) as f64;
        let settled = match self.reference {
            Some(before) => (
                before.value + step,
                (SPREAD * SPREAD + before.sd * before.sd + step_sd * step_sd).sqrt(),
            ),
            None => (mean, 10.0),
        };
        // What is still to come once the dead time is over is of the size of the step itself, and
        // some of it is the slow tail's. An untouched system that has run as long as it should has
        // little to come; one that was changed in another way, anything.
        let (fast_sd, slow) = match segment.began {
            Began::AsFound => (3.0, (0.0, 0.1)),
            Began::Turned => {
                let own = TAIL_SD * step.abs() + TAIL_SHARE * step_sd;
                let (rest, rest_sd) = self
                    .reference
                    .map_or((0.0, 0.0), |before| before.rest_at(segment.start));
                let slow = (rest - TAIL_SHARE * step, 0.1 + libm::hypot(own, rest_sd));
                (1.0 + step.abs() + step_sd, slow)
            }
            Began::Disturbed => (8.0, (0.0, 2.0)),
        };
        Prior {
            settled,
            fast_sd,
            slow,
            lags: self.lags,
            band: self.band,
            changed,
        }
    }

    fn learn(&mut self, after: Settled) {
        if let Some(before) = self
            .reference
            .filter(|before| before.position != after.position)
        {
            let response = Response {
                before,
                after,
                gain: self.gain.mean,
            };
            if !response.is_wrong() {
                let noise = libm::hypot(before.alone.1, after.alone.1);
                self.gain
                    .learn(response.turns(), response.moved(), noise * noise);
            }
            self.responses.push(response);
        }
        self.reference = Some(after);
    }

    /// The last response, when it went the wrong way and none before it went the right way.
    pub(crate) fn wrong_way(&self) -> Option<&Response> {
        let (last, before) = self.responses.split_last()?;
        (last.is_wrong() && before.iter().all(Response::is_wrong)).then_some(last)
    }

    /// The last responses in one direction, taken as one, when they stay under a quarter of what
    /// was foreseen before the first of them by more than the noise. One turn or two steps are the
    /// least that can show it.
    pub(crate) fn no_response(&self) -> Option<Response> {
        let last = self.responses.last()?;
        let way = last.turns().signum();
        let run = self
            .responses
            .iter()
            .rev()
            .take_while(|one| one.turns().signum() == way);
        run.enumerate().find_map(|(earlier, first)| {
            let whole = Response {
                before: first.before,
                after: last.after,
                gain: first.gain,
            };
            let most = whole.moved() * way + NINETY * whole.sd();
            let shown = earlier >= 1 || whole.turns().abs() >= 1.0;
            (shown && most < NO_RESPONSE * whole.expected().abs()).then_some(whole)
        })
    }

    /// All responses as one, when they are nearer to none than to the least of the literature. Told
    /// only where the band is out of reach by them, so that a stuck stem is not called a small valve.
    pub(crate) fn hardly_moves(&self) -> Option<Response> {
        let (first, last) = (self.responses.first()?, self.responses.last()?);
        let gain = Gain::usual().mean;
        let whole = Response {
            before: first.before,
            after: last.after,
            gain,
        };
        let way = whole.turns().signum();
        (whole.moved() * way < LEAST / 2.0 * whole.turns().abs()).then_some(whole)
    }
}

/// The settled value of a segment; while hunting, the mean, once the start has died away.
fn settled_at(
    segment: &Segment,
    used: &[Point],
    fit: &Fit,
    prior: &Prior,
    swing: Option<Seen>,
) -> Option<Settled> {
    let (position, changed) = (segment.position, prior.changed);
    let at = segment.start + used.last().map_or(0.0, |point| point.t);
    if let Some(swing) = swing.filter(|swing| swing.hunting) {
        let late = !changed || used.last().is_some_and(|p| p.t >= settle::HUNTING_AFTER);
        let late: Vec<f64> = used
            .iter()
            .filter(|p| late && (!changed || p.t >= EARLIEST))
            .map(|p| p.superheat)
            .collect();
        let count = late.len() as f64;
        let value = late.iter().sum::<f64>() / count;
        let sd = (fit.rms.max(swing.amplitude) / count.sqrt()).max(0.5);
        return (late.len() >= 2).then_some(Settled {
            value,
            sd,
            position,
            alone: (value, sd),
            rest: (0.0, 0.0),
            at,
        });
    }
    fit.is_settled().then_some(Settled {
        value: fit.settled,
        sd: fit.sd,
        position,
        alone: fit.alone(prior),
        rest: (fit.remaining, fit.remaining_sd),
        at,
    })
}

//! What the segments of a log teach, one after another: settled values, responses, gain and lag.

use crate::forecast::Forecast;
use crate::gain::Gain;
use crate::log::{Began, Point, Segment};
use crate::settle::{self, EARLIEST, Fit, LAGS, Lags, Prior};
use crate::swing::{self, Seen};
use crate::{NINETY, Quarters};

/// How far load moves a settled superheat between two turns, °F, one standard deviation. Default,
/// no source.
const LOAD: f64 = 0.5;
/// A prediction is not let tell its own answer: what it says of the settled value counts for no more
/// than with this standard deviation, °F, besides its own. Tried on the simulated systems of
/// `tests/many_valves.rs`.
const DISTRUST: f64 = 1.5;
/// Less than this share of the foreseen response is none.
const NO_RESPONSE: f64 = 0.25;
/// The smallest gain of the literature, °F per turn: US Army manual, gear-type stems.
const LEAST: f64 = 0.5;
/// Under this share of the least response the stem is called stuck, over it the valve small. Tried on
/// the stuck and the fine stems of `tests/stops.rs`.
const NEARER: f64 = 0.6;

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
    /// What is still to come at a minute, °F, with its standard deviation.
    pub(crate) fn rest_at(&self, minute: f64) -> (f64, f64) {
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
    /// What was foretold of the turn that began it.
    pub(crate) forecast: Option<Forecast>,
    pub(crate) used: Vec<Point>,
    pub(crate) fit: Option<Fit>,
    pub(crate) swing: Option<Seen>,
    pub(crate) settled: Option<Settled>,
}

impl Answered {
    /// Minutes until it would be settled, by what was known before the turn.
    pub(crate) fn foretold_minutes(&self, scatter: f64) -> Option<f64> {
        settle::readings_wanted(&[], 0.0, &self.prior, scatter, self.apart).map(|(_, until)| until)
    }

    /// Minutes to the reading that settled it.
    pub(crate) fn came_minutes(&self, scatter: f64) -> f64 {
        let settled = |known: usize| {
            let used = settle::used(&self.points[..known], true);
            settle::fit(&used, &self.prior, scatter).is_some_and(|fit| fit.is_settled())
        };
        let count = (1..self.points.len()).find(|known| settled(*known));
        let newest = count.unwrap_or(self.points.len()).checked_sub(1);
        newest.map_or(0.0, |newest| self.points[newest].t)
    }
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
    pub(crate) lags: Lags,
    /// The last settled value; none since the last disturbance.
    pub(crate) reference: Option<Settled>,
    pub(crate) responses: Vec<Response>,
    /// The last turn that settled and was foretold.
    pub(crate) answered: Option<Answered>,
    /// Minutes between the readings of the last segment that had two.
    apart: f64,
}

/// A turn whose answer is in.
pub(crate) struct Answered {
    pub(crate) forecast: Forecast,
    pub(crate) prior: Prior,
    pub(crate) points: Vec<Point>,
    pub(crate) settled: Settled,
    /// Minutes between readings before it.
    pub(crate) apart: f64,
}

impl Course {
    pub(crate) fn new(band: (f64, f64)) -> Self {
        Self {
            band,
            gain: Gain::usual(),
            lags: Lags::usual(),
            reference: None,
            responses: Vec::new(),
            answered: None,
            apart: 1.0,
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
        let forecast = self.foretell(segment);
        let prior = self.prior(segment, forecast.as_ref(), &used);
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
        let heard = (
            fit,
            settled.filter(|_| !swing.is_some_and(|swing| swing.hunting)),
        );
        if let (Some(forecast), (Some(_), Some(settled))) = (forecast, heard) {
            self.answered = Some(Answered {
                forecast,
                prior,
                points: segment.points.clone(),
                settled,
                apart: self.apart,
            });
        }
        self.apart = settle::spacing(&segment.points).unwrap_or(self.apart);
        Shown {
            prior,
            forecast,
            used,
            fit,
            swing,
            settled,
        }
    }

    /// What is foretold of the turn that began a segment, from where it last settled.
    fn foretell(&self, segment: &Segment) -> Option<Forecast> {
        let before = self.reference.filter(|_| segment.began == Began::Turned)?;
        let turns = segment.position - before.position;
        Some(self.forecast(&before, segment.start, turns, segment.turned))
    }

    /// What is foretold of a turn; see [`Forecast::new`].
    pub(crate) fn forecast(&self, from: &Settled, start: f64, turns: f64, last: f64) -> Forecast {
        Forecast::new(from, start, &self.gain, self.lags, turns, last)
    }

    /// What is expected of a segment before its readings are in.
    fn prior(&self, segment: &Segment, forecast: Option<&Forecast>, used: &[Point]) -> Prior {
        if let Some(forecast) = forecast {
            return self.after(forecast);
        }
        let mean = used.iter().map(|p| p.superheat).sum::<f64>() / used.len().max(1) as f64;
        // An untouched system that has run as long as it should has little to come; one that was
        // changed, or turned before it had settled, anything.
        let changed = segment.began != Began::AsFound;
        let (fast_sd, slow_sd) = if changed { (8.0, 2.0) } else { (2.0, 0.1) };
        Prior {
            settled: (mean, 10.0),
            fast: [(0.0, fast_sd); LAGS],
            slow: (0.0, slow_sd),
            lags: self.lags,
            band: self.band,
            changed,
        }
    }

    /// What is expected of the readings after a turn.
    pub(crate) fn after(&self, forecast: &Forecast) -> Prior {
        let (value, sd) = forecast.settles();
        Prior {
            settled: (value, libm::hypot(sd, DISTRUST)),
            fast: forecast.fast(),
            slow: forecast.slow,
            lags: self.lags,
            band: self.band,
            changed: true,
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

    /// All responses as one, when they are more like none than like the least of the literature. Told
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
        (whole.moved() * way < NEARER * LEAST * whole.turns().abs()).then_some(whole)
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

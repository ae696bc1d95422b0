//! The verdict: the log is gone through once, then the rules stand in order of urgency.

use quantity::{Temperature, TemperatureDifference};

use crate::course::{Course, Response, Settled, Shown};
use crate::dip;
use crate::log::Log;
use crate::next::{Move, Now};
use crate::settle::{self, EARLIEST};
use crate::{
    Advice, Entry, Estimate, Minutes, NINETY, Place, Plan, Quarters, Scored, Stop, Swing, Wait, Why,
};

/// Caution where the plan has no limit: condensing, °F. Rule of thumb, common practice.
const HEAD_CAUTION: f64 = 140.0;
/// After a closing turn for low superheat its answer is awaited so long, minutes.
const RESCUE_WAIT: f64 = 2.0;
/// No rest after so many minutes is worth a question. Prototype-tested.
const SLOW: f64 = 15.0;
/// A reading older than this, minutes, may no longer be true.
const OLD: f64 = 10.0;

/// What to do now.
///
/// - `log`: everything so far, in any order; see [`Entry`] for what is not counted.
/// - `now`: entries later than this are not yet known, so a kept log can be stepped through.
///
/// Never fails: what cannot be told is said in [`Advice::why`]. A plan whose scatter or bias is
/// negative or not a number is taken at the least it may be (0.1 °F and none).
///
/// The rules, first that holds: superheat at or under its minimum; head over its limit; the stem
/// just met its end; not settled; hunting; wrong way; at target; no response; not reachable; else
/// the next turn.
pub fn advise(plan: &Plan, log: &[Entry], now: Minutes) -> Advice {
    let log = Log::new(plan, log, now);
    let scatter = plan.scatter.f().max(0.1);
    let bias_sd = plan.bias.f().max(0.0) / NINETY;
    let mut course = Course::new((plan.low.f(), plan.high.f()));
    for segment in &log.earlier {
        course.take(segment, scatter);
    }
    let seen = course.take(&log.last, scatter);
    Judge {
        plan,
        log: &log,
        now: now.get(),
        scatter,
        bias_sd,
        course: &course,
        seen: &seen,
    }
    .advise()
}

/// Everything the rules look at.
struct Judge<'a> {
    plan: &'a Plan,
    log: &'a Log,
    now: f64,
    scatter: f64,
    bias_sd: f64,
    course: &'a Course,
    seen: &'a Shown,
}

impl Judge<'_> {
    fn advise(&self) -> Advice {
        let mut advice = self.begin();
        self.warn_of_liquid(&mut advice);
        self.warn_of_head(&mut advice);
        if let Some((newest, _)) = self.log.newest() {
            let last = if self.log.last.points.is_empty() {
                None
            } else {
                Some(newest)
            };
            let age = last.map_or(0.0, |point| self.now - self.log.last.start - point.t);
            if age > OLD {
                advice.why.push(Why::OldReading { minutes: age });
            }
        }
        match advice.wait {
            Some(Wait::Drifting) => self.drifting(&mut advice),
            Some(Wait::Hunting) => self.hunting(&mut advice),
            Some(Wait::Settled) => self.settled(&mut advice),
            None => advice.why.push(Why::NoReading),
        }
        advice
    }

    fn begin(&self) -> Advice {
        let wait = self.log.newest().map(|_| match self.seen.settled {
            _ if self.seen.hunting() => Wait::Hunting,
            Some(_) => Wait::Settled,
            None => Wait::Drifting,
        });
        let gain = &self.course.gain;
        Advice {
            wait,
            settled: self.seen.settled.map(|s| self.estimate(s.value, s.sd)),
            gain: Estimate {
                value: f(gain.mean),
                half_width: f(NINETY * gain.sd()),
            },
            gain_learned: gain.learned,
            next: None,
            expected: None,
            minutes_to_settle: None,
            path: Vec::new(),
            scored: self.scored(),
            places: self.places(),
            stop: None,
            why: Vec::new(),
            swing: self.seen.swing.map(|swing| Swing {
                amplitude: f(swing.amplitude),
                period_minutes: swing.period,
            }),
        }
    }

    fn scored(&self) -> Option<Scored> {
        let answered = self.course.answered.as_ref()?;
        Some(Scored {
            foretold: answered.forecast.expected(self.bias_sd),
            came: self.estimate(answered.settled.value, answered.settled.sd),
            foretold_minutes: answered.foretold_minutes(self.scatter),
            came_minutes: answered.came_minutes(self.scatter),
        })
    }

    fn places(&self) -> Vec<Place> {
        let responses = &self.course.responses;
        let first = responses.first().map(|first| first.before);
        let settled = first
            .into_iter()
            .chain(responses.iter().map(|one| one.after));
        settled
            .map(|settled| Place {
                position: Quarters::new(libm::round(4.0 * settled.position) as i32),
                settled: self.estimate(settled.value, settled.sd),
            })
            .collect()
    }

    /// A superheat with its band, the standing error included.
    fn estimate(&self, value: f64, sd: f64) -> Estimate {
        Estimate {
            value: f(value),
            half_width: f(NINETY * libm::hypot(sd, self.bias_sd)),
        }
    }

    /// Liquid may be on its way to the compressor: nothing waits for a settled value then.
    fn warn_of_liquid(&self, advice: &mut Advice) {
        let Some((newest, current)) = self.log.newest() else {
            return;
        };
        // A low reading taken before the stem was closed has been answered.
        let closed = self.log.last.turned > 0.0;
        if !current && closed {
            return;
        }
        let lowest = newest
            .needle
            .map_or(newest.superheat, |(low, _)| low.min(newest.superheat));
        let half_width = f(NINETY * (self.scatter + self.bias_sd));
        let superheat = f(lowest);
        if lowest <= self.plan.minimum.f() {
            advice.why.push(Why::BelowMinimum {
                superheat,
                minimum: self.plan.minimum,
            });
        } else if lowest <= half_width.f() {
            advice.why.push(Why::TouchesZero {
                superheat,
                half_width,
            });
        } else {
            return;
        }
        advice.stop = Some(Stop::BelowMinimum);
        if closed && self.now - self.log.last.start < RESCUE_WAIT {
            advice.why.push(Why::JustClosed);
            return;
        }
        let from = self
            .seen
            .settled
            .map_or(lowest, |settled| settled.value.min(lowest));
        advice.next = self.at(from, self.scatter).rescue();
        match advice.next {
            Some(by) => self.expect(advice, from, self.scatter, by),
            None => advice.why.push(Why::AtEnd {
                end: crate::End::Closing,
            }),
        }
    }

    fn warn_of_head(&self, advice: &mut Advice) {
        let limit = self.head_limit();
        if let Some(condensing) = self.log.condensing().filter(|f| *f > limit) {
            advice.why.push(Why::HighHead {
                condensing: Temperature::from_f(condensing),
                limit: Temperature::from_f(limit),
                rule_of_thumb: self.plan.head_limit.is_none(),
            });
            advice.stop.get_or_insert(Stop::HighHead);
        }
    }

    fn head_limit(&self) -> f64 {
        self.plan.head_limit.map_or(HEAD_CAUTION, |limit| limit.f())
    }

    fn drifting(&self, advice: &mut Advice) {
        let segment = &self.log.last;
        if let Some(end) = segment.met {
            advice.why.push(Why::AtEnd { end });
            advice.stop.get_or_insert(Stop::StemEnd);
        }
        let newest = segment.points.last().map_or(0.0, |point| point.t);
        if segment.points.is_empty() {
            advice.why.push(Why::NoReading);
        } else if self.seen.prior.changed && newest < EARLIEST {
            advice.why.push(Why::TooSoon {
                minutes: newest,
                least: EARLIEST,
            });
        } else if newest > SLOW {
            advice.why.push(Why::SlowToSettle { minutes: newest });
        }
        let prior = &self.seen.prior;
        if let Some(fit) = &self.seen.fit {
            if fit.count >= 2 {
                let half_width = f(NINETY * fit.remaining_sd);
                advice.why.push(Why::StillMoving {
                    to_go: f(-fit.remaining),
                    half_width,
                });
            }
            let apart = settle::spacing(&self.seen.used).unwrap_or(0.0);
            let unwatched = self.seen.used.iter().all(|point| point.needle.is_none());
            if fit.count >= 4 && fit.rms > 1.2 * self.scatter && apart > 0.5 && unwatched {
                advice.why.push(Why::WatchNeedle {
                    scatter: f(fit.rms),
                });
            }
        }
        let apart = settle::spacing(&segment.points)
            .unwrap_or(1.0)
            .clamp(1.0 / 3.0, 3.0);
        let wanted = settle::readings_wanted(&self.seen.used, newest, prior, self.scatter, apart);
        if wanted.is_none() && !segment.points.is_empty() {
            advice.why.push(Why::KeepReading {
                minutes_apart: apart,
            });
        }
        if let Some((more, until)) = wanted {
            advice.why.push(Why::NeedsReadings {
                more,
                minutes_apart: apart,
            });
            // With a closing turn on its lips the advice is about what comes after that turn.
            if advice.next.is_none() {
                advice.minutes_to_settle = Some((until + segment.start - self.now).max(0.0));
            }
        }
        if advice.next.is_none() {
            if let Some(forecast) = &self.seen.forecast {
                advice.path = forecast.path(self.scatter, self.bias_sd);
            }
            advice.expected = match (&self.seen.fit, self.course.reference) {
                (Some(fit), _) => Some(self.estimate(fit.settled, fit.sd)),
                (None, Some(_)) => Some(self.estimate(prior.settled.0, prior.settled.1)),
                (None, None) => None,
            };
        }
    }

    fn hunting(&self, advice: &mut Advice) {
        if let Some(swing) = self.seen.swing {
            advice.why.push(Why::Swinging {
                peak_to_peak: f(2.0 * swing.amplitude),
                period_minutes: swing.period,
            });
        }
        advice.why.push(Why::FixBeforeStem);
        advice.stop.get_or_insert(Stop::Hunting);
    }

    fn settled(&self, advice: &mut Advice) {
        let (Some(settled), Some(fit)) = (self.seen.settled, &self.seen.fit) else {
            return;
        };
        advice.why.push(Why::Steady {
            readings: fit.count as u32,
            minutes: fit.span,
        });
        // A reference other than this value would be a response that this segment gave.
        if let Some(last) = self.course.responses.last() {
            advice.why.push(Why::Responded {
                turns: last.quarters(),
                expected: f(last.expected()),
                moved: f(last.moved()),
            });
        }
        // Whatever stopped it already is more urgent than the next turn.
        if advice.stop.is_some() {
            return;
        }
        let at = self.at(settled.value, settled.sd);
        if let Some(wrong) = self.course.wrong_way() {
            advice.why.push(Why::WrongWay {
                turns: wrong.quarters(),
                moved: f(wrong.moved()),
            });
            advice.stop = Some(Stop::WrongWay);
        } else if at.at_target() {
            let Estimate { value, half_width } = self.estimate(settled.value, settled.sd);
            advice.why.push(Why::InBand { value, half_width });
            advice.stop = Some(Stop::AtTarget);
        } else if let Some(none) = self.course.no_response() {
            self.no_response(advice, &none);
        } else {
            let (next, why) = at.next();
            advice.why.extend(why);
            match next {
                Move::Turn(by) => {
                    advice.next = Some(by);
                    self.expect(advice, settled.value, settled.sd, by);
                }
                Move::OutOfReach => match self.course.hardly_moves() {
                    Some(none) => self.no_response(advice, &none),
                    None => advice.stop = Some(Stop::NotReachable),
                },
                Move::None => {}
            }
        }
    }

    fn no_response(&self, advice: &mut Advice, none: &Response) {
        advice.why.push(Why::NoResponse {
            turns: none.quarters(),
            expected: f(none.expected()),
            moved: f(none.moved()),
        });
        advice.stop = Some(Stop::NoResponse);
    }

    /// What a turn made now should lead to, and when.
    fn expect(&self, advice: &mut Advice, value: f64, sd: f64, by: Quarters) {
        let rest = self.seen.settled.map_or((0.0, 0.0), |settled| settled.rest);
        let from = Settled {
            value,
            sd,
            position: self.log.position.turns(),
            alone: (value, sd),
            rest,
            at: self.now,
        };
        // Made slowly, it is complete so much later.
        let quarters = f64::from(by.get().unsigned_abs());
        let complete = self.now + (quarters - 1.0) * dip::SECONDS / 60.0;
        let forecast = self
            .course
            .forecast(&from, complete, by.turns(), by.turns());
        let apart = settle::spacing(&self.log.last.points).unwrap_or(1.0);
        let prior = self.course.after(&forecast);
        let minutes = settle::readings_wanted(&[], 0.0, &prior, self.scatter, apart)
            .map_or(SLOW, |(_, until)| until);
        advice.expected = Some(forecast.expected(self.bias_sd));
        advice.path = forecast.path(self.scatter, self.bias_sd);
        advice.minutes_to_settle = Some(minutes.clamp(EARLIEST, SLOW));
    }

    fn at(&self, settled: f64, sd: f64) -> Now {
        let (plan, log) = (self.plan, self.log);
        Now {
            settled,
            sd,
            bias_sd: self.bias_sd,
            gain: self.course.gain,
            amplitude: self.seen.swing.map_or(0.0, |swing| swing.amplitude),
            low: plan.low.f(),
            high: plan.high.f(),
            minimum: plan.minimum.f(),
            position: log.position.get(),
            opening_end: log.opening_end.map(Quarters::get),
            closing_end: log.closing_end.map(Quarters::get),
            condensing: log.condensing(),
            head_limit: self.head_limit(),
        }
    }
}

fn f(fahrenheit: f64) -> TemperatureDifference {
    TemperatureDifference::from_f(fahrenheit)
}

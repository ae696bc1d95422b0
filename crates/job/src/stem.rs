//! The stem now: shut, waiting, to be turned, or stopped. Worked out from the log each time, so that
//! it cannot disagree with it.

use crate::coached::{CoachLog, SuperheatRead};
use crate::job::Job;
use crate::log::{What, counted};
use crate::look_first::Item;
use crate::plate::PlateField;
use coach::{Advice, Entry, Minutes, PathPoint, Quarters, Stop};
use diagnosis::{Metering, Setup, check, derive};
use quantity::GaugePressure;

const MINUTE_MS: i64 = 60_000;

/// What stands between now and the next turn.
#[derive(Clone, Debug, PartialEq)]
pub enum Stem {
    /// This device has no stem, or the device is not named yet.
    None(Option<Metering>),
    /// Shut: these checks neither hold nor are overridden.
    Shut(Vec<Item>),
    /// The as-found position is to be written down.
    RecordAsFound,
    /// A reading is to be kept, to compare with.
    ReadFirst,
    /// The system settles after a turn or another change.
    Waiting(Wait),
    /// The coach stops here.
    Stopped(Stop),
    /// A turn is proposed.
    Turn(Quarters),
    /// The time is up or was never needed, and the readings do not say enough yet.
    Measure,
}

/// The wait after a turn or another change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wait {
    /// When it began, milliseconds since 1970, UTC.
    pub since_ms: i64,
    /// When its time is up, same clock. Time up is not settled.
    pub until_ms: i64,
    /// When it may have settled, by what the readings and the model of the coach say, to the whole
    /// minute; never before `until_ms`, and that where nothing can be said. A guide: the readings
    /// have the last word.
    pub ready_ms: i64,
    /// Drifting, settled or hunting, by the readings since; `None` before the first.
    pub verdict: Option<coach::Wait>,
}

impl Wait {
    /// Whether its time is up.
    pub const fn time_up(&self, now_ms: i64) -> bool {
        now_ms >= self.until_ms
    }

    /// Whether it is over: its time is up and the readings have settled.
    pub fn is_over(&self, now_ms: i64) -> bool {
        self.time_up(now_ms) && self.verdict == Some(coach::Wait::Settled)
    }
}

/// The stem's state with everything that led to it.
#[derive(Clone, Debug, PartialEq)]
pub struct StemView {
    /// What stands between now and the next turn.
    pub state: Stem,
    /// The position from as found.
    pub position: Quarters,
    /// The wait that runs, or that ran last.
    pub wait: Option<Wait>,
    /// What the coach says of the log; `None` until the job is named.
    pub advice: Option<Advice>,
}

impl StemView {
    pub(crate) fn of(job: &Job, now_ms: i64) -> Self {
        let advice = job.setup().map(|setup| advice(job, &setup, now_ms));
        let wait = last_change(job).map(|since_ms| Wait {
            since_ms,
            until_ms: since_ms.saturating_add(job.wait_ms()),
            ready_ms: ready(
                since_ms.saturating_add(job.wait_ms()),
                advice.as_ref(),
                now_ms,
            ),
            verdict: advice
                .as_ref()
                .filter(|_| job.readings().any(|(at_ms, _)| at_ms > since_ms))
                .and_then(|advice| advice.wait),
        });
        let state = state(job, advice.as_ref(), wait, now_ms);
        Self {
            state,
            position: job.position(),
            wait,
            advice,
        }
    }

    /// Whether a wait runs.
    pub const fn is_waiting(&self) -> bool {
        matches!(self.state, Stem::Waiting(_))
    }
}

fn state(job: &Job, advice: Option<&Advice>, wait: Option<Wait>, now_ms: i64) -> Stem {
    let metering = job.choices.metering;
    let (Some(Metering::AdjustableTxv), Some(advice)) = (metering, advice) else {
        return Stem::None(metering);
    };
    if !job.stem_open() {
        return Stem::Shut(job.open_checks().collect());
    }
    if job.as_found.is_none() {
        return Stem::RecordAsFound;
    }
    if job.readings().next().is_none() {
        return Stem::ReadFirst;
    }
    // What cannot wait is said during the wait as well.
    let urgent = [
        Stop::BelowMinimum,
        Stop::HighHead,
        Stop::StemEnd,
        Stop::WrongWay,
        Stop::Hunting,
    ];
    if let Some(stop) = advice.stop.filter(|stop| urgent.contains(stop)) {
        return Stem::Stopped(stop);
    }
    if let Some(wait) = wait.filter(|wait| !wait.is_over(now_ms)) {
        return Stem::Waiting(wait);
    }
    match (advice.stop, advice.next) {
        (Some(stop), _) => Stem::Stopped(stop),
        (None, Some(by)) => Stem::Turn(by),
        (None, None) => Stem::Measure,
    }
}

/// See [`Wait::ready_ms`].
fn ready(until_ms: i64, advice: Option<&Advice>, now_ms: i64) -> i64 {
    // With a turn on its lips the coach speaks of the wait after that turn.
    let minutes = advice
        .filter(|advice| advice.next.is_none())
        .and_then(|advice| advice.minutes_to_settle)
        .filter(|minutes| *minutes > 0.0);
    let at_ms = minutes.map_or(until_ms, |minutes| {
        now_ms.saturating_add((minutes * MINUTE_MS as f64) as i64)
    });
    let whole = at_ms.saturating_add(MINUTE_MS - 1).div_euclid(MINUTE_MS) * MINUTE_MS;
    if at_ms > until_ms { whole } else { until_ms }
}

/// When the system was last disturbed: a turn, a weight, another change.
pub(crate) fn last_change(job: &Job) -> Option<i64> {
    counted(&job.log)
        .rev()
        .find(|line| {
            matches!(
                line.what,
                What::Turn { .. } | What::Charge { .. } | What::Change { .. }
            )
        })
        .map(|line| line.at_ms)
}

/// The way that superheat was expected to take after the last turn, by what was known before it, with
/// the time of that turn; empty where nothing was settled before it, or where it was not the last
/// change.
pub(crate) fn foretold(job: &Job) -> (i64, Vec<PathPoint>) {
    let turn_ms = counted(&job.log)
        .rev()
        .find(|line| !matches!(line.what, What::Reading(_) | What::End(_)))
        .filter(|line| matches!(line.what, What::Turn { .. }))
        .map(|line| line.at_ms);
    let said = turn_ms.zip(job.setup());
    let path = said.map_or(Vec::new(), |(at_ms, setup)| advice(job, &setup, at_ms).path);
    (turn_ms.unwrap_or_default(), path)
}

fn advice(job: &Job, setup: &Setup, now_ms: i64) -> Advice {
    let minutes = |at_ms: i64| Minutes::from_ms(at_ms.saturating_sub(job.created_ms) as f64);
    let head_limit = job.number(PlateField::HeadLimit);
    let mut log = CoachLog::new(setup, head_limit.map(GaugePressure::from_psig));
    for line in counted(&job.log).filter(|line| line.at_ms <= now_ms) {
        let at = minutes(line.at_ms);
        match &line.what {
            What::Turn { by, .. } => log.add(Entry::Turn { at, by: *by }),
            What::End(end) => log.add(Entry::StemEnd { at, end: *end }),
            What::Charge { .. } | What::Change { .. } => log.add(Entry::Disturbed { at }),
            What::Reading(draft) => {
                let derived = derive(&check(setup, &draft.reading()).0);
                if let Some(read) = SuperheatRead::of(&derived) {
                    log.read(at, read);
                }
            }
        }
    }
    log.advise(minutes(now_ms))
}

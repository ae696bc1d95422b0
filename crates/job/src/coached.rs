//! What the coach is told: the plan that a setup makes, and readings as superheat with its error.
//! The page's log and a log of lines come through here alike.

use coach::{Advice, Entry, Minutes, Plan, advise};
use diagnosis::{Banded, Derived, Field, Reading, Setup, check, derive, rule_of_thumb_superheat};
use quantity::{GaugePressure, Temperature, TemperatureDifference};

/// Scatter of one superheat reading by the same tools, one standard deviation, °F. The default of
/// the estimators, no source.
const SCATTER_F: f64 = 0.8;

/// Where the tools' error of a stated superheat is worked out when no pressure stands beside it:
/// coil saturation, °F. Common design, no source; the error changes slowly with it.
const USUAL_COIL_F: f64 = 40.0;

/// One reading as the coach takes it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SuperheatRead {
    /// The superheat, with what the tools allow it to be wrong by.
    pub superheat: Banded<TemperatureDifference>,
    /// The superheat at the needle's high and low, where it was watched.
    pub swing: Option<(TemperatureDifference, TemperatureDifference)>,
    /// Mid-point condensing temperature, where the liquid side was read.
    pub condensing: Option<Temperature>,
}

impl SuperheatRead {
    /// From gauges and pipes; `None` where superheat does not follow from them.
    pub fn of(derived: &Derived) -> Option<Self> {
        Some(Self {
            superheat: derived.superheat?,
            swing: derived.superheat_swing,
            condensing: derived.condensing.map(|at| at.value),
        })
    }

    /// From a superheat that was worked out elsewhere, with whatever was read beside it.
    ///
    /// The value is kept as stated. Its error is that of the setup's tools, at the pressure read,
    /// else in the middle of the needle's swing, else at a 40 °F coil. `None` only where that
    /// pressure is outside the refrigerant's table.
    ///
    /// - `reading`: may be empty; what the setup cannot use counts as not read.
    pub fn stated(
        setup: &Setup,
        superheat: TemperatureDifference,
        reading: &Reading,
    ) -> Option<Self> {
        let mut reading = reading.clone();
        let dew = setup.refrigerant.dew();
        if reading.get(Field::SuctionPressure).is_none() {
            let ends = reading
                .get(Field::SuctionLow)
                .zip(reading.get(Field::SuctionHigh));
            let shown = match ends {
                Some((low, high)) => f64::midpoint(low, high),
                None => {
                    let coil = dew.pressure(Temperature::from_f(USUAL_COIL_F)).ok()?;
                    setup.gauge.shown(coil, setup.local_air).psig()
                }
            };
            reading.set(Field::SuctionPressure, Some(shown));
        }
        if reading.get(Field::SuctionLine).is_none() {
            let at = check(setup, &reading)
                .0
                .suction_at_point(Field::SuctionPressure)?;
            let line = dew.temperature(at).ok()? + superheat;
            reading.set(Field::SuctionLine, Some(line.f()));
        }
        let read = Self::of(&derive(&check(setup, &reading).0))?;
        Some(Self {
            superheat: Banded {
                value: superheat,
                ..read.superheat
            },
            ..read
        })
    }
}

/// A log as the coach takes it, with the plan that goes with it.
#[derive(Clone, Debug)]
pub struct CoachLog {
    plan: Plan,
    entries: Vec<Entry>,
    /// When the reading was taken whose error the plan holds.
    newest: Option<Minutes>,
}

impl CoachLog {
    /// An empty log.
    ///
    /// - `setup`: gives the band (the rule of thumb where it has no target), the minimum, and the
    ///   tools behind the error of each reading.
    /// - `head_limit`: the plate's high-side limit as the gauge would show it.
    pub fn new(setup: &Setup, head_limit: Option<GaugePressure>) -> Self {
        let target = setup
            .superheat_target
            .unwrap_or(rule_of_thumb_superheat(setup.point));
        let head_limit = head_limit.and_then(|shown| {
            let absolute = setup.gauge.absolute(shown, setup.local_air);
            setup.refrigerant.midpoint_temperature(absolute).ok()
        });
        Self {
            plan: Plan {
                low: target.low,
                high: target.high,
                minimum: setup.minimum_superheat,
                scatter: TemperatureDifference::from_f(SCATTER_F),
                bias: TemperatureDifference::ZERO,
                head_limit,
                opening_end: None,
                closing_end: None,
            },
            entries: Vec::new(),
            newest: None,
        }
    }

    /// Adds a reading. The standing error of the tools is that of the newest one.
    pub fn read(&mut self, at: Minutes, read: SuperheatRead) {
        if self.newest.is_none_or(|newest| newest <= at) {
            self.newest = Some(at);
            self.plan.bias = read.superheat.half_width;
        }
        self.entries.push(Entry::Reading {
            at,
            superheat: read.superheat.value,
            swing: read.swing,
            condensing: read.condensing,
        });
    }

    /// Adds a turn, a stem end or another change.
    pub fn add(&mut self, entry: Entry) {
        self.entries.push(entry);
    }

    /// What the coach says of it, of what was known at `now`.
    pub fn advise(&self, now: Minutes) -> Advice {
        advise(&self.plan, &self.entries, now)
    }
}

//! What the coach answers.

use quantity::TemperatureDifference;

use crate::{Minutes, Quarters, Why};

/// Where the superheat is on its way after the last turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Wait {
    /// Still moving, or too few readings to tell.
    Drifting,
    /// What is read now is what will stay.
    Settled,
    /// It swings up and down and will not settle.
    Hunting,
}

impl Wait {
    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Drifting => "drifting",
            Self::Settled => "settled",
            Self::Hunting => "hunting",
        }
    }
}

/// Why the stem is not to be turned on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stop {
    /// Settled within the band.
    AtTarget,
    /// The stem met its end; forcing it breaks the valve.
    StemEnd,
    /// Superheat at or under its minimum: liquid may be returning.
    BelowMinimum,
    /// The valve hunts: other things come before the stem.
    Hunting,
    /// The valve cannot make this target: look for other faults.
    NotReachable,
    /// Superheat answered the first turns the wrong way round.
    WrongWay,
    /// The stem is not what limits the superheat.
    NoResponse,
    /// Condensing temperature over its limit.
    HighHead,
}

impl Stop {
    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::AtTarget => "at-target",
            Self::StemEnd => "stem-end",
            Self::BelowMinimum => "below-minimum",
            Self::Hunting => "hunting",
            Self::NotReachable => "not-reachable",
            Self::WrongWay => "wrong-way",
            Self::NoResponse => "no-response",
            Self::HighHead => "high-head",
        }
    }
}

/// A number and how sure it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The most likely value.
    pub value: TemperatureDifference,
    /// Half of the interval that holds the truth nine times in ten, by the model. A superheat's
    /// includes the standing error of the tools; a gain's does not, since there it cancels.
    pub half_width: TemperatureDifference,
}

/// A regular swing of the superheat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// From its mean to its top: half of the whole swing.
    pub amplitude: TemperatureDifference,
    /// Minutes for one swing, where the readings are close enough to tell.
    pub period_minutes: Option<f64>,
}

/// One point of the way that readings are expected to take after a turn.
///
/// From low to high is the band that holds a reading nine times in ten: the dip, how slowly this
/// valve may answer, the slow tail, the doubt of the gain, the scatter and standing error of the
/// tools.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PathPoint {
    /// Since the turn was complete.
    pub since: Minutes,
    /// Lower edge of the band.
    pub low: TemperatureDifference,
    /// Mean.
    pub middle: TemperatureDifference,
    /// Upper edge of the band.
    pub high: TemperatureDifference,
}

/// What was foretold of a turn, and what came.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scored {
    /// Where superheat would settle, by what was known before the turn.
    pub foretold: Estimate,
    /// Where it settled.
    pub came: Estimate,
    /// Minutes from the turn until it would be settled, with readings as far apart as before it;
    /// `None` where eight readings were not thought enough.
    pub foretold_minutes: Option<f64>,
    /// Minutes from the turn to the reading that settled it.
    pub came_minutes: f64,
}

/// Where superheat settled with the stem at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Of the stem, from as found.
    pub position: Quarters,
    /// The settled superheat.
    pub settled: Estimate,
}

/// What to do now, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// Drifting, settled or hunting; `None` before the first reading.
    pub wait: Option<Wait>,
    /// The superheat it has settled at; the mean of the swing while hunting.
    pub settled: Option<Estimate>,
    /// Rise of superheat for one clockwise turn. Before any response: what valves in general do.
    pub gain: Estimate,
    /// This valve's own responses are in the gain.
    pub gain_learned: bool,
    /// The turn to make now, if any.
    pub next: Option<Quarters>,
    /// Where superheat will settle: after `next` when there is one; else, while drifting, on the
    /// present way.
    pub expected: Option<Estimate>,
    /// How long until then: from the turn when there is a `next`; else, while drifting, from now, if
    /// readings go on as before. A guide, never a verdict.
    pub minutes_to_settle: Option<f64>,
    /// The way readings should take: after `next` when there is one; else, while drifting after a
    /// turn, the one foretold at that turn by what was known before it, to draw the readings over.
    /// Empty otherwise. In order of time, up to 15 minutes.
    pub path: Vec<PathPoint>,
    /// How well the last turn that settled was foretold; `None` before one was.
    pub scored: Option<Scored>,
    /// Every place of the stem at which superheat has settled since anything else was changed, in
    /// order of time; empty before the first turn was answered.
    pub places: Vec<Place>,
    /// Why the stem is not to be turned on. `BelowMinimum` may still carry a closing `next`.
    pub stop: Option<Stop>,
    /// The evidence and the reasons, most urgent first.
    pub why: Vec<Why>,
    /// The swing, wherever one was seen, even too small to be called hunting.
    pub swing: Option<Swing>,
}

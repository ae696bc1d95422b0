//! One attempt at a case: the plant goes on while hands work.
//!
//! A session is nothing but its case and its actions with their times: the same actions at the same
//! seconds give the same session, whatever pieces time was let pass in.

use crate::act::Action;
use crate::bag::{Around, Bag};
use crate::case::Case;
use crate::eyes::Looks;
use crate::facts::{Deed, Facts, SAMPLE_S, Sample};
use crate::hand::{self, Done};
use crate::refused::Refused;
use crate::rules::LONGEST_VISIT_S;
use crate::score::is_starved;
use crate::standing;
use crate::trouble::Wrong;
use cycle::{Bound, NoSolution, Point, Run, Unknown};
use diagnosis::{Cause, Field};
use serde::{Deserialize, Serialize};

/// How often the plant is looked at, s: sample time of tools and of harm.
pub(crate) const LOOK_S: u32 = 2;
/// How long a bulb is held in the hand, s, and by how much suction must rise for an answer, psi.
/// Common practice, no source.
pub(crate) const HELD_S: u32 = 30;
pub(crate) const ANSWERS_PSI: f64 = 2.0;

/// Why the plant stands still.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stopped {
    /// The high-pressure switch: head beyond the model.
    HighPressure,
    /// The low-pressure switch: suction beyond the model.
    LowPressure,
    /// Another safety: a temperature beyond the model.
    Safety,
}

impl Stopped {
    const fn of(error: &NoSolution) -> Self {
        match error {
            NoSolution::Beyond {
                unknown: Unknown::Condensing,
                bound: Bound::High,
                ..
            } => Self::HighPressure,
            NoSolution::Beyond {
                unknown: Unknown::Evaporating,
                bound: Bound::Low,
                ..
            } => Self::LowPressure,
            _ => Self::Safety,
        }
    }
    /// In words.
    pub const fn says(self) -> &'static str {
        match self {
            Self::HighPressure => "The high-pressure switch has stopped the plant.",
            Self::LowPressure => "The low-pressure switch has stopped the plant.",
            Self::Safety => "A safety switch has stopped the plant.",
        }
    }
}

/// Something that was seen, or told by the plant.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Seen {
    /// Seconds since arrival.
    pub at_s: u32,
    /// What it is about: a spot or an action, by its key.
    pub of: &'static str,
    /// How it looks, where it was looked at.
    pub looks: Option<Looks>,
    /// In words.
    pub says: String,
}

/// An action and when it was begun.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// Seconds since arrival.
    pub at_s: u32,
    /// What was done.
    #[serde(flatten)]
    pub action: Action,
}

/// One attempt at a case.
#[derive(Clone, Debug)]
pub struct Session {
    pub(crate) case: Case,
    pub(crate) run: Run,
    pub(crate) wrong: Wrong,
    /// The plant as it is now; nothing while it stands still.
    pub(crate) point: Option<Point>,
    pub(crate) stopped: Option<Stopped>,
    pub(crate) at_s: u32,
    pub(crate) changed_s: u32,
    /// Stem from as found.
    pub(crate) stem_quarters: i32,
    pub(crate) bag: Bag,
    pub(crate) seen: Vec<Seen>,
    pub(crate) steps: Vec<Step>,
    pub(crate) facts: Facts,
    pub(crate) parts_money: f64,
    pub(crate) called: Vec<Cause>,
    pub(crate) called_s: Option<u32>,
    pub(crate) over: bool,
    /// Lowest and highest needle while it is watched.
    pub(crate) watched: Option<(f64, f64)>,
}

impl Session {
    /// Arrival at a plant that has run long enough to rest.
    pub fn begin(case: Case) -> Self {
        let run = case.start.clone();
        let point = run.point();
        let facts = Facts {
            path: vec![Sample::of(0, Some(&point), 0)],
            ..Facts::default()
        };
        Self {
            bag: Bag::new(case.nameplate.kit, case.seed),
            wrong: case.wrong,
            point: Some(point),
            run,
            case,
            stopped: None,
            at_s: 0,
            changed_s: 0,
            stem_quarters: 0,
            seen: Vec::new(),
            steps: Vec::new(),
            facts,
            parts_money: 0.0,
            called: Vec::new(),
            called_s: None,
            over: false,
            watched: None,
        }
    }

    /// Does something: its minutes go by, the plant goes on meanwhile (or stands still, where the
    /// action's row says so), and then it has its effect. Gives back what there is to see of it.
    ///
    /// # Errors
    /// [`Refused`]; nothing has happened then, and no time went by.
    pub fn apply(&mut self, action: Action) -> Result<Vec<Seen>, Refused> {
        let action = action.weighed();
        self.refuses(&action)?;
        let row = action.row();
        let before = self.seen.len();
        let deed = self.deed(&action);
        self.steps.push(Step {
            at_s: self.at_s,
            action: action.clone(),
        });
        self.parts_money += row.money;
        self.facts.harm.lost_oz += row.lost_oz;
        if let (true, Action::AddCharge { ounces }) = (deed.starved, &action) {
            self.facts.harm.added_to_starved_oz += ounces;
        }
        self.facts.deeds.push(deed);
        let place = self.facts.deeds.len() - 1;
        match &action {
            Action::Wait { seconds } => self.run_for(*seconds),
            _ if row.off => self.stand_for(60 * row.minutes),
            _ => self.run_for(60 * row.minutes),
        }
        let Done { mended, seen } = hand::does(self, &action);
        if let Some(deed) = self.facts.deeds.get_mut(place) {
            deed.mended = mended;
        }
        self.seen.extend(seen);
        if let Some(stopped) = self
            .stopped
            .filter(|_| matches!(action, Action::StartAgain))
        {
            self.tell("start-again", stopped.says().to_owned());
        }
        Ok(self.seen.get(before..).unwrap_or_default().to_vec())
    }

    /// Lets time pass between actions, whole seconds. After the end, and beyond a day, nothing does.
    pub fn pass(&mut self, seconds: u32) {
        let left = LONGEST_VISIT_S.saturating_sub(self.at_s);
        if !self.over {
            self.run_for(seconds.min(left));
        }
    }

    fn deed(&self, action: &Action) -> Deed {
        let weigh = matches!(action, Action::TurnStem { .. } | Action::AddCharge { .. });
        Deed {
            at_s: self.at_s,
            action: action.clone(),
            from_rest_f: self.point.filter(|_| weigh).and_then(|point| {
                let rest = self
                    .run
                    .system()
                    .steady(&self.case.weather, self.run.faults(), self.run.stem_turns())
                    .ok()?;
                Some((point.superheat() - rest.superheat()).f().abs())
            }),
            since_change_s: self.at_s - self.changed_s,
            truly_f: self
                .point
                .map(|at| (at.superheat().f(), at.subcooling().f())),
            mended: false,
            starved: matches!(action, Action::AddCharge { .. })
                && self.point.is_some_and(|at| {
                    let high = self.case.nameplate.superheat_high_f;
                    is_starved(&self.wrong, at.superheat().f(), high)
                }),
        }
    }

    /// Ounces over the right charge, as a share.
    pub(crate) fn share_of(&self, ounces: f64) -> f64 {
        ounces * 0.453_592_37 / 16.0 / self.run.system().charge_kg()
    }

    /// Seconds with the plant running, or stopped by a switch. It is looked at on every even second
    /// since arrival, and at the end, so that the pieces in which time passes make no difference.
    pub(crate) fn run_for(&mut self, seconds: u32) {
        let end = self.at_s + seconds;
        while self.at_s < end {
            let piece = (LOOK_S - self.at_s % LOOK_S).min(end - self.at_s);
            let before = self.run.seconds();
            let went = match self.stopped {
                None => self.run.advance(f64::from(piece)),
                Some(_) => Ok(()),
            };
            if let Err(error) = went {
                // Time stands where that happened.
                let into = libm::ceil(self.run.seconds() - before) as u32;
                self.stop(&error, self.at_s + into.min(piece));
            }
            self.at_s += piece;
            let running = self.stopped.is_none();
            if self.at_s.is_multiple_of(LOOK_S) {
                self.point = running.then(|| self.run.point());
                self.look();
            } else if self.at_s == end {
                self.point = running.then(|| self.run.point());
            }
        }
    }

    /// Seconds with the power off. The plant takes up where it stopped: starting transients are left
    /// out of the model, and the minutes of such actions hold the time to run up.
    fn stand_for(&mut self, seconds: u32) {
        for _ in 0..seconds {
            self.at_s += 1;
            if self.at_s.is_multiple_of(SAMPLE_S) {
                self.facts
                    .path
                    .push(Sample::of(self.at_s, None, self.stem_quarters));
            }
        }
    }

    pub(crate) fn stop(&mut self, error: &NoSolution, at_s: u32) {
        let stopped = Stopped::of(error);
        self.stopped = Some(stopped);
        self.point = None;
        self.facts.harm.stops += 1;
        self.facts.stops_s.push(at_s);
        self.seen.push(Seen {
            at_s,
            of: "plant",
            looks: None,
            says: stopped.says().to_owned(),
        });
    }

    pub(crate) fn tell(&mut self, of: &'static str, says: String) {
        self.seen.push(Seen {
            at_s: self.at_s,
            of,
            looks: None,
            says,
        });
    }

    /// What the plant and the tools are like at an even second.
    fn look(&mut self) {
        if let Some(point) = &self.point {
            let minimum = self.case.nameplate.minimum_superheat_f;
            self.facts.passed(self.at_s, LOOK_S, point, minimum);
        }
        if self.at_s.is_multiple_of(SAMPLE_S) {
            self.facts.path.push(Sample::of(
                self.at_s,
                self.point.as_ref(),
                self.stem_quarters,
            ));
        }
        let standing = match self.point {
            Some(_) => None,
            None => self.standing(),
        };
        self.bag.feel(&Around {
            point: self.point.as_ref(),
            weather: &self.case.weather,
            room_wet: self.case.room_wet,
            standing,
            design_power_w: self.case.design_power_w,
        });
        if let Some((low, high)) = self.watched
            && let Some(needle) = self.shows(Field::SuctionPressure)
        {
            self.watched = Some((low.min(needle), high.max(needle)));
        }
    }

    pub(crate) fn standing(&self) -> Option<quantity::AbsolutePressure> {
        standing::pressure(
            self.run.system(),
            &self.wrong.faults,
            self.case.weather.outdoor(),
        )
    }
}

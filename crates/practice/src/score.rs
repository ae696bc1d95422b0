//! What an attempt is worth: five scores, each lost point with its moment and its reason.
//!
//! Points and thresholds: judgement, no source.

use crate::act::Action;
use crate::facts::{Deed, Facts, Harm};
use crate::order::order;
use crate::session::Session;
use crate::trouble::Wrong;
use serde::Serialize;

/// What is scored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Habit {
    /// The cause was named.
    Cause,
    /// Free and reversible first.
    Order,
    /// No change before the last one has settled.
    Patience,
    /// Nothing was hurt.
    Harm,
    /// Minutes beside those of a good path.
    Time,
}

impl Habit {
    /// Every one, in order.
    pub const ALL: [Self; 5] = [
        Self::Cause,
        Self::Order,
        Self::Patience,
        Self::Harm,
        Self::Time,
    ];
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Cause => "Cause found",
            Self::Order => "Order: free and reversible first",
            Self::Patience => "Patience: settled before the next change",
            Self::Harm => "Harm done",
            Self::Time => "Time",
        }
    }
    /// The most it can give.
    pub const fn out_of(self) -> f64 {
        match self {
            Self::Cause => 40.0,
            Self::Order | Self::Patience => 15.0,
            Self::Harm => 20.0,
            Self::Time => 10.0,
        }
    }
}

/// Points lost at a moment.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Lost {
    /// Seconds since arrival.
    pub at_s: u32,
    /// How many.
    pub points: f64,
    /// Why, in one sentence.
    pub reason: String,
}

/// One score.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Score {
    /// Of what.
    pub habit: Habit,
    /// The same for a person.
    pub says: &'static str,
    /// What is left, never under zero.
    pub points: f64,
    /// The most there was.
    pub out_of: f64,
    /// What was lost, in order of time. May be more than there was.
    pub lost: Vec<Lost>,
}

/// What a good path on the same case came to.
pub(crate) struct Beside {
    pub(crate) harm: Harm,
    pub(crate) seconds: u32,
}

/// Further than this from rest, °F, the last change was still under way; after so many seconds it is
/// no fault of the hand.
const FROM_REST_F: f64 = 1.0;
const LONG_S: u32 = 15 * 60;

/// All five.
pub(crate) fn scores(session: &Session, beside: &Beside) -> Vec<Score> {
    Habit::ALL
        .into_iter()
        .map(|habit| {
            let mut lost = match habit {
                Habit::Cause => cause(session),
                Habit::Order => order(session),
                Habit::Patience => {
                    patience(&session.facts, session.case.nameplate.minimum_superheat_f)
                }
                Habit::Harm => harm(&session.facts, &beside.harm),
                Habit::Time => time(session.at_s, beside.seconds),
            };
            lost.sort_by_key(|lost| lost.at_s);
            let gone: f64 = lost.iter().map(|lost| lost.points).sum();
            Score {
                habit,
                says: habit.says(),
                points: (habit.out_of() - gone).max(0.0),
                out_of: habit.out_of(),
                lost,
            }
        })
        .collect()
}

pub(crate) fn lost(at_s: u32, points: f64, reason: String) -> Lost {
    Lost {
        at_s,
        points: libm::round(10.0 * points) / 10.0,
        reason,
    }
}

fn cause(session: &Session) -> Vec<Lost> {
    let at_s = session.called_s.unwrap_or(session.at_s);
    let slots = &session.case.answers;
    let share = Habit::Cause.out_of() / slots.len().max(1) as f64;
    let missed = slots
        .iter()
        .filter(|slot| !slot.iter().any(|cause| session.called.contains(cause)))
        .filter_map(|slot| slot.first())
        .map(|cause| {
            lost(
                at_s,
                share,
                format!("{} was there and was not called.", cause.words().name),
            )
        });
    let beyond = session
        .called
        .iter()
        .filter(|called| !slots.iter().flatten().any(|it| it == *called))
        .map(|called| {
            lost(
                at_s,
                Habit::Cause.out_of() / 4.0,
                format!("{} was called and was not there.", called.words().name),
            )
        });
    missed.chain(beyond).collect()
}

fn patience(facts: &Facts, minimum_f: f64) -> Vec<Lost> {
    let hurried = |deed: &&Deed| {
        let far = deed.from_rest_f.is_none_or(|off| off > FROM_REST_F);
        // Closing against liquid does not wait.
        let rescue = matches!(deed.action, Action::TurnStem { quarters } if quarters > 0)
            && deed
                .truly_f
                .is_some_and(|(superheat, _)| superheat < minimum_f);
        let change = matches!(
            deed.action,
            Action::TurnStem { .. } | Action::AddCharge { .. }
        );
        change && far && deed.since_change_s < LONG_S && deed.truly_f.is_some() && !rescue
    };
    facts
        .deeds
        .iter()
        .filter(hurried)
        .map(|deed| {
            let after = f64::from(deed.since_change_s) / 60.0;
            let off = deed.from_rest_f.map_or_else(
                || "the plant had no rest to come to".to_owned(),
                |off| format!("superheat was {off:.1} °F from where it would have settled"),
            );
            lost(
                deed.at_s,
                3.0,
                format!(
                    "{} {after:.0} min after the last change: {off}.",
                    deed.action.row().says
                ),
            )
        })
        .collect()
}

fn harm(facts: &Facts, good: &Harm) -> Vec<Lost> {
    let own = &facts.harm;
    let mut all = Vec::new();
    let over = |own: u32, good: u32| f64::from(own.saturating_sub(good));
    let under = over(own.under_minimum_s, good.under_minimum_s + 60) / 60.0;
    if under > 0.0 {
        all.push(lost(
            facts.first_under_s.unwrap_or(0),
            under.min(8.0),
            format!(
                "Superheat was under its minimum for {:.0} min, a good path's {:.0}.",
                f64::from(own.under_minimum_s) / 60.0,
                f64::from(good.under_minimum_s) / 60.0
            ),
        ));
    }
    let liquid = own.liquid_oz - good.liquid_oz - 1.0;
    if liquid > 0.0 {
        all.push(lost(
            facts.first_liquid_s.unwrap_or(0),
            (liquid / 4.0).clamp(1.0, 8.0),
            format!("{:.0} oz of liquid went to the compressor.", own.liquid_oz),
        ));
    }
    all.extend(facts.stops_s.iter().map(|&at_s| {
        lost(
            at_s,
            4.0,
            "A safety switch had to stop the plant.".to_owned(),
        )
    }));
    all.extend(facts.deeds.iter().filter_map(|deed| {
        let Action::AddCharge { ounces } = deed.action else {
            return None;
        };
        deed.starved.then(|| {
            lost(
                deed.at_s,
                (ounces / 4.0).clamp(1.0, 4.0),
                format!("{ounces:.0} oz went into a coil that was starved by something else than charge."),
            )
        })
    }));
    let spilt = own.lost_oz - good.lost_oz;
    if spilt > 0.5 {
        let last = facts
            .deeds
            .iter()
            .rev()
            .find(|it| it.action.row().lost_oz > 0.0);
        all.push(lost(
            last.map_or(0, |deed| deed.at_s),
            spilt.min(4.0),
            format!(
                "{:.1} oz were lost at hoses and joints, a good path's {:.1}.",
                own.lost_oz, good.lost_oz
            ),
        ));
    }
    all
}

fn time(own_s: u32, good_s: u32) -> Vec<Lost> {
    let allowed = (good_s + good_s / 2).max(good_s + 20 * 60);
    let over = f64::from(own_s.saturating_sub(allowed)) / 60.0;
    if over <= 0.0 {
        return Vec::new();
    }
    vec![lost(
        allowed,
        over / 10.0,
        format!(
            "{:.0} min in all; a good path takes {:.0}.",
            f64::from(own_s) / 60.0,
            f64::from(good_s) / 60.0
        ),
    )]
}

/// Whether charge goes into a coil that is starved by something else.
///
/// Superheat over its band by 3 °F while the charge is not short.
pub(crate) fn is_starved(wrong: &Wrong, superheat_f: f64, high_f: f64) -> bool {
    wrong.faults.charge > 0.98 && superheat_f > high_f + 3.0
}

//! What it was, what the way there cost, and how a good hand would have gone.

use crate::act::MONEY;
use crate::case::Nameplate;
use crate::facts::{Harm, Sample};
use crate::score::{Beside, Score, scores};
use crate::session::{Session, Step};
use crate::technician::good_technician;
use diagnosis::{ActionOrder, Gate, assess};
use serde::Serialize;

/// A trouble, told after the case.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Truth {
    /// The cause, by its key.
    pub cause: &'static str,
    /// Its name for a person.
    pub name: &'static str,
    /// How it came about, by its key.
    pub way: &'static str,
    /// The same for a person; the size stands in the unit named here.
    pub says: &'static str,
    /// How much.
    pub size: f64,
}

/// Something done, on the timeline; or a wait of a minute or more between two things.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Mark {
    /// When it began, seconds since arrival.
    pub at_s: u32,
    /// When it was over.
    pub until_s: u32,
    /// The action's key.
    pub key: &'static str,
    /// Its name for a person.
    pub says: &'static str,
    /// Quarter turns, for a turn of the stem.
    pub quarters: Option<i32>,
    /// It changes the plant for good or for long: stem, charge or a part.
    pub weighty: bool,
}

/// How the plant was left.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Left {
    /// Superheat at the bulb, °F; none where it stands still.
    pub superheat_f: Option<f64>,
    /// Subcooling, °F.
    pub subcooling_f: Option<f64>,
    /// Whether superheat is in its band.
    pub superheat_in_band: Option<bool>,
    /// Whether subcooling is; none for an orifice.
    pub subcooling_in_band: Option<bool>,
}

/// What the tool itself would have said of the last readings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Likely {
    /// The cause, by its key.
    pub cause: &'static str,
    /// Its share, 0 to 1.
    pub weight: f64,
}

/// One way through the case.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Path {
    /// Every half minute.
    pub samples: Vec<Sample>,
    /// What was done, and the waits.
    pub marks: Vec<Mark>,
    /// What it hurt.
    pub harm: Harm,
    /// How long it took, minutes.
    pub minutes: f64,
    /// What it cost, shells.
    pub money: f64,
    /// What was called, by keys.
    pub called: Vec<&'static str>,
    /// Whether that was right.
    pub found: bool,
    /// How the plant was left.
    pub left: Left,
}

/// The debrief of an attempt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Debrief {
    /// Of this form: 1.
    pub version: u32,
    /// The case, to make it again.
    pub address: String,
    /// Always: nothing here is real.
    pub demo: bool,
    /// Unit of money.
    pub money_unit: &'static str,
    /// What was given.
    pub nameplate: Nameplate,
    /// What was wrong.
    pub troubles: Vec<Truth>,
    /// What the same plant would show with nothing wrong, in usual weather.
    pub sound: Sample,
    /// Causes that may be called, a slot for each trouble.
    pub right: Vec<Vec<&'static str>>,
    /// The attempt.
    pub path: Path,
    /// The scripted good technician on the same case.
    pub good_path: Path,
    /// What the tool makes of the last readings, best first, three at most.
    pub tool_says: Vec<Likely>,
    /// The five scores.
    pub scores: Vec<Score>,
    /// Their sum.
    pub points: f64,
    /// The most there was.
    pub out_of: f64,
    /// What the lesson says, for a lesson.
    pub lesson_says: Option<String>,
}

/// The debrief of a session; `None` while it is not over, since it tells everything.
pub fn debrief(session: &Session) -> Option<Debrief> {
    session.is_found()?;
    let mut good = Session::begin(session.case.clone());
    good_technician(&mut good);
    let beside = Beside {
        harm: good.facts.harm,
        seconds: good.at_s,
    };
    let scores = scores(session, &beside);
    let case = &session.case;
    let key = |cause: &diagnosis::Cause| cause.key();
    Some(Debrief {
        version: 1,
        address: case.address(),
        demo: true,
        money_unit: MONEY,
        nameplate: case.nameplate.clone(),
        troubles: case
            .troubles
            .iter()
            .map(|trouble| Truth {
                cause: trouble.way.cause().key(),
                name: trouble.way.cause().words().name,
                way: trouble.way.key(),
                says: trouble.way.says(),
                size: libm::round(1000.0 * trouble.size) / 1000.0,
            })
            .collect(),
        sound: Sample::of(0, Some(&case.sound), 0),
        right: case
            .answers
            .iter()
            .map(|slot| slot.iter().map(key).collect())
            .collect(),
        path: path(session),
        good_path: path(&good),
        tool_says: assess(&session.setup(Gate::HELD), &session.reading())
            .findings
            .iter()
            .take(3)
            .map(|finding| Likely {
                cause: finding.cause.key(),
                weight: libm::round(1000.0 * finding.weight) / 1000.0,
            })
            .collect(),
        points: scores.iter().map(|score| score.points).sum(),
        out_of: scores.iter().map(|score| score.out_of).sum(),
        scores,
        lesson_says: case.lesson().map(|lesson| lesson.debrief.clone()),
    })
}

fn path(session: &Session) -> Path {
    let steps = session.steps();
    let mut marks = Vec::new();
    let mut until = 0;
    for Step { at_s, action } in steps {
        if at_s.saturating_sub(until) >= 60 {
            marks.push(wait(until, *at_s));
        }
        until = at_s + session.took_s(action);
        let row = action.row();
        if row.key == "wait" {
            if until > *at_s {
                marks.push(wait(*at_s, until));
            }
            continue;
        }
        marks.push(Mark {
            at_s: *at_s,
            until_s: until,
            key: row.key,
            says: row.says,
            quarters: match action {
                crate::Action::TurnStem { quarters } => Some(*quarters),
                _ => None,
            },
            weighty: matches!(
                row.order,
                ActionOrder::Stem | ActionOrder::Charge | ActionOrder::Repair
            ),
        });
    }
    let tenth = |value: f64| libm::round(10.0 * value) / 10.0;
    let harm = session.facts.harm;
    Path {
        samples: session.facts.path.clone(),
        marks,
        harm: Harm {
            liquid_oz: tenth(harm.liquid_oz),
            lost_oz: tenth(harm.lost_oz),
            added_to_starved_oz: tenth(harm.added_to_starved_oz),
            ..harm
        },
        minutes: tenth(f64::from(session.at_s) / 60.0),
        money: tenth(session.money()),
        called: session.called.iter().map(|cause| cause.key()).collect(),
        found: session.is_found() == Some(true),
        left: left(session),
    }
}

fn wait(at_s: u32, until_s: u32) -> Mark {
    let row = crate::Action::Wait { seconds: 0 };
    Mark {
        at_s,
        until_s,
        key: row.row().key,
        says: row.row().says,
        quarters: None,
        weighty: false,
    }
}

fn left(session: &Session) -> Left {
    let plate = &session.case.nameplate;
    let tenth = |value: f64| libm::round(10.0 * value) / 10.0;
    let superheat = session.point.map(|at| tenth(at.superheat().f()));
    let subcooling = session.point.map(|at| tenth(at.subcooling().f()));
    Left {
        superheat_f: superheat,
        subcooling_f: subcooling,
        superheat_in_band: superheat
            .map(|it| (plate.superheat_low_f..=plate.superheat_high_f).contains(&it)),
        subcooling_in_band: plate
            .subcooling_low_f
            .zip(plate.subcooling_high_f)
            .zip(subcooling)
            .map(|((low, high), it)| (low..=high).contains(&it)),
    }
}

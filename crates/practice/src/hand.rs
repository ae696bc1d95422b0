//! What an action does to the plant and to the tools, once its minutes are over.

use crate::act::{Action, Spot};
use crate::bag::Needs;
use crate::eyes;
use crate::session::{ANSWERS_PSI, HELD_S, Seen, Session};
use crate::trouble::Wrong;
use cycle::{Faults, Run, System, Tail};
use diagnosis::{BulbTest, Field};
use quantity::PressureDifference;

/// Below this share a plant counts as having lost charge.
const LOST: f64 = 0.97;

/// What came of an action.
pub(crate) struct Done {
    /// It set something right that was wrong.
    pub(crate) mended: bool,
    pub(crate) seen: Vec<Seen>,
}

/// The effect of an action that was not refused.
pub(crate) fn does(session: &mut Session, action: &Action) -> Done {
    let before = session.wrong;
    let seen = match action {
        Action::Look { spot } => looked(session, *spot),
        Action::ConnectGauges { place } => {
            session.bag.moved(Needs::Gauges);
            session.bag.gauges = Some(*place);
            Vec::new()
        }
        Action::StrapProbes { place, wrapped } => {
            session.bag.moved(Needs::PipeProbes);
            session.bag.probes = Some((*place, *wrapped));
            Vec::new()
        }
        Action::HangAirProbes => {
            session.bag.air = true;
            Vec::new()
        }
        Action::ClampAmps => {
            session.bag.clamp = true;
            Vec::new()
        }
        Action::WarmBulb => warmed(session),
        Action::WatchNeedle => watched(session),
        Action::WalkLiquidLine => {
            let blocked = session.wrong.faults.liquid_restriction > 1.5;
            if let Some(point) = session.point {
                session.bag.walk_line(&point, blocked, session.at_s);
            }
            Vec::new()
        }
        Action::CompareSuction => {
            if let Some(point) = session.point {
                session.bag.compare_suction(&point, session.at_s);
            }
            Vec::new()
        }
        Action::StandingTest => {
            if let Some(pressure) = session.standing() {
                let air = session.case.weather.outdoor();
                session.bag.keep_standing(pressure, air, session.at_s);
            }
            Vec::new()
        }
        Action::SearchLeak => {
            let lost = session.wrong.faults.charge < LOST;
            let found = eyes::finds_leak(lost, session.case.seed, session.case.difficulty);
            vec![said(
                session,
                action,
                if found {
                    "Oil round a flare joint. It is made tight; what is gone is gone."
                } else {
                    "No leak found."
                },
            )]
        }
        Action::TurnStem { quarters } => turned(session, *quarters),
        Action::StartAgain => {
            start(session);
            Vec::new()
        }
        Action::Call { causes } => {
            session.called.clone_from(causes);
            session.called_s = Some(session.at_s);
            Vec::new()
        }
        Action::Leave => {
            session.over = true;
            Vec::new()
        }
        Action::Wait { .. } => Vec::new(),
        mending => {
            let mut wrong = session.wrong;
            mends(&mut wrong, mending, session);
            set(session, wrong, mending);
            Vec::new()
        }
    };
    Done {
        mended: mends_something(&before, &session.wrong),
        seen,
    }
}

fn said(session: &Session, action: &Action, says: &str) -> Seen {
    Seen {
        at_s: session.at_s,
        of: action.row().key,
        looks: None,
        says: says.to_owned(),
    }
}

fn looked(session: &Session, spot: Spot) -> Vec<Seen> {
    let stem = session.wrong.stem_quarters;
    let (looks, says) = eyes::look(
        spot,
        &session.wrong,
        stem,
        session.point.as_ref(),
        (session.case.seed, session.case.difficulty),
    );
    vec![Seen {
        at_s: session.at_s,
        of: spot.key(),
        looks: Some(looks),
        says,
    }]
}

/// The hidden state after a mending action.
fn mends(wrong: &mut Wrong, action: &Action, session: &Session) {
    let faults = &mut wrong.faults;
    match action {
        Action::ChangeFilter => wrong.filter = 0.0,
        Action::CleanIndoorCoil => wrong.coil = 0.0,
        Action::WashCondenser => faults.condenser_air = 1.0,
        Action::ClearRecess => faults.recirculation = 0.0,
        Action::StrapBulb => faults.bulb_contact = 1.0,
        Action::AddCharge { ounces } => faults.charge += session.share_of(*ounces),
        Action::TakeCharge { ounces } => faults.charge -= session.share_of(*ounces),
        Action::Recharge => {
            faults.charge = 1.0;
            wrong.other_refrigerant = false;
        }
        Action::ChangeDrier => faults.liquid_restriction = 1.0,
        Action::ReplaceValve => {
            *faults = Faults {
                valve_area: 1.0,
                stuck_at: None,
                bulb_charge_lost: 0.0,
                screen: 0.0,
                bulb_contact: 1.0,
                ..*faults
            };
            wrong.stem_quarters = 0;
        }
        Action::ClearSuctionLine => faults.suction_restriction = 1.0,
        Action::ReplaceCompressor => faults.pumping = 1.0,
        _ => {}
    }
    // Whatever is opened is evacuated before the same weight goes back in.
    if opens(action) {
        wrong.faults.non_condensables = PressureDifference::ZERO;
    }
}

const fn opens(action: &Action) -> bool {
    matches!(
        action,
        Action::Recharge
            | Action::ChangeDrier
            | Action::ReplaceValve
            | Action::ClearSuctionLine
            | Action::ReplaceCompressor
    )
}

const fn changes_inside(action: &Action) -> bool {
    opens(action) || matches!(action, Action::AddCharge { .. } | Action::TakeCharge { .. })
}

/// Puts the plant into another hidden state. Where it stood still meanwhile it has run up again, as
/// the action's minutes hold that; else it takes up from where it is.
fn set(session: &mut Session, wrong: Wrong, action: &Action) {
    let before = session.wrong;
    let wrong = wrong.settled();
    if wrong == before {
        return;
    }
    session.wrong = wrong;
    session.changed_s = session.at_s;
    session.bag.forget(changes_inside(action));
    session.stem_quarters += wrong.stem_quarters - before.stem_quarters;
    if action.row().off && session.stopped.is_none() {
        start(session);
        return;
    }
    // In range by the refusals: what is mended goes to sound, and a charge was looked at.
    if let Err(error) = session.run.set_faults(wrong.faults) {
        session.stop(&cycle::NoSolution::OutOfRange(error), session.at_s);
    }
}

/// Starts the plant as it now is; it comes to rest, or a switch stops it again.
fn start(session: &mut Session) {
    let system: System = if session.wrong.other_refrigerant {
        session.case.start.system().clone()
    } else {
        session.case.named.clone()
    };
    let turns = f64::from(session.wrong.stem_quarters) / 4.0;
    let weather = session.case.weather.clone();
    match Run::at_rest(
        system,
        weather,
        session.wrong.faults,
        turns,
        Tail::default(),
    ) {
        Ok(run) => {
            session.point = Some(run.point());
            session.run = run;
            session.stopped = None;
        }
        Err(error) => session.stop(&error, session.at_s),
    }
    session.changed_s = session.at_s;
}

fn turned(session: &mut Session, quarters: i32) -> Vec<Seen> {
    let moved = session.run.turn_quarters(quarters);
    session.stem_quarters += moved;
    session.wrong.stem_quarters += moved;
    if moved != 0 {
        session.changed_s = session.at_s;
        session.bag.forget(false);
    }
    if moved == quarters {
        return Vec::new();
    }
    let action = Action::TurnStem { quarters };
    vec![said(
        session,
        &action,
        &format!("The stem met its end after {moved} of {quarters} quarter turns."),
    )]
}

/// A hand opens the needle wide, if anything can, for some seconds: the plant answers by itself. A
/// needle that is stuck stays where it is, and one that stands wide open has nothing to give.
fn warmed(session: &mut Session) -> Vec<Seen> {
    let before = session.shows(Field::SuctionPressure);
    let faults = *session.run.faults();
    let held = Faults {
        stuck_at: faults.stuck_at.or(Some(1.0)),
        ..faults
    };
    // Both are in range: the one it had, and a needle held at the end of its lift.
    if session.run.set_faults(held).is_ok() {
        session.run_for(HELD_S);
    }
    let after = session.shows(Field::SuctionPressure);
    if session.run.set_faults(faults).is_err() {
        return Vec::new();
    }
    session.changed_s = session.at_s;
    let rises = before
        .zip(after)
        .is_some_and(|(before, after)| after - before > ANSWERS_PSI);
    session.bag.bulb_test = Some(if rises {
        BulbTest::Rises
    } else {
        BulbTest::Nothing
    });
    vec![said(
        session,
        &Action::WarmBulb,
        if rises {
            "Suction rises while the bulb is held: the valve answers."
        } else {
            "Nothing happens to suction while the bulb is held."
        },
    )]
}

fn watched(session: &mut Session) -> Vec<Seen> {
    session.watched = Some((f64::INFINITY, f64::NEG_INFINITY));
    session.run_for(60);
    if let Some(swing @ (low, high)) = session.watched.take()
        && low <= high
    {
        session.bag.keep_swing(swing);
    }
    Vec::new()
}

/// Whether a state is nearer to sound than another in any one respect, by more than a trifle.
fn mends_something(before: &Wrong, after: &Wrong) -> bool {
    let amiss = |wrong: &Wrong| {
        let faults = &wrong.faults;
        [
            wrong.filter,
            wrong.coil,
            1.0 - faults.condenser_air,
            faults.recirculation,
            1.0 - faults.bulb_contact,
            (faults.charge - 1.0).abs(),
            (faults.valve_area - 1.0).abs(),
            if faults.stuck_at.is_some() { 1.0 } else { 0.0 },
            faults.bulb_charge_lost,
            faults.screen,
            faults.liquid_restriction - 1.0,
            faults.suction_restriction - 1.0,
            faults.non_condensables.pa() / 1e5,
            1.0 - faults.pumping,
            f64::from(wrong.stem_quarters.abs()),
            if wrong.other_refrigerant { 1.0 } else { 0.0 },
        ]
    };
    amiss(before)
        .iter()
        .zip(amiss(after))
        .any(|(before, after)| before - after > 0.02)
}

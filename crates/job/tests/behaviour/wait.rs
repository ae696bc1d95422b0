//! The wait: a clock and the readings, and it takes both.

use crate::visit::{MINUTE, Visit, entered, noted, turned, weighed};
use coach::{Stop, Wait as Course};
use diagnosis::Field;
use job::{Disturbance, Event, PlateField, Stem, Wait};

#[track_caller]
fn waiting(visit: &Visit) -> Wait {
    match visit.stem() {
        Stem::Waiting(wait) => wait,
        other => panic!("not waiting: {other:?}"),
    }
}

fn just_turned() -> Visit {
    let mut visit = Visit::ready_to_turn(20.0);
    visit.does(&turned(-2));
    visit
}

#[test]
fn time_up_is_not_settled() {
    let mut visit = just_turned();
    visit.minutes(40);
    let wait = waiting(&visit);
    assert!(wait.time_up(visit.now) && !wait.is_over(visit.now));
    assert_eq!(wait.verdict, None);
    // One reading cannot show that it stands still.
    visit.reads(17.0, 10.0);
    assert_eq!(waiting(&visit).verdict, Some(Course::Drifting));
    visit.minutes(4);
    visit.reads(17.0, 10.0);
    assert!(matches!(visit.stem(), Stem::Turn(by) if by.get() < 0));
}

#[test]
fn settled_is_not_time_up() {
    let mut visit = just_turned();
    for _ in 0..3 {
        visit.minutes(4);
        visit.reads(17.0, 10.0);
    }
    let wait = waiting(&visit);
    assert_eq!(wait.verdict, Some(Course::Settled));
    assert!(!wait.time_up(visit.now) && !wait.is_over(visit.now));
    visit.minutes(3);
    assert!(matches!(visit.stem(), Stem::Turn(by) if by.get() < 0));
}

#[test]
fn moving_readings_are_drifting_after_the_time_is_up() {
    let mut visit = Visit::ready_to_turn(24.0);
    visit.does(&Event::Changed {
        what: Disturbance::Bulb,
        note: String::new(),
    });
    for superheat in [24.0, 21.0, 18.0, 15.0] {
        visit.minutes(4);
        visit.reads(superheat, 10.0);
    }
    let wait = waiting(&visit);
    assert!(wait.time_up(visit.now));
    assert_eq!(wait.verdict, Some(Course::Drifting));
}

#[test]
fn wait_survives_being_closed_and_reopened() {
    let mut visit = just_turned();
    let began = visit.now;
    for minutes in [0, 4, 8, 12, 60 * 24] {
        visit.now = began + minutes * MINUTE;
        if (1..60).contains(&minutes) {
            visit.reads(17.0, 10.0);
        }
        let (here, there) = (visit.job.stem(visit.now), visit.reopened().stem(visit.now));
        assert_eq!(here, there);
        let wait = there.wait.unwrap();
        assert_eq!((wait.since_ms, wait.until_ms), (began, began + 15 * MINUTE));
    }
}

#[test]
fn floodback_does_not_wait() {
    let mut visit = just_turned();
    visit.minutes(3);
    visit.reads(3.0, 10.0);
    let view = visit.job.stem(visit.now);
    assert_eq!(view.state, Stem::Stopped(Stop::BelowMinimum));
    assert!(!view.wait.unwrap().time_up(visit.now));
    // The way out is named: clockwise.
    let away = view.advice.unwrap().next.unwrap();
    assert!(away.get() > 0);
    visit.does(&turned(away.get()));
    assert!(matches!(
        visit.job.log.last().unwrap().what,
        job::What::Turn { early: false, .. }
    ));
    // Its answer is awaited: the low reading was before the turn.
    visit.minutes(1);
    waiting(&visit);
    // Opening on the way to liquid is another matter.
    let mut visit = just_turned();
    visit.minutes(3);
    visit.reads(3.0, 10.0);
    visit.does(&turned(-1));
    assert!(matches!(
        visit.job.log.last().unwrap().what,
        job::What::Turn { early: true, .. }
    ));
}

#[test]
fn swinging_needle_is_hunting_and_stops_the_turning() {
    let mut visit = just_turned();
    for _ in 0..4 {
        visit.minutes(4);
        visit.types(18.0, 10.0);
        visit.does(&entered(Field::SuctionLow, "122"));
        visit.does(&entered(Field::SuctionHigh, "138"));
        visit.does(&Event::KeptReading);
    }
    let view = visit.job.stem(visit.now);
    assert_eq!(view.state, Stem::Stopped(Stop::Hunting));
    assert_eq!(view.wait.unwrap().verdict, Some(Course::Hunting));
}

#[test]
fn readings_before_a_change_say_nothing_after_it() {
    for event in [
        weighed("4"),
        Event::Changed {
            what: Disturbance::Airflow,
            note: String::new(),
        },
    ] {
        let mut visit = Visit::ready_to_turn(20.0);
        visit.does(&event);
        visit.minutes(20);
        let wait = waiting(&visit);
        assert!(wait.time_up(visit.now));
        assert_eq!(wait.verdict, None);
    }
}

#[test]
fn no_wait_without_a_change() {
    let visit = Visit::ready_to_turn(20.0);
    assert_eq!(visit.job.stem(visit.now).wait, None);
}

/// The coach's guess of when it stands may be later than the clock's time, never sooner, and while
/// nothing new is read it does not run away from the one who waits.
#[test]
fn wait_is_ready_no_sooner_than_its_time_and_stays_put() {
    let mut visit = just_turned();
    let usual = waiting(&visit);
    assert!(usual.ready_ms >= usual.until_ms);
    visit.does(&noted(PlateField::Wait, "5"));
    for superheat in [20.0, 15.5] {
        visit.minutes(3);
        visit.reads(superheat, 10.0);
    }
    let moving = waiting(&visit);
    assert_eq!(moving.until_ms, moving.since_ms + 5 * MINUTE);
    assert!(
        moving.ready_ms > visit.now,
        "{:?}",
        visit.job.stem(visit.now)
    );
    assert_eq!(moving.ready_ms % MINUTE, 0);
    visit.minutes(1);
    assert_eq!(waiting(&visit).ready_ms, moving.ready_ms);
    // Nothing is foretold of a time that has gone by.
    visit.minutes(60);
    let late = waiting(&visit);
    assert_eq!(late.ready_ms, late.until_ms);
}

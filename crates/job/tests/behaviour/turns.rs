//! The stem ledger: what may be turned when, what is written down, what is asked of the outside.

use crate::visit::{MINUTE, Visit, as_found, checked, noted, overrode, turned, weighed};
use coach::{End, Quarters, Stop};
use diagnosis::Metering;
use job::{CheckState, Disturbance, Event, Item, PlateField, Refused, Request, Slip, Stem, What};

#[track_caller]
fn refuses(visit: &Visit, quarters: i32, expected: Refused) {
    assert_eq!(visit.is_refused(&turned(quarters)), expected);
    assert_eq!(visit.job.position(), Quarters::default());
}

#[test]
fn turn_is_refused_with_the_reason_of_each_wrong_state() {
    // Nothing named; then each device without a stem, though everything was looked at and read.
    refuses(&Visit::begun(), -2, Refused::NoStem);
    for metering in [
        Metering::FixedTxv,
        Metering::Electronic,
        Metering::FixedOrifice,
    ] {
        let mut visit = Visit::looked(metering);
        visit.does(&as_found());
        visit.reads_steady(20.0, 10.0);
        assert_eq!(visit.stem(), Stem::None(Some(metering)));
        refuses(&visit, -2, Refused::NoStem);
    }

    let mut visit = Visit::named(Metering::AdjustableTxv);
    refuses(&visit, -2, Refused::StemShut);
    visit.holds_gate();
    assert_eq!(visit.stem(), Stem::RecordAsFound);
    refuses(&visit, -2, Refused::AsFoundFirst);
    visit.reads(20.0, 10.0);
    refuses(&visit, -2, Refused::AsFoundFirst);

    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.does(&as_found());
    assert_eq!(visit.stem(), Stem::ReadFirst);
    refuses(&visit, -2, Refused::ReadingFirst);
    visit.reads(20.0, 10.0);
    visit.does(&Event::TookBack);
    assert_eq!(visit.stem(), Stem::ReadFirst);
    refuses(&visit, -2, Refused::ReadingFirst);

    let visit = Visit::ready_to_turn(20.0);
    for quarters in [0, 9, -9, i32::MAX, i32::MIN] {
        refuses(&visit, quarters, Refused::StepTooLarge);
    }

    let mut visit = Visit::ready_to_turn(20.0);
    visit.does(&Event::Finished);
    refuses(&visit, -2, Refused::Closed);
    visit.does(&Event::Reopened);
    visit.does(&turned(-2));
}

#[test]
fn largest_step_is_two_turns_either_way() {
    for quarters in [-8, -1, 1, 8] {
        let mut visit = Visit::ready_to_turn(20.0);
        visit.does(&turned(quarters));
        assert_eq!(visit.job.position().get(), quarters);
    }
}

#[test]
fn path_from_as_found_to_the_first_wait() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    assert_eq!(visit.stem(), Stem::RecordAsFound);
    assert_eq!(visit.does(&as_found()), []);
    assert_eq!(
        visit.job.as_found,
        Some((visit.now, "Mark on stem and body".to_owned()))
    );
    assert_eq!(visit.stem(), Stem::ReadFirst);
    visit.minutes(4);
    visit.reads(20.0, 10.0);
    // One reading does not show that it stands.
    assert_eq!(visit.stem(), Stem::Measure);
    visit.minutes(4);
    visit.reads(20.0, 10.0);
    visit.minutes(4);
    visit.reads(20.0, 10.0);
    // Within 10 °F of the band the first step is at most half a turn.
    assert_eq!(visit.stem(), Stem::Turn(Quarters::new(-2)));

    visit.minutes(1);
    let since_ms = visit.now;
    let until_ms = since_ms + 15 * MINUTE;
    assert_eq!(
        visit.does(&turned(-2)),
        [Request::RingAt { at_ms: until_ms }]
    );
    let last = visit.job.log.last().unwrap();
    assert_eq!(
        last.what,
        What::Turn {
            by: Quarters::new(-2),
            early: false
        }
    );
    assert_eq!((last.at_ms, last.struck), (since_ms, false));
    let view = visit.job.stem(visit.now);
    assert_eq!(view.position.get(), -2);
    let wait = view.wait.unwrap();
    assert_eq!((wait.since_ms, wait.until_ms), (since_ms, until_ms));
    assert_eq!(view.state, Stem::Waiting(wait));
    assert!(view.is_waiting());
    assert!(!wait.time_up(until_ms - 1) && wait.time_up(until_ms));
}

#[test]
fn ring_is_asked_for_at_the_stored_wait() {
    for (text, minutes) in [
        ("5", 5),
        ("20", 20),
        ("30", 30),
        ("", 15),
        ("3", 15),
        ("x", 15),
    ] {
        let mut visit = Visit::ready_to_turn(20.0);
        visit.does(&noted(PlateField::Wait, text));
        let at_ms = visit.now + minutes * MINUTE;
        assert_eq!(
            visit.does(&turned(-2)),
            [Request::RingAt { at_ms }],
            "{text:?}"
        );
    }
}

#[test]
fn ring_moves_when_the_wait_is_changed_while_it_runs() {
    let mut visit = Visit::ready_to_turn(20.0);
    visit.does(&turned(-2));
    let began = visit.now;
    visit.minutes(2);
    let asked = visit.does(&noted(PlateField::Wait, "20"));
    assert_eq!(
        asked[1..],
        [Request::RingAt {
            at_ms: began + 20 * MINUTE
        }]
    );
    visit.minutes(6);
    assert_eq!(
        visit.does(&noted(PlateField::Wait, "5"))[1..],
        [Request::Silence]
    );
}

#[test]
fn turn_before_the_wait_is_over_is_taken_and_written_down_as_early() {
    let early = |visit: &Visit| match visit.job.log.last().unwrap().what {
        What::Turn { early, .. } => early,
        ref other => panic!("{other:?}"),
    };
    let mut visit = Visit::ready_to_turn(24.0);
    visit.does(&turned(-2));
    assert!(!early(&visit));
    // Neither time nor readings.
    visit.minutes(5);
    visit.does(&turned(-1));
    assert!(early(&visit));
    // Time, and no readings.
    visit.minutes(40);
    visit.does(&turned(-1));
    assert!(early(&visit));
    // Readings, and no time.
    visit.minutes(6);
    visit.reads(18.0, 10.0);
    visit.minutes(6);
    visit.reads(18.0, 10.0);
    visit.does(&turned(-1));
    assert!(early(&visit));
    // Both.
    visit.waits_it_out(16.0);
    visit.does(&turned(-1));
    assert!(!early(&visit));
    assert_eq!(visit.job.position().get(), -6);
}

#[test]
fn position_is_the_sum_of_what_was_not_taken_back() {
    let mut visit = Visit::ready_to_turn(24.0);
    for (quarters, position) in [(-2, -2), (1, -1), (-8, -9), (8, -1), (-1, -2)] {
        visit.minutes(1);
        visit.does(&turned(quarters));
        assert_eq!(visit.job.position().get(), position);
        assert_eq!(visit.job.stem(visit.now).position.get(), position);
    }
    for position in [-1, -9, -1, -2, 0] {
        visit.does(&Event::TookBack);
        assert_eq!(visit.job.position().get(), position);
    }
    // Struck, not erased.
    let struck = visit.job.log.iter().filter(|line| line.struck).count();
    assert_eq!((visit.job.log.len(), struck), (8, 5));
}

#[test]
fn taking_back_restores_the_ring_of_the_wait_before() {
    let mut visit = Visit::ready_to_turn(24.0);
    let first = visit.now + 15 * MINUTE;
    visit.does(&turned(-2));
    visit.minutes(3);
    visit.does(&turned(-2));
    visit.minutes(1);
    visit.reads(20.0, 10.0);
    // A reading taken back does not end a wait.
    assert_eq!(visit.does(&Event::TookBack), []);
    assert_eq!(
        visit.does(&Event::TookBack),
        [Request::RingAt { at_ms: first }]
    );
    assert_eq!(visit.does(&Event::TookBack), [Request::Silence]);
}

#[test]
fn nothing_is_left_to_take_back() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    assert_eq!(
        visit.is_refused(&Event::TookBack),
        Refused::NothingToTakeBack
    );
    visit.reads(20.0, 10.0);
    visit.does(&Event::TookBack);
    assert_eq!(
        visit.is_refused(&Event::TookBack),
        Refused::NothingToTakeBack
    );
}

#[test]
fn reading_taken_back_can_be_mended_and_kept_again() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.types(20.0, 10.0);
    let draft = visit.job.draft.clone();
    visit.does(&Event::KeptReading);
    assert!(visit.job.draft.is_empty());
    visit.does(&Event::TookBack);
    assert_eq!(visit.job.draft, draft);
    assert_eq!(visit.job.readings().count(), 0);
    visit.does(&Event::KeptReading);
    assert_eq!(visit.job.readings().count(), 1);
}

#[test]
fn taking_back_a_reading_spares_the_one_being_typed() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.reads(20.0, 10.0);
    visit.minutes(4);
    visit.types(12.0, 10.0);
    let draft = visit.job.draft.clone();
    visit.does(&Event::TookBack);
    assert_eq!(visit.job.draft, draft);
    // The old one stands in the log, struck out.
    assert!(matches!(visit.job.log[0].what, What::Reading(_)) && visit.job.log[0].struck);
}

#[test]
fn stem_end_stops_the_turning_and_is_logged() {
    for (end, quarters) in [(End::Opening, -2), (End::Closing, 2)] {
        let mut visit = Visit::ready_to_turn(24.0);
        visit.does(&turned(quarters));
        assert_eq!(visit.does(&Event::MetEnd { end }), []);
        assert_eq!(visit.stem(), Stem::Stopped(Stop::StemEnd));
        assert_eq!(visit.job.log.last().unwrap().what, What::End(end));
    }
}

#[test]
fn superheat_that_answers_the_wrong_way_stops_the_job() {
    let mut visit = Visit::ready_to_turn(16.0);
    visit.does(&turned(-2));
    visit.waits_it_out(22.0);
    assert_eq!(visit.stem(), Stem::Stopped(Stop::WrongWay));
    // Its look-alike: the same step, the right way.
    let mut visit = Visit::ready_to_turn(16.0);
    visit.does(&turned(-2));
    visit.waits_it_out(14.0);
    assert!(matches!(visit.stem(), Stem::Turn(by) if by.get() < 0));
}

#[test]
fn superheat_that_does_not_answer_stops_the_job() {
    let mut visit = Visit::ready_to_turn(30.0);
    for _ in 0..2 {
        visit.does(&turned(-8));
        visit.waits_it_out(30.0);
    }
    let stem = visit.stem();
    let given_up = [Stop::NoResponse, Stop::NotReachable].map(Stem::Stopped);
    assert!(given_up.contains(&stem), "{stem:?}");
    // Its look-alike: it answers.
    let mut visit = Visit::ready_to_turn(30.0);
    visit.does(&turned(-8));
    visit.waits_it_out(24.0);
    assert!(matches!(visit.stem(), Stem::Turn(by) if by.get() < 0));
}

#[test]
fn target_reached_and_steady_stops_the_job() {
    let mut visit = Visit::ready_to_turn(15.0);
    visit.does(&turned(-2));
    visit.waits_it_out(10.0);
    assert_eq!(visit.stem(), Stem::Stopped(Stop::AtTarget));
    // Its look-alike: in band and not yet waited for.
    let mut visit = Visit::ready_to_turn(15.0);
    visit.does(&turned(-2));
    visit.minutes(4);
    visit.reads(10.0, 10.0);
    assert!(matches!(visit.stem(), Stem::Waiting(_)));
}

#[test]
fn head_over_its_limit_stops_the_job() {
    let mut visit = Visit::ready_to_turn(20.0);
    // The readings stand at 330 psig.
    visit.does(&noted(PlateField::HeadLimit, "320"));
    assert_eq!(visit.stem(), Stem::Stopped(Stop::HighHead));
    visit.does(&noted(PlateField::HeadLimit, "340"));
    assert!(matches!(visit.stem(), Stem::Turn(_)));
}

#[test]
fn every_change_beside_the_stem_starts_a_wait_and_a_ring() {
    for what in Disturbance::ALL {
        let mut visit = Visit::ready_to_turn(20.0);
        let at_ms = visit.now + 15 * MINUTE;
        let changed = Event::Changed {
            what,
            note: "Done now".to_owned(),
        };
        assert_eq!(visit.does(&changed), [Request::RingAt { at_ms }]);
        assert!(matches!(visit.stem(), Stem::Waiting(wait) if wait.until_ms == at_ms));
    }
    let mut visit = Visit::ready_to_turn(20.0);
    let at_ms = visit.now + 15 * MINUTE;
    assert_eq!(visit.does(&weighed("8")), [Request::RingAt { at_ms }]);
    assert!(matches!(visit.stem(), Stem::Waiting(wait) if wait.until_ms == at_ms));
}

#[test]
fn closed_job_takes_words_and_steps_and_nothing_else() {
    let mut visit = Visit::ready_to_turn(20.0);
    visit.does(&turned(-2));
    let at_ms = visit.now + 15 * MINUTE;
    visit.minutes(1);
    assert_eq!(visit.does(&Event::Finished), [Request::Silence]);
    assert_eq!(visit.job.finished_ms, Some(visit.now));
    for event in [
        Event::Finished,
        Event::KeptReading,
        Event::TookBack,
        Event::ClearedReading,
        as_found(),
        weighed("8"),
        noted(PlateField::Tons, "4"),
        checked(Item::Ice, CheckState::Done),
        Event::MetEnd { end: End::Opening },
    ] {
        assert_eq!(visit.is_refused(&event), Refused::Closed);
    }
    visit.does(&Event::Wrote {
        name: job::Name::Remark,
        text: "Left the tag on".to_owned(),
    });
    visit.does(&Event::Went {
        screen: job::Screen::Proof,
    });
    // The wait was still running.
    assert_eq!(visit.does(&Event::Reopened), [Request::RingAt { at_ms }]);
    assert_eq!(visit.job.finished_ms, None);
}

/// A note, a reason and a weight are typed before their button is tapped: a phone that dies in
/// between loses none of them.
#[test]
fn words_that_wait_for_their_tap_are_kept_until_it() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    for (slip, text, tap) in [
        (Slip::AsFound, "Paint mark, north side", as_found()),
        (
            Slip::OverrideReason,
            "Hatch jammed",
            overrode("Hatch jammed"),
        ),
        (Slip::Weight, "4", weighed("4")),
    ] {
        let text = text.to_owned();
        visit.does(&Event::Jotted {
            slip,
            text: text.clone(),
        });
        assert_eq!(visit.reopened().slip(slip), text);
        visit.does(&tap);
        assert_eq!(visit.job.slip(slip), "");
    }
    assert_eq!(
        visit.job.as_found.as_ref().unwrap().1,
        "Mark on stem and body"
    );
}

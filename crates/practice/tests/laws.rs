//! What holds for every case and every order of actions.

use diagnosis::Cause;
use practice::{
    Action, Attempt, Case, Filter, Place, Session, Spot, Way, debrief, good_technician,
};
use proptest::prelude::*;
use std::hash::{DefaultHasher, Hash, Hasher};

fn any_action() -> impl Strategy<Value = Action> {
    let place = prop_oneof![Just(Place::Bulb), Just(Place::ServiceValve)];
    prop_oneof![
        6 => proptest::sample::select(Action::samples()).prop_filter("ends it", |it| *it != Action::Leave),
        2 => proptest::sample::select(Spot::ALL.to_vec()).prop_map(|spot| Action::Look { spot }),
        4 => (-12..12).prop_map(|quarters| Action::TurnStem { quarters }),
        3 => (-1.0..70.0).prop_map(|ounces| Action::AddCharge { ounces }),
        2 => (-1.0..70.0).prop_map(|ounces| Action::TakeCharge { ounces }),
        3 => (0_u32..1200).prop_map(|seconds| Action::Wait { seconds }),
        1 => (place, any::<bool>()).prop_map(|(place, wrapped)| Action::StrapProbes { place, wrapped }),
        1 => Just(Action::AddCharge { ounces: f64::NAN }),
    ]
}

/// Of everything in a session, hidden or not, to the last bit.
fn digest(session: &Session) -> u64 {
    let mut hasher = DefaultHasher::new();
    format!("{session:?}").hash(&mut hasher);
    hasher.finish()
}

fn drawn(seed: u64) -> Session {
    Session::begin(Case::draw(seed, &Filter::default()).expect("a case for every number"))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Nothing panics, a refusal changes nothing, money and time never fall, and the attempt, through
    /// its file, gives the same session in every number.
    #[test]
    fn any_order_of_actions_is_lived_through_and_replays(
        seed in 0_u64..500,
        actions in proptest::collection::vec((any_action(), 0_u32..400), 1..14),
    ) {
        let mut session = drawn(seed);
        session.apply(Action::ConnectGauges { place: Place::ServiceValve }).expect("at first");
        for (action, pause) in actions {
            session.pass(pause);
            let (was, money) = (digest(&session), session.money());
            let at_s = session.at_s();
            if session.apply(action).is_err() {
                prop_assert_eq!(&was, &digest(&session));
            }
            prop_assert!(session.at_s() >= at_s && session.money() >= money);
            prop_assert!(session.money().is_finite());
            let harm = session.view();
            prop_assert!(harm.shown.iter().all(|(_, value)| value.is_finite()));
        }
        let file = serde_json::to_string(&session.attempt()).expect("plain");
        let again: Attempt = serde_json::from_str(&file).expect("as written");
        let replayed = Session::replay(&again).expect("as it was");
        prop_assert_eq!(digest(&session), digest(&replayed));
    }

    /// Time passes the same whatever pieces it comes in: 1x, 10x, 60x, or all at once.
    #[test]
    fn time_passes_the_same_in_any_pieces(
        seed in 0_u64..500,
        pieces in proptest::collection::vec(1_u32..200, 1..12),
    ) {
        let (mut one, mut other) = (drawn(seed), drawn(seed));
        one.pass(pieces.iter().sum());
        for piece in pieces {
            other.pass(piece);
        }
        prop_assert_eq!(digest(&one), digest(&other));
    }
}

/// What a screen gets, and what is kept as a file, before the debrief: no cause, no way, no size.
#[test]
fn nothing_hidden_is_shown_before_the_debrief() {
    for seed in 0..60 {
        let mut session = drawn(seed);
        let actions = Action::samples();
        for action in actions.into_iter().filter(|it| *it != Action::Leave) {
            // Some do not fit this device.
            let _refused = session.apply(action);
            let shown = serde_json::to_string(&session.view()).expect("plain");
            let kept = serde_json::to_string(&session.attempt()).expect("plain");
            for text in [shown, kept] {
                for hidden in Way::ALL.iter().map(|way| way.key()) {
                    assert!(!text.contains(&format!("{hidden}\"")), "{seed}: {hidden}");
                }
                for cause in Cause::ALL {
                    assert!(
                        !text.contains(&format!("\"{}\"", cause.key())),
                        "{seed}: {}",
                        cause.key()
                    );
                    assert!(
                        !text.contains(cause.words().name),
                        "{seed}: {}",
                        cause.key()
                    );
                }
            }
        }
        assert_eq!(debrief(&session), None, "it is not over");
        assert_eq!(session.is_found(), None);
    }
}

/// The screen does not even depend on what it must not tell: another trouble that nobody has looked at
/// or measured gives the same screen.
#[test]
fn before_anything_is_measured_two_cases_of_one_plate_look_the_same() {
    let text = include_str!("../lessons/02-read-subcooling.json");
    let view = |text: &str| {
        let lesson = practice::read_lesson("own", text).expect("a lesson");
        let session = Session::begin(Case::of_lesson(&lesson).expect("a case"));
        serde_json::to_string(&session.view()).expect("plain")
    };
    let other = text
        .replace("charge-short", "worn-compressor")
        .replace("0.16", "0.3");
    assert_ne!(text, other);
    assert_eq!(view(text), view(&other));
}

/// The scripted good technician is a session like any other.
#[test]
fn a_whole_visit_replays() {
    for seed in [3, 7, 10, 55, 103] {
        let mut session = drawn(seed);
        good_technician(&mut session);
        let again = Session::replay(&session.attempt()).expect("as it was");
        assert_eq!(debrief(&session), debrief(&again));
        assert!(debrief(&session).is_some());
    }
}

/// A fixture of every version that was ever written stays and must still open.
#[test]
fn a_kept_attempt_of_every_version_still_opens() {
    let kept: Attempt = serde_json::from_str(include_str!("saved/attempt-1.json")).expect("opens");
    let session = Session::replay(&kept).expect("replays");
    assert_eq!(session.attempt(), kept);
    assert_eq!(session.is_found(), Some(true));
    let bad = |from: &str, to: &str| {
        let text = include_str!("saved/attempt-1.json").replacen(from, to, 1);
        let attempt: Attempt = serde_json::from_str(&text).expect("still plain");
        Session::replay(&attempt).expect_err(to).to_string()
    };
    assert!(bad("\"version\": 1", "\"version\": 9").contains("version 9"));
    assert!(bad("1860", "400").starts_with("Step 5 begins before"));
    assert!(bad("-2", "-20").starts_with("Step 4: -20 quarter turns"));
    assert!(bad("bench=3", "bank=3").contains("begin with bench="));
}

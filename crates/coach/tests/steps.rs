//! How far to turn, and what is learned from it.

mod plant;
mod visit;

use coach::{End, Plan, Quarters, Why};
use visit::{INTERVALS, Visit, f, plan, said};

#[test]
fn the_first_step_is_small_and_none_is_over_two_turns() {
    for (start, first) in [(20.0, -2), (21.5, -2), (24.0, -4), (40.0, -4), (6.5, 2)] {
        let mut visit = Visit::new(start, 2.0, 1.0 / 3.0);
        visit.plant.scatter = 0.1;
        let advice = visit.settle();
        assert_eq!(
            advice.next,
            Some(Quarters::new(first)),
            "{start}: {advice:?}"
        );
        assert!(
            said(&advice, |why| matches!(
                why,
                Why::Capped { first: true, .. }
            )) || first == 2
        );
    }
    let mut visit = Visit::new(38.0, 3.0, 1.0 / 3.0);
    for step in 0..4 {
        let by = visit.settle().next.unwrap().get();
        assert!(
            (if step == 0 { -4 } else { -8 }..0).contains(&by),
            "step {step}: {by}"
        );
        visit.turn(by);
    }
}

#[test]
fn the_gain_is_learned_from_the_first_response_and_shown() {
    for every in INTERVALS {
        let mut visit = Visit::new(30.0, 3.5, every);
        let before = visit.settle();
        visit.turn(-4);
        let after = visit.settle();
        assert!(!before.gain_learned && after.gain_learned);
        assert!(after.gain.half_width < before.gain.half_width);
        assert!(
            (after.gain.value.f() - 3.5).abs() < after.gain.half_width.f(),
            "{after:?}"
        );
        assert!(said(&after, |why| matches!(why, Why::Responded { .. })));
    }
}

#[test]
fn what_was_expected_came_within_its_band() {
    let mut visit = Visit::new(30.0, 2.5, 1.0 / 3.0);
    let expected = visit.settle().expected.unwrap();
    visit.turn(-4);
    let came = visit.settle().settled.unwrap().value;
    assert!(
        (came - expected.value).abs() < expected.half_width,
        "{expected:?} {came:?}"
    );
}

#[test]
fn a_known_end_cuts_the_step_to_what_is_left() {
    let mut visit = Visit::new(30.0, 2.0, 1.0);
    visit.plan.opening_end = Some(Quarters::new(-3));
    let advice = visit.settle();
    assert_eq!(advice.next, Some(Quarters::new(-3)));
    assert!(said(&advice, |why| matches!(
        why,
        Why::CutForEnd {
            end: End::Opening,
            ..
        }
    )));
}

#[test]
fn opening_is_cut_where_it_might_dip_under_the_minimum() {
    let mut visit = Visit::new(11.0, 2.0, 1.0);
    visit.plan = Plan {
        low: f(6.0),
        high: f(8.0),
        minimum: f(5.0),
        ..plan()
    };
    visit.plant.scatter = 0.1;
    let advice = visit.settle();
    // Half a turn is allowed as a first step. Its prediction 9.9, less the dip of 1.2 x 1.1 and
    // 1.64 sd of a gain not yet known, may be as low as 5.5 or so; less still with the tools.
    assert!(advice.next.is_some_and(|by| by.get() < 0), "{advice:?}");
    visit.plan.minimum = f(8.5);
    visit.plan = Plan {
        low: f(8.6),
        high: f(10.0),
        ..visit.plan
    };
    let advice = visit.advice();
    assert_eq!((advice.stop, advice.next), (None, None), "{advice:?}");
    assert!(said(&advice, |why| matches!(
        why,
        Why::CutForMinimum { .. }
    )));
    assert!(said(&advice, |why| *why == Why::NothingPasses));
}

#[test]
fn closing_does_not_overshoot_the_band() {
    let mut visit = Visit::new(6.5, 2.0, 1.0);
    visit.plan = Plan {
        low: f(8.0),
        high: f(9.0),
        ..plan()
    };
    visit.plant.scatter = 0.1;
    let advice = visit.settle();
    let by = advice.next.unwrap();
    // 6.5 + (2.2 + 1.645 x 1.1) x 0.5 = 8.5 is in; three quarters would be 9.5.
    assert!(by.get() == 2, "{advice:?}");
    visit.plan = Plan {
        low: f(7.2),
        high: f(7.6),
        ..plan()
    };
    let advice = visit.advice();
    assert!(advice.next == Some(Quarters::new(1)), "{advice:?}");
    assert!(said(&advice, |why| matches!(
        why,
        Why::CutForBandTop { .. }
    )));
}

//! Whatever the log holds, there is an answer, and it does not depend on the order of the lines.

mod plan;

use coach::{End, Entry, Minutes, Quarters, Stop, advise};
use plan::plan;
use proptest::prelude::*;
use quantity::{Temperature, TemperatureDifference as Difference, TemperatureUnit};

fn minutes() -> impl Strategy<Value = Minutes> {
    prop_oneof![
        8 => (0.0..60.0).prop_map(Minutes::new),
        2 => (0..20).prop_map(|whole| Minutes::new(f64::from(whole))),
        1 => prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(-1e300), Just(1e300)]
            .prop_map(Minutes::new),
    ]
}

fn degrees() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => -5.0..50.0,
        1 => prop_oneof![Just(f64::NAN), Just(f64::NEG_INFINITY), Just(1e9), Just(-299.0)],
    ]
}

fn entry() -> impl Strategy<Value = Entry> {
    let f = Difference::from_f;
    let pair = proptest::option::of((degrees(), degrees()).prop_map(move |(a, b)| (f(a), f(b))));
    let condensing = proptest::option::of(degrees().prop_map(|t| Temperature::from_f(3.0 * t)));
    prop_oneof![
        8 => (minutes(), degrees(), pair, condensing).prop_map(move |(at, superheat, swing, condensing)| {
            Entry::Reading { at, superheat: f(superheat), swing, condensing }
        }),
        3 => (minutes(), prop_oneof![-8..8, Just(i32::MAX), Just(i32::MIN)])
            .prop_map(|(at, by)| Entry::Turn { at, by: Quarters::new(by) }),
        1 => minutes().prop_map(|at| Entry::Disturbed { at }),
        1 => (minutes(), any::<bool>()).prop_map(|(at, opening)| Entry::StemEnd {
            at,
            end: if opening { End::Opening } else { End::Closing },
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..Default::default() })]

    #[test]
    fn there_is_always_an_answer_that_keeps_the_rules(
        log in proptest::collection::vec(entry(), 0..40),
        now in 0.0..70.0,
    ) {
        let advice = advise(&plan(), &log, Minutes::new(now));
        if let Some(by) = advice.next {
            prop_assert!(by.get() != 0 && by.get().abs() <= 8);
            prop_assert!(advice.expected.is_some() && advice.minutes_to_settle.is_some());
        }
        if let Some(stop) = advice.stop {
            prop_assert!(advice.next.is_none_or(|by| stop == Stop::BelowMinimum && by.get() > 0));
        }
        prop_assert!(advice.next.is_none() || !advice.path.is_empty());
        for point in &advice.path {
            prop_assert!(point.low.f().is_finite() && point.high.f().is_finite());
            prop_assert!(point.low <= point.middle && point.middle <= point.high);
        }
        if let Some(scored) = advice.scored {
            prop_assert!(scored.came_minutes >= 4.0 - 0.01 && scored.came.value.f().is_finite());
        }
        let numbers = [advice.settled, advice.expected, Some(advice.gain)];
        for estimate in numbers.into_iter().flatten() {
            prop_assert!(estimate.value.f().is_finite() && estimate.half_width.f() >= 0.0);
        }
        prop_assert!(!advice.why.is_empty());
        for why in &advice.why {
            for unit in [TemperatureUnit::Fahrenheit, TemperatureUnit::Celsius] {
                let words = why.says(unit);
                prop_assert!(!words.contains("NaN") && !words.contains("inf "), "{}", words);
            }
        }
    }

    #[test]
    fn order_and_the_future_do_not_matter(
        superheats in proptest::collection::vec(5.5..40.0, 2..20),
        turned in 1usize..19,
    ) {
        let mut log: Vec<Entry> = superheats
            .iter()
            .enumerate()
            .map(|(i, superheat)| Entry::Reading {
                at: Minutes::new(i as f64),
                superheat: Difference::from_f(*superheat),
                swing: None,
                condensing: None,
            })
            .collect();
        log.push(Entry::Turn { at: Minutes::new(turned as f64 + 0.5), by: Quarters::new(-1) });
        let now = Minutes::new(turned as f64 + 0.75);
        let straight = advise(&plan(), &log, now);
        log.reverse();
        prop_assert_eq!(&advise(&plan(), &log, now), &straight);
        log.retain(|entry| entry.at() <= now);
        prop_assert_eq!(&advise(&plan(), &log, now), &straight);
        log.extend(log.clone().into_iter().filter(|entry| matches!(entry, Entry::Reading { .. })));
        prop_assert_eq!(&advise(&plan(), &log, now), &straight);
    }
}

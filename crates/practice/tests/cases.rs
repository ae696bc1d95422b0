//! Addresses, draws, and lessons.

use diagnosis::{Cause, Metering};
use practice::{
    Case, CaseError, Difficulty, Filter, REFRIGERANTS, Session, TONS, debrief, good_technician,
    lesson_files, lessons, read_lesson,
};
use std::collections::BTreeSet;

#[test]
fn an_address_makes_the_same_case_again() {
    let filters = [
        Filter::default(),
        Filter {
            tons: Some(7.5),
            metering: Some(Metering::FixedOrifice),
            refrigerant: Some(REFRIGERANTS[2]),
            difficulty: Difficulty::Alone,
            lesson: None,
        },
    ];
    for filter in filters {
        for seed in [0, 9, 41, u64::MAX] {
            let case = Case::draw(seed, &filter).expect("drawn");
            let again = Case::parse(&format!("#{}", case.address())).expect("parsed");
            assert_eq!(format!("{case:?}"), format!("{again:?}"));
        }
    }
    let all = "bench=12;tons=7.5;metering=orifice;refrigerant=R-32;difficulty=alone";
    assert_eq!(Case::parse(all).expect("parsed").address(), all);
}

#[test]
fn a_bad_address_is_told_what_can_stand_there() {
    let says = |address: &str| match Case::parse(address) {
        Ok(case) => panic!("{address} is {}", case.address()),
        Err(error) => error.to_string(),
    };
    for (address, part) in [
        ("job=12", "begin with bench="),
        ("bench=", "whole number"),
        ("bench=-3", "whole number"),
        ("bench=1;tons=4", "2, 3, 5, 7.5"),
        ("bench=1;tons", "no part"),
        ("bench=1;tons=2;tons=2", "comes twice"),
        ("bench=1;metering=piston", "txv, txv-fixed, eev, orifice"),
        ("bench=1;refrigerant=R-407C", "R-22, R-410A, R-32, R-454B"),
        ("bench=1;difficulty=hard", "guided, sparing, alone"),
        ("bench=1;colour=red", "no part"),
        ("bench=1;lesson=none", "read-superheat"),
    ] {
        assert!(says(address).contains(part), "{address}: {}", says(address));
    }
    assert!(matches!(
        Case::parse("x"),
        Err(CaseError::NotAnAddress { .. })
    ));
}

/// Every system that can be picked, with every device, at every difficulty.
#[test]
fn every_pick_has_cases() {
    for tons in TONS {
        for refrigerant in REFRIGERANTS {
            for metering in Metering::ALL {
                for (place, difficulty) in Difficulty::ALL.into_iter().enumerate() {
                    let filter = Filter {
                        tons: Some(tons),
                        metering: Some(metering),
                        refrigerant: Some(refrigerant),
                        difficulty,
                        lesson: None,
                    };
                    for seed in 0..3 {
                        let seed = seed * 3 + place as u64;
                        let case = Case::draw(seed, &filter).unwrap_or_else(|error| {
                            panic!("{tons} {refrigerant:?} {metering:?} {seed}: {error}")
                        });
                        assert_eq!(case.nameplate.nominal_tons, tons);
                        assert_eq!(case.nameplate.refrigerant, refrigerant);
                        assert_eq!(case.nameplate.metering, metering);
                    }
                }
            }
        }
    }
}

/// All sixteen causes and the five pairs that mislead come up.
#[test]
fn every_cause_and_every_pair_is_drawn() {
    let alone = Filter {
        difficulty: Difficulty::Alone,
        ..Filter::default()
    };
    let (mut causes, mut sets) = (BTreeSet::new(), BTreeSet::new());
    for seed in 0..150 {
        let case = Case::draw(seed, &alone).expect("drawn");
        let mut session = Session::begin(case);
        session.apply(practice::Action::Leave).expect("at any time");
        let truth = debrief(&session).expect("over");
        causes.extend(truth.troubles.iter().map(|it| it.cause));
        sets.insert(format!("{:?}", truth.right));
    }
    assert_eq!(causes.len(), Cause::ALL.len(), "{causes:?}");
    for pair in [
        r#"[["valve-underfeeding"], ["hot-air-recirculation"]]"#,
        r#"[["low-airflow"], ["low-charge"]]"#,
        r#"[["bulb-contact"], ["valve-underfeeding"]]"#,
        r#"[["liquid-restriction"], ["valve-overfeeding"]]"#,
        r#"[["high-load", "no-fault"]]"#,
    ] {
        assert!(sets.contains(pair), "{pair} is never drawn");
    }
}

#[test]
fn the_ten_lessons_are_in_order_and_can_be_solved() {
    let all = lessons();
    assert_eq!(all.len(), 10);
    assert_eq!(lesson_files().len(), 10);
    for (place, ((file, text), lesson)) in lesson_files().iter().zip(all).enumerate() {
        let read = read_lesson(file, text).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(&read, lesson);
        assert_eq!(lesson.number as usize, place + 1);
        assert!(file.ends_with(&format!("-{}.json", lesson.key)), "{file}");
        let case = Case::of_lesson(lesson).expect("a case");
        let again = Case::parse(&case.address()).expect("its address");
        assert_eq!(format!("{case:?}"), format!("{again:?}"));
        let mut session = Session::begin(case);
        good_technician(&mut session);
        let truth = debrief(&session).expect("over");
        println!(
            "{file}: {:?} in {} min",
            truth.path.called, truth.path.minutes
        );
        assert!(truth.path.found, "{file}: {:?}", truth.path.called);
        assert_eq!(truth.lesson_says.as_ref(), Some(&lesson.debrief));
    }
}

/// A trainer's slip: file, line, field, what to do.
#[test]
fn a_bad_lesson_is_told_where_and_what_to_do() {
    let (_, good) = lesson_files()[2];
    let line_of = |part: &str| {
        let place = good.lines().position(|line| line.contains(part));
        place.expect("it is there") + 1
    };
    for (from, to, field, remedy) in [
        ("\"idea\":", "\"ideas\":", "ideas", "spelt exactly"),
        (
            "\"outdoor_f\": 88",
            "\"outdoor_f\": 130",
            "outdoor_f",
            "in that range",
        ),
        (
            "\"outdoor_f\": 88",
            "\"outdoor_f\": \"88\"",
            "outdoor_f",
            "Compare",
        ),
        ("\"stem-in\"", "\"stem-up\"", "way", "spelt exactly"),
        (
            "\"txv\"",
            "\"orifice\"",
            "troubles",
            "another metering device",
        ),
        (
            "\"nominal_tons\": 3",
            "\"nominal_tons\": 4",
            "nominal_tons",
            "2, 3, 5 or 7.5",
        ),
        ("\"version\": 1", "\"version\": 2", "version", "Write 1"),
        ("\"wait-for-it\"", "\"Wait for it\"", "key", "Small letters"),
    ] {
        assert!(good.contains(from), "{from}");
        let bad = good.replacen(from, to, 1);
        let error = read_lesson("mine.json", &bad).expect_err(to);
        let line = match field {
            "troubles" => line_of("\"troubles\""),
            _ => line_of(from),
        };
        assert_eq!((error.line, error.field.as_str()), (line, field), "{error}");
        assert!(error.remedy.contains(remedy), "{error}");
        assert!(
            error
                .to_string()
                .starts_with(&format!("mine.json, line {line}, {field}: "))
        );
    }
    let missing = good.replacen("  \"task\"", "  \"tusk\"", 1);
    assert_eq!(
        read_lesson("m", &missing).expect_err("unknown").field,
        "tusk"
    );
    let broken = read_lesson("m", &good[..200]).expect_err("cut off");
    assert!(broken.remedy.contains("no JSON"), "{broken}");
    let size = good.replacen("\"size\": 20", "\"size\": 90", 1);
    let error = read_lesson("m", &size).expect_err("too large");
    assert!(error.problem.contains("outside"), "{error}");
}

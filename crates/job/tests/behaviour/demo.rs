//! The demo job opens, is marked as a demo, and stands where a technician would go on.

use crate::record::written;
use crate::visit::entered;
use diagnosis::Field;
use job::{Event, Head, Job, Name, SavedEvent, Stem, demo, replay};
use std::collections::BTreeSet;

pub const NOW: i64 = 1_795_600_000_000;

pub fn opened() -> (Job, Vec<SavedEvent>) {
    let events = demo(NOW);
    let head = Head {
        demo: true,
        ..Job::begin("demo", events[0].at_ms, true).head()
    };
    let texts: Vec<String> = events
        .iter()
        .map(|event| serde_json::to_string(event).unwrap())
        .collect();
    let job = replay(&head, texts.iter().map(String::as_str)).unwrap();
    (job, events)
}

#[test]
fn demo_job_opens_and_proposes_the_next_turn() {
    let (job, events) = opened();
    assert!(job.demo && job.head().demo);
    assert_eq!(job.events as usize, events.len());
    assert_eq!(job.position().get(), -8);
    assert_eq!(job.readings().count(), 9);
    assert!(matches!(job.stem(NOW).state, Stem::Turn(by) if by.get() < 0));
}

#[test]
fn demo_job_ends_now_and_goes_forward() {
    let events = demo(NOW);
    assert!(events.is_sorted_by_key(|saved| saved.at_ms));
    assert!(events.iter().all(|saved| saved.at_ms <= NOW));
    let last = events.last().unwrap().at_ms;
    assert!(NOW - last < 10 * 60_000, "{} ms ago", NOW - last);
}

#[test]
fn demo_record_is_marked_as_invented() {
    let (job, _) = opened();
    assert!(
        written(&job, NOW)
            .starts_with("Quay chandlery, Saltgrass Landing, Roof unit, 4 ton (demo, invented)")
    );
}

/// The strip looks ahead from now for a turn that is proposed, and from the turn once it is made; what
/// is read later does not change what was foretold.
#[test]
fn demo_trend_looks_ahead() {
    let (job, _) = opened();
    let stem = job.stem(NOW);
    let ahead = job.trend_ahead(&stem, NOW).unwrap();
    let Stem::Turn(by) = stem.state else {
        panic!("{:?}", stem.state);
    };
    assert_eq!(ahead.proposed, Some(by));
    let first = ahead.expected.first().unwrap().at_ms;
    assert!((NOW..NOW + 2 * 60_000).contains(&first));
    for point in &ahead.expected {
        assert!(point.low < point.middle && point.middle < point.high);
    }
    let settles = stem.advice.unwrap().expected.unwrap().value.f();
    let end = ahead.expected.last().unwrap();
    assert!(end.low.f() < settles && settles < end.high.f());

    let turned = Event::Turned { quarters: by.get() };
    let (job, _) = job.apply(&turned, NOW).unwrap();
    let path = |job: &Job, now| job.trend_ahead(&job.stem(now), now).unwrap();
    let made = path(&job, NOW);
    assert_eq!(made.proposed, None);
    assert_eq!(made.expected.len(), ahead.expected.len());
    let later = NOW + 9 * 60_000;
    let read = [
        entered(Field::SuctionPressure, "70"),
        entered(Field::SuctionLine, "54"),
        Event::KeptReading,
    ]
    .iter()
    .fold(job, |job, event| job.apply(event, later).unwrap().0);
    let read = path(&read, later);
    assert_eq!(read.points.len(), ahead.points.len() + 1);
    assert_eq!(read.expected, made.expected);
}

/// Every word with a capital that does not open a sentence of ours: the names of the invented
/// harbour village and nothing else.
#[test]
fn demo_job_names_only_the_invented_village() {
    let (job, _) = opened();
    let allowed: BTreeSet<&str> =
        ["Saltgrass", "Landing", "Quay", "Roof", "A.", "Tern", "Not"].into();
    for name in Name::ALL {
        let Some(text) = job.names.get(name) else {
            continue;
        };
        for word in text.split([' ', ',', ';']) {
            let capital = word.starts_with(|c: char| c.is_uppercase());
            assert!(!capital || allowed.contains(word), "{word:?} in {text:?}");
        }
    }
    assert_eq!(job.names[&Name::Technician], "A. Tern");
    assert_eq!(job.names[&Name::Place], "Quay chandlery, Saltgrass Landing");
}

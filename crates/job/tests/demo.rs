//! The demo job opens, is marked as a demo, and stands where a technician would go on.

use job::{Head, Job, Stem, demo, replay};

fn opened() -> (Job, i64) {
    let now = 1_795_600_000_000;
    let events = demo(now);
    let head = Head {
        demo: true,
        ..Job::begin("demo", events[0].at_ms, true).head()
    };
    let texts: Vec<String> = events
        .iter()
        .map(|event| serde_json::to_string(event).unwrap())
        .collect();
    (
        replay(&head, texts.iter().map(String::as_str)).unwrap(),
        now,
    )
}

#[test]
fn demo_job_opens_and_proposes_the_next_turn() {
    let (job, now) = opened();
    assert!(job.demo);
    assert_eq!(job.position().get(), -8);
    let view = job.stem(now);
    assert!(matches!(view.state, Stem::Turn(by) if by.get() < 0));
}

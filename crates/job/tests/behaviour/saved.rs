//! The stored form: what was stored once opens for ever, and what cannot be opened says why.

use crate::golden::is_as_kept;
use crate::visit::Visit;
use diagnosis::Field;
use job::{
    Head, Job, Name, PlateField, Refused, SavedError, SavedEvent, VERSION, What, head_from_json,
    replay,
};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/saved")
}

fn text_of(name: &str) -> String {
    let path = folder().join(name);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn opened(name: &str) -> (Head, Job) {
    let text = text_of(name);
    let (head, entries) = text.split_once('\n').unwrap();
    let head = head_from_json(head).unwrap_or_else(|error| panic!("{name}: {}", error.says()));
    let job =
        replay(&head, entries.lines()).unwrap_or_else(|error| panic!("{name}: {}", error.says()));
    (head, job)
}

/// What was entered and done, and nothing that a better model may work out otherwise.
fn summary(job: &Job) -> String {
    let choices = &job.choices;
    let mut text = String::new();
    let mut say = |what: &str, was: String| writeln!(text, "{what}: {was}").unwrap();
    say("title", job.title());
    for name in Name::ALL {
        say(name.key(), job.names.get(name).cloned().unwrap_or_default());
    }
    say("refrigerant", choices.refrigerant.unwrap().name().into());
    say("metering", choices.metering.unwrap().key().into());
    say("point", choices.point.key().into());
    say("target point", choices.target_point.key().into());
    say(
        "gauge at service valve",
        choices.gauge_at_service_valve.to_string(),
    );
    say("gauge", choices.gauge.key().into());
    say("face", choices.face.key().into());
    say("plate", choices.plate.key().into());
    say("superheat by", choices.superheat_pedigree.key().into());
    say("subcooling by", choices.subcooling_pedigree.key().into());
    for (field, typed) in &job.plate {
        let number = job.number(*field);
        let number = number.map_or("not usable".to_owned(), |number| format!("{number:.3}"));
        say(field.row().key, format!("{:?} = {number}", typed.text));
    }
    for (item, check) in &job.checks {
        say(
            item.row().key,
            format!("{} {:?}", check.state.key(), check.note),
        );
    }
    for opened in &job.overrides {
        let covers: Vec<&str> = opened.covers.iter().map(|item| item.row().key).collect();
        say(
            "overridden",
            format!("{} {:?} {}", opened.at_ms, opened.reason, covers.join(" ")),
        );
    }
    say("as found", format!("{:?}", job.as_found));
    for line in &job.log {
        let what = match &line.what {
            What::Reading(draft) => {
                let numbers = draft.reading();
                let numbers = numbers
                    .entries()
                    .map(|(field, n)| format!(" {}={n:.3}", field.row().key));
                format!(
                    "reading{} hand={:?}",
                    numbers.collect::<String>(),
                    draft.bulb_test
                )
            }
            What::Turn { by, .. } => format!("turn {}", by.get()),
            What::End(end) => format!("end {end:?}"),
            What::Charge { ounces } => format!("charge {ounces:.3}"),
            What::Change { what, note } => format!("change {} {note:?}", what.key()),
        };
        let struck = if line.struck { "struck " } else { "" };
        say(&line.at_ms.to_string(), format!("{struck}{what}"));
    }
    for (slip, text) in &job.slips {
        say("waits for its tap", format!("{} {text}", slip.key()));
    }
    for (field, typed) in &job.draft.typed {
        say("still typed", format!("{} {}", field.row().key, typed.text));
    }
    say("position", job.position().get().to_string());
    say("charge", format!("{:.3}", job.charge_ounces()));
    say("finished", format!("{:?}", job.finished_ms));
    say("screen", job.screen.key().into());
    text
}

const FIXTURES: [&str; 3] = ["v1-bakery", "v1-museum", "v1-every-word"];

/// These files are never changed: they stand for jobs on somebody's phone. Their summaries were
/// read beside them by a person.
#[test]
fn jobs_stored_by_version_1_open_for_ever() {
    for name in FIXTURES {
        let (head, job) = opened(&format!("{name}.jsonl"));
        assert_eq!(head.version, 1);
        assert_eq!(
            job.head(),
            Head {
                version: VERSION,
                ..head
            },
            "{name}"
        );
        is_as_kept(&summary(&job), &folder().join(format!("{name}.txt")));
    }
}

#[test]
fn every_stored_file_is_looked_at() {
    let files = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().file_name());
    let found: BTreeSet<String> = files.map(|name| name.into_string().unwrap()).collect();
    let known = FIXTURES
        .iter()
        .flat_map(|name| [format!("{name}.jsonl"), format!("{name}.txt")]);
    assert_eq!(found, known.collect());
}

/// Each fixture's entries come out of the writer as they went in.
#[test]
fn what_is_written_is_what_was_stored() {
    for name in FIXTURES {
        for line in text_of(&format!("{name}.jsonl")).lines().skip(1) {
            let event: job::SavedEvent = serde_json::from_str(line).unwrap();
            let again = serde_json::to_value(&event).unwrap();
            assert_eq!(again, serde_json::from_str::<Value>(line).unwrap());
        }
    }
}

/// A word of the stored form that no fixture holds could be renamed without a test failing.
#[test]
fn fixtures_hold_every_word_of_the_stored_form() {
    let text = text_of("v1-every-word.jsonl");
    let has = |word: &str| assert!(text.contains(&format!("\"{word}\"")), "{word}");
    Name::ALL.iter().for_each(|of| has(of.key()));
    Field::ALL.iter().for_each(|of| has(of.row().key));
    PlateField::ALL.iter().for_each(|of| has(of.row().key));
    job::Item::ALL.iter().for_each(|of| has(of.row().key));
    job::CheckState::ALL.iter().for_each(|of| has(of.key()));
    job::PlateState::ALL.iter().for_each(|of| has(of.key()));
    job::GaugeFace::ALL.iter().for_each(|of| has(of.key()));
    job::Disturbance::ALL.iter().for_each(|of| has(of.key()));
    job::Screen::ALL.iter().for_each(|of| has(of.key()));
    job::Slip::ALL.iter().for_each(|of| has(of.key()));
    diagnosis::Metering::ALL.iter().for_each(|of| has(of.key()));
    diagnosis::Pedigree::ALL.iter().for_each(|of| has(of.key()));
    diagnosis::MeasuringPoint::ALL
        .iter()
        .for_each(|of| has(of.key()));
    quantity::GaugeReference::ALL
        .iter()
        .for_each(|of| has(of.key()));
    refrigerant::Refrigerant::ALL
        .iter()
        .for_each(|of| has(of.name()));
    for word in [
        "rises", "nothing", "opening", "closing", "psi-f", "kpa-f", "bar-f", "psi-c", "kpa-c",
        "bar-c",
    ] {
        has(word);
    }
}

/// An entry that no reader of this form can take, and what is said of it.
#[track_caller]
fn unreadable(entry: &str, why: &str) {
    let visit = Visit::ready_to_turn(20.0);
    let mut stored = visit.stored();
    let seq = stored.len();
    stored.push(entry.to_owned());
    match replay(&visit.job.head(), stored.iter().map(String::as_str)) {
        Err(error @ SavedError::Unreadable { .. }) => {
            let says = error.says();
            assert!(
                says.starts_with(&format!("Entry {seq} of this job cannot be read: ")),
                "{says}"
            );
            assert!(says.contains(why), "{says}");
            assert!(says.ends_with("Nothing was changed."), "{says}");
        }
        other => panic!("{entry}: {other:?}"),
    }
}

#[test]
fn corrupt_entry_names_its_number() {
    unreadable("", "EOF");
    unreadable("{", "EOF");
    unreadable("[]", "invalid");
    unreadable(r#"{"event":"kept-reading"}"#, "at_ms");
    unreadable(r#"{"at_ms":1}"#, "event");
    unreadable(r#"{"at_ms":"noon","event":"kept-reading"}"#, "noon");
    unreadable(r#"{"at_ms":1,"event":"turned"}"#, "quarters");
    unreadable(r#"{"at_ms":1,"event":"turned","quarters":0.5}"#, "0.5");
    unreadable(
        r#"{"at_ms":1,"event":"turned","quarters":4294967296}"#,
        "4294967296",
    );
    unreadable(r#"{"at_ms":1,"event":"flew"}"#, "flew");
    unreadable(
        r#"{"at_ms":1,"event":"chose-refrigerant","refrigerant":"R-9"}"#,
        "R-9",
    );
    unreadable(
        r#"{"at_ms":1,"event":"entered","field":"mood","typed":{"text":"1","units":"psi-f"}}"#,
        "mood",
    );
    unreadable(
        r#"{"at_ms":1,"event":"entered","field":"amps_percent","typed":{"text":"1","units":"inch"}}"#,
        "inch",
    );
    unreadable(
        r#"{"at_ms":1,"event":"took-back"}{"at_ms":2,"event":"took-back"}"#,
        "trailing",
    );
}

/// Rules may become stricter; what was written down under the old ones still happened.
#[test]
fn stored_event_counts_though_it_would_be_refused_today() {
    let visit = Visit::looked(diagnosis::Metering::AdjustableTxv);
    let turn = r#"{"at_ms":1790000000000,"event":"turned","quarters":-2}"#;
    let event: SavedEvent = serde_json::from_str(turn).unwrap();
    assert_eq!(
        visit.job.apply(&event.event, event.at_ms).unwrap_err(),
        Refused::AsFoundFirst
    );
    let mut stored = visit.stored();
    stored.push(turn.to_owned());
    let job = replay(&visit.job.head(), stored.iter().map(String::as_str)).unwrap();
    assert_eq!(job.position().get(), -2);
    assert_eq!(job.events, visit.job.events + 1);
}

#[test]
fn missing_entries_at_the_end_are_said() {
    let visit = Visit::looked(diagnosis::Metering::AdjustableTxv);
    let stored = visit.stored();
    let short = &stored[..stored.len() - 2];
    let error = replay(&visit.job.head(), short.iter().map(String::as_str)).unwrap_err();
    let (found, expected) = (visit.job.events - 2, visit.job.events);
    assert_eq!(error, SavedError::Incomplete { found, expected });
    assert!(
        error.says().contains(&format!("{found} of {expected}")),
        "{}",
        error.says()
    );
}

#[test]
fn newer_version_is_left_alone() {
    let head = Visit::ready_to_turn(20.0).job.head();
    for version in [VERSION + 1, u32::MAX] {
        let newer = Head {
            version,
            ..head.clone()
        };
        let text = serde_json::to_string(&newer).unwrap();
        assert_eq!(head_from_json(&text), Err(SavedError::Newer { version }));
        assert_eq!(replay(&newer, []), Err(SavedError::Newer { version }));
    }
    // Whatever shape a newer head has.
    let error = head_from_json(r#"{"version":7,"name":{"of":"it"}}"#).unwrap_err();
    assert_eq!(error, SavedError::Newer { version: 7 });
    assert!(error.says().contains("newer Evenfeed (form 7)"));
}

#[test]
fn head_that_is_none_is_refused() {
    for text in [
        "",
        "null",
        "{}",
        r#"{"version":"1"}"#,
        r#"{"version":-1}"#,
        r#"{"version":1}"#,
        r#"{"version":1,"id":"a","created_ms":0,"touched_ms":0,"title":"","demo":false,"finished":false}"#,
    ] {
        let error = head_from_json(text);
        assert!(
            matches!(error, Err(SavedError::Unreadable { .. })),
            "{text}: {error:?}"
        );
    }
}

#[test]
fn head_tells_the_list_what_it_needs() {
    let (head, job) = opened("v1-bakery.jsonl");
    assert_eq!(
        head.title,
        "Gull & Crumb bakery, Saltgrass Landing, Split, 6 ton"
    );
    assert!(head.finished && !head.demo);
    assert_eq!(head.events, job.events);
    assert_eq!(Visit::begun().job.head().title, "Job without a name");
}

#[test]
fn job_of_no_events_is_a_job_just_begun() {
    let begun = Visit::begun().job;
    assert_eq!(replay(&begun.head(), []), Ok(begun));
}

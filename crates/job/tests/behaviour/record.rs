//! The record that is left behind, in words, as a table and as JSON.

use crate::demo;
use crate::golden::is_as_kept;
use crate::visit::{MINUTE, START, Visit, checked, entered, noted, overrode, turned, weighed};
use coach::End;
use diagnosis::{Field, Metering};
use job::{
    CheckState, Disturbance, Event, Item, Job, PlateField, PlateState, export_json, record, replay,
};
use quantity::Units;
use serde_json::Value;
use std::path::Path;

/// A time of day, UTC.
fn clock(ms: i64) -> String {
    let minutes = ms.div_euclid(MINUTE).rem_euclid(24 * 60);
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// The record as plain text: headings, then `what: was | was`.
pub fn written(job: &Job, now_ms: i64) -> String {
    let record = record(job, Units::default(), now_ms, &clock);
    let mut text = record.title;
    if record.demo {
        text.push_str(" (demo, invented)");
    }
    text.push('\n');
    for section in record.sections {
        text.push_str(&format!("\n{}\n", section.heading));
        for line in section.lines {
            text.push_str(&format!("  {}: {}\n", line.what, line.was.join(" | ")));
        }
    }
    text
}

fn said(visit: &Visit, heading: &str) -> Vec<String> {
    let record = record(&visit.job, Units::default(), visit.now, &|ms| {
        format!("+{}", (ms - START) / MINUTE)
    });
    let section = record
        .sections
        .into_iter()
        .find(|section| section.heading == heading);
    let lines = section.unwrap().lines.into_iter();
    lines
        .map(|line| format!("{}: {}", line.what, line.was.join(" | ")))
        .collect()
}

/// When this fails, a person reads the new record from top to bottom, as the next technician
/// would, before it takes the place of the old one.
#[test]
fn demo_record_reads_as_it_was_read_by_a_person() {
    let (job, _) = demo::opened();
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/demo_record.txt");
    is_as_kept(&written(&job, demo::NOW), &kept);
}

#[test]
fn blanks_are_written_as_not_measured() {
    let mut visit = Visit::begun();
    for line in said(&visit, "Readings: as found, as left") {
        assert!(line.ends_with(": not measured | not measured"), "{line}");
    }
    let lines = said(&visit, "Readings: as found, as left");
    let of_fields = Field::ALL
        .iter()
        .filter(|field| field.row().group.is_in_record())
        .map(|field| field.row().label);
    for what in of_fields.chain([
        "Time",
        "Bulb in a warm hand",
        "Superheat",
        "Superheat at compressor",
        "Subcooling",
        "Compression ratio",
    ]) {
        let line = format!("{what}: not measured | not measured");
        assert!(lines.contains(&line), "{what}");
    }
    assert_eq!(said(&visit, "Finding"), ["Finding: not measured"]);
    assert!(said(&visit, "Job").contains(&"Plate charge: not measured".to_owned()));
    assert!(said(&visit, "Job").contains(&"Data plate: Not read yet".to_owned()));

    visit.does(&entered(Field::SuctionPressure, "120"));
    visit.does(&Event::KeptReading);
    let lines = said(&visit, "Readings: as found, as left");
    assert_eq!(lines[1], "Suction pressure: 120.0 psig | 120.0 psig");
    assert_eq!(lines[2], "Suction line: not measured | not measured");
}

#[test]
fn first_and_last_counted_reading_stand_side_by_side() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    for pressure in ["120", "125", "130", "135"] {
        visit.minutes(4);
        visit.does(&entered(Field::SuctionPressure, pressure));
        visit.does(&Event::KeptReading);
    }
    visit.does(&Event::TookBack);
    let lines = said(&visit, "Readings: as found, as left");
    assert_eq!(lines[0], "Time: +4 | +12");
    assert_eq!(lines[1], "Suction pressure: 120.0 psig | 130.0 psig");
}

#[test]
fn what_cannot_be_used_is_marked_where_it_stands() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    visit.does(&entered(Field::SuctionPressure, "690"));
    visit.does(&entered(Field::SuctionLine, "55ish"));
    visit.does(&Event::KeptReading);
    let lines = said(&visit, "Readings: as found, as left");
    assert!(
        lines[1].ends_with("| 690.0 psig (outside what can be)"),
        "{}",
        lines[1]
    );
    assert!(lines[2].ends_with("| 55ish (not a number)"), "{}", lines[2]);
}

#[test]
fn turns_are_written_in_words() {
    for (quarters, words) in [
        (1, "1/4 turn clockwise (closing)"),
        (-1, "1/4 turn counter-clockwise (opening)"),
        (2, "1/2 turn clockwise (closing)"),
        (-3, "3/4 turn counter-clockwise (opening)"),
        (4, "1 turn clockwise (closing)"),
        (-5, "1 1/4 turns counter-clockwise (opening)"),
        (6, "1 1/2 turns clockwise (closing)"),
        (-8, "2 turns counter-clockwise (opening)"),
    ] {
        let mut visit = Visit::ready_to_turn(20.0);
        visit.does(&turned(quarters));
        let lines = said(&visit, "Turns, waits and weights");
        assert!(lines.contains(&format!("+12: {words}")), "{lines:#?}");
        assert!(
            lines.contains(&format!("Stem from as found: {words}")),
            "{lines:#?}"
        );
    }
    let visit = Visit::ready_to_turn(20.0);
    let lines = said(&visit, "Turns, waits and weights");
    assert!(lines.contains(&"Stem from as found: 0 turns".to_owned()));
}

#[test]
fn everything_done_is_told_in_order_of_time() {
    let mut visit = Visit::ready_to_turn(20.0);
    visit.minutes(1);
    visit.does(&turned(-2));
    visit.minutes(2);
    visit.does(&turned(-1));
    visit.minutes(1);
    visit.does(&turned(-1));
    visit.does(&Event::TookBack);
    visit.does(&Event::MetEnd { end: End::Opening });
    visit.minutes(5);
    visit.reads(15.0, 10.0);
    visit.minutes(1);
    visit.does(&weighed("-4"));
    visit.does(&Event::Changed {
        what: Disturbance::Bulb,
        note: "New strap".to_owned(),
    });
    let lines = said(&visit, "Turns, waits and weights");
    let told: Vec<&str> = lines
        .iter()
        .map(|line| {
            // The band is the tools' affair; here the words are.
            line.split(" ±").next().unwrap()
        })
        .collect();
    assert_eq!(
        told,
        [
            "+0: stem as found: Mark on stem and body",
            "+4: read: superheat 20.0",
            "+8: read: superheat 20.0",
            "+12: read: superheat 20.0",
            "+13: 1/2 turn counter-clockwise (opening)",
            "+15: 1/4 turn counter-clockwise (opening), before it had settled",
            "+16: taken back: 1/4 turn counter-clockwise (opening), before it had settled",
            "+16: stem at its opening end",
            "+21: read: superheat 15.0",
            "+22: charge 4.0 oz recovered",
            "+22: Bulb strapped or moved: New strap",
            "Stem from as found: 3/4 turn counter-clockwise (opening)",
            "Charge, in less out: 4.0 oz recovered",
        ]
    );
    assert!(
        lines[8].ends_with(", 6 min after the last turn"),
        "{}",
        lines[8]
    );
}

#[test]
fn record_says_what_was_missing_and_what_was_overridden() {
    let mut visit = Visit::named(Metering::AdjustableTxv);
    visit.does(&Event::SawPlate {
        plate: PlateState::Missing,
    });
    visit.does(&noted(PlateField::SuperheatLow, ""));
    visit.does(&checked(Item::Ice, CheckState::Done));
    visit.does(&overrode("Roof hatch jammed"));
    visit.does(&Event::Finished);
    let targets = said(&visit, "Targets and tools");
    assert_eq!(
        targets[0],
        "Superheat target: none known: rule of thumb (at the bulb)"
    );
    assert_eq!(
        targets[1],
        "Subcooling target: 7.0 to 13.0 °F, rule of thumb"
    );
    let looked = said(&visit, "Look first");
    assert!(looked.contains(&"Gate overridden: +0: Roof hatch jammed".to_owned()));
    assert!(looked.contains(&"No ice on coil or lines: Done".to_owned()));
    let proof = said(&visit, "Proof");
    assert_eq!(proof[0], "Superheat: Not measured");
    assert!(
        proof.iter().any(|line| line.starts_with("Plate: missing")),
        "{proof:#?}"
    );
    assert!(proof.contains(&"Closed: +0".to_owned()));
    assert!(proof.last().unwrap().contains("certifies nothing"));
}

#[test]
fn record_asks_only_what_the_device_has() {
    let visit = Visit::named(Metering::FixedOrifice);
    let looked = said(&visit, "Look first");
    // Ten checks, and where cautions were shown.
    assert_eq!(looked.len(), 11);
    assert!(
        !looked
            .iter()
            .any(|line| line.contains("bulb") || line.contains("Bulb"))
    );
}

#[test]
fn exported_json_makes_the_same_job() {
    let (job, events) = demo::opened();
    let record = record(&job, Units::default(), demo::NOW, &clock);
    let text = export_json(&job, &events, &record, "2026-11-25T09:46:40+00:00", "0.1.0").unwrap();
    let value: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["format"], "evenfeed-job");
    assert_eq!(value["version"], 1);
    assert_eq!(value["app_version"], "0.1.0");
    assert_eq!(value["exported_at"], "2026-11-25T09:46:40+00:00");
    let head = job::head_from_json(&value["head"].to_string()).unwrap();
    assert_eq!(head, job.head());
    assert!(head.demo);
    let entries: Vec<String> = value["events"]
        .as_array()
        .unwrap()
        .iter()
        .map(Value::to_string)
        .collect();
    assert_eq!(
        replay(&head, entries.iter().map(String::as_str)).unwrap(),
        job
    );
    let sections = value["record"].as_array().unwrap();
    assert_eq!(sections.len(), record.sections.len());
    for (section, of) in sections.iter().zip(&record.sections) {
        assert_eq!(section["heading"], of.heading);
        for (line, of) in section["lines"].as_array().unwrap().iter().zip(&of.lines) {
            assert_eq!(line["what"], of.what);
            assert_eq!(line["was"], Value::from(of.was.clone()));
        }
    }
}

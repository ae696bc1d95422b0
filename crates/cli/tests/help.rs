//! What the program says of itself.

use coach::{Stop, Wait};
use diagnosis::{
    Cause, ChargeAdvice, ChargeReason, Field, MeasuringPoint, Metering, Pedigree, Verdict,
};
use job::{STEM_ENDS, stem_end_key};
use quantity::GaugeReference;
use refrigerant::Refrigerant;

mod support;
use support::{COACH_KEYS, about, full, object, run};

#[test]
fn help_names_every_key_and_every_word() {
    let ran = run(&["--help"], b"");
    assert_eq!(ran.status, Some(0));
    let help = ran.stdout;
    let words: Vec<&str> = help
        .split(|letter: char| !(letter.is_ascii_alphanumeric() || matches!(letter, '_' | '-')))
        .collect();
    let named = |word: &str| assert!(words.contains(&word), "--help does not name {word}");
    full().keys().for_each(|key| named(key));
    Field::ALL.iter().for_each(|field| named(field.row().key));
    Cause::ALL.iter().for_each(|cause| named(cause.key()));
    Refrigerant::ALL.iter().for_each(|one| named(one.name()));
    Metering::ALL.iter().for_each(|one| named(one.key()));
    MeasuringPoint::ALL.iter().for_each(|one| named(one.key()));
    GaugeReference::ALL.iter().for_each(|one| named(one.key()));
    Pedigree::ALL.iter().for_each(|one| named(one.key()));
    ChargeReason::ALL
        .iter()
        .for_each(|one| named(one.advice().key()));
    for verdict in [
        Verdict::InBand,
        Verdict::Below,
        Verdict::Above,
        Verdict::CannotTell,
    ] {
        named(verdict.key());
    }
    named(ChargeAdvice::Recharge.key());
    COACH_KEYS.iter().for_each(|key| named(key));
    object(about()["job"].clone())
        .keys()
        .for_each(|key| named(key));
    for wait in [Wait::Drifting, Wait::Settled, Wait::Hunting] {
        named(wait.key());
    }
    for stop in [
        Stop::AtTarget,
        Stop::StemEnd,
        Stop::BelowMinimum,
        Stop::Hunting,
        Stop::NotReachable,
        Stop::WrongWay,
        Stop::NoResponse,
        Stop::HighHead,
    ] {
        named(stop.key());
    }
    STEM_ENDS.iter().for_each(|end| named(stem_end_key(*end)));
    for key in [
        "job",
        "superheat_band_f",
        "turn",
        "stem_end",
        "disturbed",
        "low_psi",
        "high_psi",
        "temperature_f",
        "findings",
        "evidence",
        "next_test",
        "charge_reason",
        "error",
    ] {
        named(key);
    }
    assert!(help.contains("Exit status: 0"));
    // A terminal is 100 wide at least.
    for line in help.lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
}

#[test]
fn help_is_found_where_it_is_looked_for() {
    let help = run(&["--help"], b"").stdout;
    for ask in [
        &["-h"][..],
        &["help"],
        &["evaluate", "--help"],
        &["evaluate", "-h"],
        &["coach", "--help"],
    ] {
        let ran = run(ask, b"");
        assert_eq!(
            (ran.status, ran.stdout.as_str()),
            (Some(0), help.as_str()),
            "{ask:?}"
        );
    }
}

#[test]
fn a_command_that_is_none_is_refused_with_the_help() {
    for wrong in [
        &[][..],
        &["evalute"],
        &["evaluate", "file.jsonl"],
        &["coach", "file.jsonl"],
        &["--version", "x"],
    ] {
        let ran = run(wrong, b"");
        assert_eq!(ran.status, Some(2), "{wrong:?}");
        assert!(
            ran.stdout.is_empty() && ran.stderr.contains("evaluate"),
            "{wrong:?}"
        );
    }
}

#[test]
fn version() {
    let ran = run(&["--version"], b"");
    assert_eq!(ran.status, Some(0));
    assert_eq!(
        ran.stdout.trim(),
        concat!("evenfeed-cli ", env!("CARGO_PKG_VERSION"))
    );
}

//! Numbers as people type them.

use crate::visit::ALL_UNITS;
use job::{Measure, NumberFault, read_number};
use proptest::prelude::*;

#[track_caller]
fn check(text: &str, expected: Result<f64, NumberFault>) {
    assert_eq!(read_number(text), expected, "{text:?}");
}

#[test]
fn one_number_is_read_however_it_is_written() {
    for (text, number) in [
        ("12", 12.0),
        ("12.5", 12.5),
        ("12,5", 12.5),
        ("-4.5", -4.5),
        ("\u{2212}4,5", -4.5), // the true minus
        ("\u{2013}3", -3.0),   // the dash that some keyboards give
        ("- 4", -4.0),
        ("+5", 5.0),
        ("+ 5", 5.0),
        (" 7 ", 7.0),
        ("\t7\n", 7.0),
        ("\u{a0}7\u{a0}", 7.0), // no-break space
        ("\u{202f}7", 7.0),     // narrow no-break space
        (".5", 0.5),
        (",5", 0.5),
        ("-,5", -0.5),
        ("5.", 5.0),
        ("5,", 5.0),
        ("007", 7.0),
        ("0", 0.0),
        ("0,125", 0.125), // no one writes a thousand as 0,125
        ("1,23", 1.23),
        ("1,2345", 1.2345),
        ("1.234", 1.234),
        ("1234.5", 1234.5),
        ("-14,7", -14.7),
    ] {
        check(text, Ok(number));
    }
}

#[test]
fn minus_nothing_is_nothing() {
    for text in ["-0", "\u{2212}0,0", "-.0"] {
        let read = read_number(text).unwrap();
        assert!(read == 0.0 && read.is_sign_positive(), "{text:?}");
    }
}

#[test]
fn blank_is_not_zero() {
    for text in ["", " ", "\t", "\u{a0}", "\u{2003}\n"] {
        check(text, Err(NumberFault::Blank));
    }
}

#[test]
fn comma_before_three_digits_is_asked_back() {
    for text in [
        "1,234",
        "-1,234",
        "\u{2212}1,234",
        "12,345",
        "100,000",
        "00,123",
    ] {
        check(text, Err(NumberFault::Ambiguous));
    }
}

#[test]
fn what_is_not_one_number_is_not_guessed_at() {
    for text in [
        "-",
        "+",
        ".",
        ",",
        "--5",
        "+-5",
        "-+5",
        "5-",
        "1.2.3",
        "1,2,3",
        "1,234.5",
        "1.234,5",
        "12a",
        "a12",
        "1e3",
        "1E3",
        "0x10",
        "inf",
        "infinity",
        "NaN",
        "1 234",
        "1\u{a0}234",
        "1'234",
        "1_000",
        "1/4",
        "\u{bd}",
        "5\u{b2}",
        "12 psig",
        "72\u{b0}",
        "50%",
        "\u{ff11}\u{ff12}", // fullwidth digits
        "\u{ff0d}5",        // fullwidth minus
        "\u{661}\u{662}",   // Arabic-Indic digits
        "\u{200b}5",        // zero-width space
        "5\u{0}",
        "=1+1",
    ] {
        check(text, Err(NumberFault::NotANumber));
    }
    check(&"9".repeat(400), Err(NumberFault::NotANumber));
}

#[test]
fn each_fault_says_what_to_do() {
    assert_eq!(NumberFault::Blank.says(), "Nothing entered.");
    assert_eq!(
        NumberFault::NotANumber.says(),
        "Not a number. Digits, one decimal point or comma, a minus in front."
    );
    assert_eq!(
        NumberFault::Ambiguous.says(),
        "Thousands or decimals? Write 1234 or 1.234."
    );
}

const MEASURES: [Measure; 10] = [
    Measure::Temperature,
    Measure::Difference,
    Measure::Gauge,
    Measure::PressureDifference,
    Measure::Barometer,
    Measure::Altitude,
    Measure::Mass,
    Measure::Percent,
    Measure::Tons,
    Measure::Minutes,
];

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in any::<String>()) {
        if let Ok(number) = read_number(&text) {
            prop_assert!(number.is_finite());
        }
    }

    #[test]
    fn number_shaped_texts_are_read_or_refused(text in "[-+−– 0-9.,eE\u{a0}]{0,12}") {
        if let Ok(number) = read_number(&text) {
            prop_assert!(number.is_finite());
            prop_assert!(text.chars().any(|c| c.is_ascii_digit()));
        }
    }

    #[test]
    fn decimals_come_back_in_every_spelling(hundredths in -2_000_000_i32..2_000_000, places in 0_usize..3) {
        let number = f64::from(hundredths) / 100.0;
        let plain = format!("{number:.places$}");
        let expected: f64 = plain.parse().unwrap();
        for text in [
            plain.clone(),
            plain.replace('.', ","),
            plain.replace('-', "\u{2212}"),
            plain.replace('-', "\u{2013} "),
            format!("\u{a0}{plain} "),
        ] {
            prop_assert_eq!(read_number(&text), Ok(expected + 0.0));
        }
    }

    #[test]
    fn what_is_shown_can_be_typed_again(key in -999.0_f64..9999.0) {
        for measure in MEASURES {
            for units in ALL_UNITS {
                let shown = measure.digits(key, units);
                let number = read_number(&shown).unwrap();
                let again = measure.digits(measure.read(number, units), units);
                prop_assert_eq!(&again, &shown);
                prop_assert!(again != "-0" && again != "-0.0" && again != "-0.00");
            }
        }
    }
}

//! What a sign says of a cause: which way, and on which metering device.

use diagnosis::{Assessment, BulbTest, Cause, Finding, Metering, Sign, assess};
use refrigerant::Refrigerant;

mod support;
use support::{Circuit, leads, place};

fn of(said: &Assessment, cause: Cause) -> &Finding {
    &said.findings[place(&said.findings, cause)]
}

fn each(case: impl Fn(Circuit, &str)) {
    for refrigerant in [Refrigerant::R410A, Refrigerant::R407C] {
        case(
            Circuit::sound(refrigerant, Metering::AdjustableTxv),
            refrigerant.name(),
        );
    }
}

/// Overcharge: a valve holds superheat, a fixed orifice lets it fall. The same low superheat speaks
/// for overcharge on one and against it on the other.
#[test]
fn overcharge_lowers_superheat_only_where_nothing_holds_it() {
    let share = |metering, superheat| {
        let circuit = Circuit {
            superheat,
            subcooling: 24.0,
            ..Circuit::sound(Refrigerant::R410A, metering)
        };
        of(&circuit.assessed(), Cause::Overcharge).weight
    };
    let (valve, orifice) = (Metering::AdjustableTxv, Metering::FixedOrifice);
    assert!(share(valve, 10.0) > share(valve, 4.0));
    // The weather of the sound circuit asks 13 °F of an orifice.
    assert!(share(orifice, 4.0) > share(orifice, 13.0));
}

/// A bulb belongs to a thermostatic valve; the other two never hear of one.
#[test]
fn no_bulb_is_blamed_where_there_is_none() {
    for metering in Metering::ALL {
        let circuit = Circuit {
            superheat: 2.0,
            evaporating: 55.0,
            ..Circuit::sound(Refrigerant::R22, metering)
        };
        let weight = of(&circuit.assessed(), Cause::BulbContact).weight;
        let has_bulb = matches!(metering, Metering::AdjustableTxv | Metering::FixedTxv);
        assert_eq!(weight > 0.0, has_bulb, "{metering:?}");
    }
}

/// What speaks for and against is told sign by sign.
#[test]
fn evidence_names_what_speaks_and_which_way() {
    let circuit = Circuit::sound(Refrigerant::R410A, Metering::AdjustableTxv).underfed();
    let said = circuit.assessed();
    let speaks = |cause, sign| {
        of(&said, cause)
            .evidence
            .iter()
            .find(|(seen, _)| seen.sign == sign)
            .map(|(_, speaks)| speaks.key())
    };
    assert_eq!(
        speaks(Cause::ValveUnderfeeding, Sign::Superheat),
        Some("for")
    );
    assert_eq!(
        speaks(Cause::ValveOverfeeding, Sign::Superheat),
        Some("against")
    );
    assert_eq!(speaks(Cause::LowCharge, Sign::Subcooling), Some("against"));
    assert_eq!(
        speaks(Cause::LiquidRestriction, Sign::LiquidLineDrop),
        Some("against")
    );
    assert_eq!(speaks(Cause::ValveUnderfeeding, Sign::Standing), None);
    // The same signs are told for every cause, only their order and voice differ.
    let signs = |finding: &Finding| {
        let mut signs: Vec<Sign> = finding.evidence.iter().map(|(seen, _)| seen.sign).collect();
        signs.sort_unstable();
        signs
    };
    for finding in &said.findings {
        assert_eq!(signs(finding), signs(&said.findings[0]));
    }
}

/// Bulb in a warm hand: suction rises, the valve is alive.
#[test]
fn a_bulb_that_answers_speaks_for_the_valve() {
    each(|sound, name| {
        let circuit = sound.underfed();
        let with = |test| {
            let mut reading = circuit.reading();
            reading.bulb_test = test;
            assess(&circuit.setup(), &reading)
        };
        let weight = |said: &Assessment| of(said, Cause::ValveUnderfeeding).weight;
        let (nothing, unread, rises) = (
            with(Some(BulbTest::Nothing)),
            with(None),
            with(Some(BulbTest::Rises)),
        );
        assert!(weight(&nothing) > weight(&unread), "{name}");
        assert!(weight(&rises) < weight(&unread), "{name}");
        leads(&nothing, Cause::ValveUnderfeeding, name);
        // A test that was done is not the next one.
        assert!(
            !of(&nothing, Cause::ValveUnderfeeding)
                .next_test()
                .contains("warm hand"),
            "{name}"
        );
    });
}

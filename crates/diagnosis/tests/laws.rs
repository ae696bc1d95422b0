//! What must hold for every reading: bands, verdicts, weights.

use diagnosis::{
    Banded, Cause, Field, Gate, Instruments, Metering, Pedigree, PressureLimit, Reading, Setup,
    Target, Verdict, assess,
};
use proptest::prelude::*;
use quantity::{PressureDifference, PressureUnit, TemperatureDifference, TemperatureUnit, Units};
use refrigerant::Refrigerant;

mod support;
use support::random::{any_job, any_metering, any_nonsense, any_refrigerant, any_setup};
use support::{Circuit, tools};

fn banded(value_f: f64, half_f: f64) -> Banded<TemperatureDifference> {
    Banded {
        value: TemperatureDifference::from_f(value_f),
        half_width: TemperatureDifference::from_f(half_f),
    }
}

fn target(low: f64, width: f64) -> Target {
    Target::from_f(low, low + width, Pedigree::DataPlate)
}

/// Weights of all causes in the order of the table.
fn weights(setup: &Setup, reading: &Reading) -> Vec<f64> {
    let said = assess(setup, reading);
    Cause::ALL
        .iter()
        .map(|&cause| {
            let found = said.findings.iter().find(|finding| finding.cause == cause);
            found.expect("every cause is weighed").weight
        })
        .collect()
}

/// A plate of 8 ±1 °F cannot be proved with protocol tools of ±2.0 °F, whatever they read.
#[test]
fn a_target_narrower_than_the_band_is_never_proved() {
    let plate = target(7.0, 2.0);
    for tenths in 0..300 {
        let verdict = banded(f64::from(tenths) / 10.0, 2.0).against(&plate);
        assert_ne!(verdict, Verdict::InBand);
    }
    assert_eq!(banded(8.0, 2.0).against(&plate), Verdict::CannotTell);
    assert_eq!(banded(8.0, 0.9).against(&plate), Verdict::InBand);
    assert_eq!(banded(4.9, 2.0).against(&plate), Verdict::Below);
    assert_eq!(banded(11.1, 2.0).against(&plate), Verdict::Above);
    // The edges belong to the band.
    assert_eq!(banded(8.0, 1.0).against(&target(7.0, 2.0)), Verdict::InBand);
}

/// RA3.2.2.6.2 step 9: without a maker's range 4 to 25 °F for the installer, 3 to 26 for the
/// verifier. What passes the installer's passes the verifier's.
#[test]
fn the_protocols_two_bands() {
    let (installer, verifier) = (target(4.0, 21.0), target(3.0, 23.0));
    assert_eq!(banded(12.0, 2.0).against(&installer), Verdict::InBand);
    assert_eq!(banded(5.0, 2.0).against(&installer), Verdict::CannotTell);
    assert_eq!(banded(5.0, 2.0).against(&verifier), Verdict::InBand);
    assert_eq!(banded(29.0, 2.0).against(&verifier), Verdict::Above);
}

#[test]
fn unit_switch_changes_words_only() {
    let circuit = Circuit::sound(Refrigerant::R410A, Metering::AdjustableTxv).underfed();
    let said = circuit.assessed();
    let units = Units {
        temperature: TemperatureUnit::Celsius,
        pressure: PressureUnit::Bar,
    };
    let superheat = said.derived.superheat.expect("read");
    assert_eq!(superheat.says(Units::default()), "30.0 ±2.2 °F");
    // 30/1.8 and 2.2/1.8: a difference is scaled, never shifted.
    assert_eq!(superheat.says(units), "16.7 ±1.2 K");
    assert_eq!(said.derived.superheat_target.says(units), "4.4 to 6.7 K");
    for (seen, _) in &said.findings[0].evidence {
        let (here, there) = (seen.says(Units::default()), seen.says(units));
        assert!(here.starts_with(seen.sign.says()) && there.starts_with(seen.sign.says()));
        assert!(!there.contains('F'), "{there}");
    }
}

proptest! {
    /// A verdict holds for every value that the band leaves possible, not only for the one shown.
    #[test]
    fn a_verdict_holds_for_the_whole_band(
        value in -20.0..60.0f64, half in 0.0..10.0f64, share in -1.0..=1.0f64,
        low in 0.0..20.0f64, width in 0.0..20.0f64,
    ) {
        let plate = target(low, width);
        let truth = TemperatureDifference::from_f(value + share * half);
        let (below, above) = (truth < plate.low, truth > plate.high);
        match banded(value, half).against(&plate) {
            Verdict::InBand => prop_assert!(!below && !above),
            Verdict::Below => prop_assert!(below),
            Verdict::Above => prop_assert!(above),
            Verdict::CannotTell => prop_assert!(half > 0.0),
        }
    }

    /// Worse tools never know more: from "cannot tell" there is no way back, and no verdict turns
    /// into another one.
    #[test]
    fn a_wider_band_only_ever_loses_a_verdict(
        value in -20.0..60.0f64, half in 0.0..10.0f64, more in 0.0..10.0f64,
        low in 0.0..20.0f64, width in 0.0..20.0f64,
    ) {
        let plate = target(low, width);
        let (sharp, blunt) = (banded(value, half).against(&plate), banded(value, half + more).against(&plate));
        prop_assert!(blunt == sharp || blunt == Verdict::CannotTell);
    }

    #[test]
    fn bands_grow_with_each_tool(
        refrigerant in any_refrigerant(), low in 0.0..5.0f64, high in 0.0..10.0f64, f in 0.0..3.0f64,
    ) {
        let circuit = Circuit::sound(refrigerant, Metering::AdjustableTxv);
        let with = |instruments: Instruments| {
            let setup = Setup { instruments, ..circuit.setup() };
            let it = assess(&setup, &circuit.reading()).derived;
            (it.superheat.expect("read").half_width, it.subcooling.expect("read").half_width)
        };
        let base = with(tools(low, high, f));
        let (low_up, high_up, f_up) =
            (with(tools(low + 1.0, high, f)), with(tools(low, high + 1.0, f)), with(tools(low, high, f + 0.5)));
        prop_assert!(low_up.0 > base.0 && low_up.1 == base.1, "suction gauge moves superheat only");
        prop_assert!(high_up.1 > base.1 && high_up.0 == base.0, "liquid gauge moves subcooling only");
        prop_assert!(f_up.0 > base.0 && f_up.1 > base.1);
        // Root sum square: never under the larger part, never over the plain sum.
        let thermometer = TemperatureDifference::from_f(f);
        let gauge = with(tools(low, high, 0.0)).0;
        prop_assert!(base.0.f() + 1e-9 >= thermometer.f().max(gauge.f()));
        prop_assert!(base.0.f() <= thermometer.f() + gauge.f() + 1e-9);
    }

    /// The same pipe at more pressure is less superheat; at less pressure less subcooling.
    #[test]
    fn superheat_falls_as_suction_rises(refrigerant in any_refrigerant(), by in 0.1..20.0f64) {
        let circuit = Circuit::sound(refrigerant, Metering::AdjustableTxv);
        let read = |field, by: f64| {
            let mut reading = circuit.reading();
            let was = reading.get(field).expect("read");
            reading.set(field, Some(was + by));
            assess(&circuit.setup(), &reading).derived
        };
        let superheat = |by| read(Field::SuctionPressure, by).superheat.expect("read").value;
        prop_assert!(superheat(by) < superheat(0.0));
        let subcooling = |by| read(Field::LiquidPressure, by).subcooling.expect("read").value;
        prop_assert!(subcooling(by) > subcooling(0.0));
        let warmer = read(Field::SuctionLine, by).superheat.expect("read").value;
        prop_assert!(((warmer - superheat(0.0)).f() - by).abs() < 1e-9);
    }

    #[test]
    fn weights_are_shares((setup, reading) in any_job()) {
        let said = assess(&setup, &reading);
        prop_assert_eq!(said.findings.len(), Cause::ALL.len());
        let sum: f64 = said.findings.iter().map(|finding| finding.weight).sum();
        prop_assert!((sum - 1.0).abs() < 1e-9, "{sum}");
        for pair in said.findings.windows(2) {
            prop_assert!(pair[0].weight >= pair[1].weight);
        }
        for finding in &said.findings {
            prop_assert!((0.0..=1.0).contains(&finding.weight));
            prop_assert!(!finding.next_test().is_empty());
        }
    }

    /// Whatever is typed, an answer comes back, in shares, and every entry is used or refused.
    #[test]
    fn nonsense_is_answered(setup in any_setup(), reading in any_nonsense()) {
        let said = assess(&setup, &reading);
        let sum: f64 = said.findings.iter().map(|finding| finding.weight).sum();
        prop_assert!((sum - 1.0).abs() < 1e-9, "{sum}");
        prop_assert!(said.findings.iter().all(|finding| finding.weight.is_finite()));
        for (field, value) in reading.entries() {
            let refused = said.refusals.iter().any(|refusal| refusal.field == field);
            let (low, high) = field.row().hard;
            prop_assert!(refused || (low..=high).contains(&value));
        }
    }

    /// A sign that the tools cannot prove is not evidence: with tools that know nothing the ranking
    /// is that of a blank reading. Amps and the warmed bulb do not depend on these tools. To 0.001:
    /// even the middle of a usual range belongs to it by all but some ten-thousandths.
    #[test]
    fn tools_that_know_nothing_leave_what_was_known_before((setup, reading) in any_job()) {
        let setup = Setup { instruments: tools(1e6, 1e6, 1e6), ..setup };
        let mut reading = reading;
        reading.set(Field::Amps, None);
        reading.bulb_test = None;
        let blank = weights(&setup, &Reading::default());
        for (with, without) in weights(&setup, &reading).iter().zip(blank) {
            prop_assert!((with - without).abs() < 1e-3, "{with} {without}");
        }
    }

    /// A dial gauge and a fixed limit of the same width are the same tool.
    #[test]
    fn a_dial_is_its_half_width((setup, reading) in any_job(), full_scale in 100.0..800.0f64) {
        let dial = PressureLimit::OfFullScale {
            percent: 1.0,
            full_scale: PressureDifference::from_psi(full_scale),
        };
        let fixed = PressureLimit::Fixed(dial.half_width());
        let with = |low| {
            let instruments = Instruments { low, ..setup.instruments };
            weights(&Setup { instruments, ..setup }, &reading)
        };
        prop_assert_eq!(with(dial), with(fixed));
    }

    /// An open gate makes what was not looked at more likely, and nothing else of it changes.
    #[test]
    fn an_open_gate_favours_what_was_not_looked_at(metering in any_metering()) {
        let circuit = Circuit::sound(Refrigerant::R410A, metering);
        let with = |gate| weights(&Setup { gate, ..circuit.setup() }, &circuit.reading());
        let (held, open) = (with(Gate::HELD), with(Gate::OPEN));
        for (at, &cause) in Cause::ALL.iter().enumerate() {
            let more = open[at] > held[at];
            let unseen = matches!(cause, Cause::LowAirflow | Cause::CondenserFouled)
                || (cause == Cause::BulbContact && metering.holds_superheat() && metering != Metering::Electronic);
            prop_assert_eq!(more, unseen, "{:?} {} {}", cause, held[at], open[at]);
        }
    }
}

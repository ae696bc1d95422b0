//! Two faults at once: the pairs that mislead, on a unit as crate `cycle` validates it.

use belief::{Class, Judged, judge};
use cycle::Faults;
use diagnosis::{Cause, ChargeAdvice, Reading};
use refrigerant::Refrigerant;

mod support;
use support::units::{Dice, Unit};
use support::{Depth, reading, setup};

const AIR: [f64; 3] = [93.0, 80.0, 67.0];
const PAIR: Class = Class {
    first: Cause::ValveUnderfeeding,
    second: Some(Cause::HotAirRecirculation),
};
/// A quarter of the condenser's air drawn in again, the stem ten turns in: the case of
/// `tests/validation.rs` of crate `cycle`.
const HOT: Faults = Faults {
    recirculation: 0.25,
    ..Faults::NONE
};

/// As read without any error of the tools: everything, or gauges, pipes and indoor air.
fn judged(faults: Faults, turns: f64, depth: Depth) -> Judged {
    let unit = Unit::plain(Refrigerant::R410A, 5.0).expect("a usual plate");
    let call = unit
        .in_state(AIR, faults, turns, PAIR)
        .expect("an operating point");
    let mut dice = Dice(5);
    let setup = setup(&mut dice, &unit, &call);
    let full: Reading = reading(&mut dice, &unit, &call, &setup, depth, 0.0);
    judge(&setup, &full, Some(192.0))
}

fn told(said: &Judged) -> String {
    let first = said.causes.iter().take(4);
    let first: Vec<String> = first.map(|(c, p)| format!("{} {p:.2}", c.key())).collect();
    format!("{}; {:?}", first.join(", "), said.assessment.charge)
}

/// High superheat, subcooling over target and high head over open air: both causes are named, and
/// the charge is left alone.
#[test]
fn a_starving_valve_in_a_hot_pocket_is_both() {
    let said = judged(HOT, 10.0, Depth::Full);
    println!("{}", told(&said));
    assert_eq!(said.posterior[0].class, PAIR, "{}", told(&said));
    assert!(said.probability(Cause::ValveUnderfeeding) > 0.8);
    assert!(said.probability(Cause::HotAirRecirculation) > 0.8);
    for depth in [Depth::Basic, Depth::Full] {
        let advice = judged(HOT, 10.0, depth).assessment.charge_advice();
        assert!(!matches!(advice, ChargeAdvice::Add | ChargeAdvice::Remove));
    }
}

/// One without the other is not taken for both.
#[test]
fn one_of_the_two_alone_is_one() {
    let feed = judged(Faults::NONE, 10.0, Depth::Full);
    println!("{}", told(&feed));
    assert_eq!(feed.causes[0].0, Cause::ValveUnderfeeding);
    assert!(feed.probability(Cause::HotAirRecirculation) < 0.1);
    let air = judged(HOT, 0.0, Depth::Full);
    println!("{}", told(&air));
    assert_eq!(air.causes[0].0, Cause::HotAirRecirculation);
    assert!(air.probability(Cause::ValveUnderfeeding) < 0.1);
}

/// Overcharge in a hot pocket: the air comes first, whatever the subcooling.
#[test]
fn overcharge_in_a_hot_pocket_is_not_removed_first() {
    let faults = Faults { charge: 1.2, ..HOT };
    let said = judged(faults, 0.0, Depth::Full);
    println!("{}", told(&said));
    assert!(said.probability(Cause::Overcharge) > 0.7);
    assert!(said.probability(Cause::HotAirRecirculation) > 0.7);
    assert_ne!(said.assessment.charge_advice(), ChargeAdvice::Remove);
}

/// Low charge with low airflow: each hides the other's suction and superheat.
#[test]
fn low_charge_with_low_airflow_is_both() {
    let faults = Faults {
        charge: 0.8,
        indoor_air: 0.65,
        ..Faults::NONE
    };
    let said = judged(faults, 0.0, Depth::Full);
    println!("{}", told(&said));
    assert!(said.probability(Cause::LowCharge) > 0.7);
    assert!(said.probability(Cause::LowAirflow) > 0.7);
}

/// A size is told with a band that holds the true one.
#[test]
fn a_size_stands_in_its_band() {
    for (missing, low) in [(0.12, 0.88), (0.2, 0.8)] {
        let faults = Faults {
            charge: low,
            ..Faults::NONE
        };
        let said = judged(faults, 0.0, Depth::Full);
        let first = said.posterior[0];
        assert_eq!(first.class.first, Cause::LowCharge, "{}", told(&said));
        let size = first.size.expect("charge has a size");
        println!("{missing}: {}", size.in_words());
        assert!(size.in_words().contains("% of the charge missing, "));
        assert!(size.low <= 100.0 * missing && 100.0 * missing <= size.high);
    }
}

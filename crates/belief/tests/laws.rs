//! What holds of every judgement, whatever was read.

use belief::library::Kind;
use belief::weigh::{Givens, Ground, Number, weigh};
use belief::{Class, Judged, Row, judge};
use diagnosis::{
    BulbTest, Cause, ChargeAdvice, ChargeReason, Field, Gate, MeasuringPoint, Metering, Pedigree,
    Reading, Setup, Target, assess,
};
use proptest::prelude::*;
use refrigerant::Refrigerant;

fn setup(refrigerant: Refrigerant, metering: Metering) -> Setup {
    let valve = metering.holds_superheat();
    Setup {
        superheat_target: valve.then(|| Target::from_f(8.0, 12.0, Pedigree::DataPlate)),
        subcooling_target: Some(Target::from_f(7.0, 13.0, Pedigree::DataPlate)),
        gate: Gate::HELD,
        ..Setup::new(refrigerant, metering)
    }
}

fn any_setup() -> impl Strategy<Value = Setup> {
    (
        prop::sample::select(Refrigerant::ALL.to_vec()),
        prop::sample::select(Metering::ALL.to_vec()),
        any::<(bool, bool, bool, bool)>(),
    )
        .prop_map(|(refrigerant, metering, (held, bulb, valve, plate))| {
            let mut setup = setup(refrigerant, metering);
            setup.gate = Gate {
                held,
                bulb_seen_right: bulb,
            };
            if valve {
                setup.point = MeasuringPoint::ServiceValve;
                setup.target_point = MeasuringPoint::ServiceValve;
            }
            if plate {
                setup.superheat_target = None;
                setup.subcooling_target = None;
            }
            setup
        })
}

/// Numbers in the usual range of their fields, wild ones, and blanks.
fn any_reading() -> impl Strategy<Value = Reading> {
    let one = |field: Field| {
        let (low, high) = field.row().usual;
        prop::option::weighted(
            0.6,
            prop_oneof![9 => low..high, 1 => -100.0..800.0f64, 1 => prop::num::f64::ANY],
        )
    };
    let all: Vec<_> = Field::ALL.iter().map(|&field| one(field)).collect();
    let bulb = prop::option::of(prop::sample::select(vec![
        BulbTest::Rises,
        BulbTest::Nothing,
    ]));
    (all, bulb).prop_map(|(values, bulb)| {
        let mut reading = Reading::default();
        for (&field, value) in Field::ALL.iter().zip(values) {
            reading.set(field, value);
        }
        reading.bulb_test = bulb;
        reading
    })
}

fn near(value: f64, expected: f64) -> bool {
    (value - expected).abs() < 1e-9
}

fn holds(setup: &Setup, reading: &Reading, said: &Judged) -> Result<(), TestCaseError> {
    let sum: f64 = said.posterior.iter().map(|belief| belief.probability).sum();
    prop_assert!(near(sum, 1.0), "beliefs sum to {sum}");
    for belief in &said.posterior {
        prop_assert!((0.0..=1.0 + 1e-9).contains(&belief.probability));
        prop_assert!(belief.class.is_possible(setup.metering));
        if let Some(size) = belief.size {
            let rises = size.low <= size.middle && size.middle <= size.high;
            prop_assert!(rises && size.high.is_finite(), "{size:?}");
        }
    }
    prop_assert!((-1e-9..=1.0 + 1e-9).contains(&said.explained));
    for pair in said.causes.windows(2) {
        prop_assert!(pair[0].1 >= pair[1].1);
    }
    let shown: Vec<f64> = said.shown().map(|(_, probability)| probability).collect();
    prop_assert!(!shown.is_empty() && shown.windows(2).all(|two| two[0] >= two[1]));
    // The table's part is the table's.
    let table = assess(setup, reading);
    prop_assert_eq!(
        &format!("{:?}", said.assessment.findings),
        &format!("{:?}", table.findings)
    );
    // The guard is never looser than the table's.
    let (both, alone) = (said.assessment.charge, table.charge);
    prop_assert!(
        both == alone || both == alone.withheld(),
        "{both:?} for {alone:?}"
    );
    let acts = matches!(both.advice(), ChargeAdvice::Add | ChargeAdvice::Remove);
    prop_assert_eq!(said.proposal.is_some(), acts);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn every_judgement_is_sound(setup in any_setup(), reading in any_reading()) {
        let said = judge(&setup, &reading, Some(128.0));
        holds(&setup, &reading, &said)?;
    }
}

/// With nothing read what is left is the prior: each cause's own row, tilted as the table tilts it.
#[test]
fn nothing_read_gives_the_prior() {
    for metering in Metering::ALL {
        let setup = setup(Refrigerant::R410A, metering);
        let said = judge(&setup, &Reading::default(), None);
        assert!(near(said.explained, 1.0));
        let (checked, _) = diagnosis::check(&setup, &Reading::default());
        let prior = |cause| diagnosis::tilted_prior(cause, &checked, &said.assessment.derived);
        let single = |cause: Cause| {
            let of = said.posterior.iter();
            let mut of = of.filter(|b| b.class.first == cause && b.class.second.is_none());
            of.next().map_or(0.0, |b| b.probability)
        };
        let one = single(Cause::NoFault) / prior(Cause::NoFault);
        for &cause in Cause::ALL.iter().filter(|&&c| c != Cause::WrongRefrigerant) {
            let expected = one * prior(cause);
            let found = single(cause);
            assert!(
                near(found, expected),
                "{}: {found} for {expected}",
                cause.key()
            );
        }
    }
}

/// Leaving a row out is the same as adding up over all that it might have read: by numbers, in
/// every class alike.
#[test]
fn a_row_left_out_is_a_row_added_up() {
    let model = belief::stored::model(Metering::AdjustableTxv);
    let givens = Givens {
        mean: [305.0, 298.0, 291.0, 5.6, 5.6],
        cov: core::array::from_fn(|i| {
            core::array::from_fn(|j| {
                if i == j {
                    [30.0, 9.0, 6.0, 0.1, 0.1][i]
                } else {
                    0.0
                }
            })
        }),
    };
    let number = |row, value| Number {
        row,
        value,
        sd: 0.5,
    };
    let read = [
        number(Row::CoilDew, 279.0),
        number(Row::BulbLine, 290.0),
        number(Row::LiquidSaturation, 318.0),
        number(Row::LiquidLine, 314.0),
        number(Row::OpenAir, 306.0),
    ];
    let ratio = |kind: &Kind| {
        let ground = Ground::new(model, Refrigerant::R410A, &read, &givens);
        let without = weigh(&ground, kind, &read).log;
        let step = 0.05;
        let all: f64 = (-2000..2000)
            .map(|i| {
                let mut more = read.to_vec();
                more.push(number(Row::Supply, 288.0 + f64::from(i) * step));
                let log = weigh(&ground, kind, &more).log;
                step * libm::exp(log - without)
            })
            .sum();
        all
    };
    let ratios: Vec<f64> = model.kinds.iter().flatten().map(ratio).collect();
    assert!(ratios.len() > 15);
    // A constant that belongs to the number of rows stands apart; it is the same for all.
    for ratio in &ratios {
        assert!((ratio / ratios[0] - 1.0).abs() < 1e-3, "{ratios:?}");
    }
}

/// Swapped hoses: the pressures say nothing of the causes.
#[test]
fn pressures_that_cannot_be_believed_are_left_out() {
    let setup = setup(Refrigerant::R410A, Metering::AdjustableTxv);
    let air = [
        (Field::OpenAir, 95.0),
        (Field::ReturnDryBulb, 78.0),
        (Field::SupplyDryBulb, 58.0),
        (Field::LiquidLine, 100.0),
    ];
    let plain = Reading::of(&air);
    let mut swapped = plain.clone();
    swapped.set(Field::SuctionPressure, Some(350.0));
    swapped.set(Field::LiquidPressure, Some(120.0));
    let of = |reading: &Reading| judge(&setup, reading, None).causes;
    for ((a, x), (b, y)) in of(&plain).into_iter().zip(of(&swapped)) {
        assert!(a == b && near(x, y), "{} {x}, {} {y}", a.key(), b.key());
    }
}

/// No model says what another refrigerant does: it keeps the weight that the table gives it.
#[test]
fn wrong_refrigerant_keeps_the_tables_weight() {
    let setup = setup(Refrigerant::R410A, Metering::AdjustableTxv);
    let reading = Reading::of(&[
        (Field::SuctionPressure, 90.0),
        (Field::SuctionLine, 60.0),
        (Field::LiquidPressure, 250.0),
        (Field::LiquidLine, 95.0),
        (Field::StandingPressure, 160.0),
        (Field::StandingAir, 90.0),
    ]);
    let said = judge(&setup, &reading, None);
    let table = said.assessment.findings.iter();
    let mut table = table.filter(|f| f.cause == Cause::WrongRefrigerant);
    let weight = table.next().expect("a row for each cause").weight;
    assert!(weight > 0.5 && near(said.probability(Cause::WrongRefrigerant), weight));
    assert_eq!(said.assessment.charge, ChargeReason::StandingFails);
}

/// Far from anything that the plant can do, the table speaks alone.
#[test]
fn what_the_model_cannot_explain_is_left_to_the_table() {
    let setup = setup(Refrigerant::R410A, Metering::AdjustableTxv);
    let odd = Reading::of(&[
        (Field::SuctionPressure, 60.0),
        (Field::SuctionLine, 92.0),
        (Field::LiquidPressure, 480.0),
        (Field::LiquidLine, 70.0),
        (Field::OpenAir, 68.0),
        (Field::SupplyDryBulb, 39.0),
        (Field::ReturnDryBulb, 74.0),
        (Field::LiquidLineEnd, 110.0),
    ]);
    let said = judge(&setup, &odd, None);
    println!("explained {:.3}", said.explained);
    assert!(said.explained < 0.5);
}

/// Every class of a device has a kind of its own, but for those of the return air.
#[test]
fn the_library_is_whole() {
    for metering in Metering::ALL {
        let model = belief::stored::model(metering);
        for (class, kind) in Class::ALL.iter().zip(&model.kinds) {
            let wanted = class.is_possible(metering) && !class.is_return_air();
            assert_eq!(kind.is_some(), wanted, "{class:?}");
            if let Some(kind) = kind {
                let weights: f64 = kind.parts.iter().map(|part| part.weight).sum();
                assert!((weights - 1.0).abs() < 0.03, "{class:?}: {weights}");
                assert!(
                    kind.parts
                        .windows(2)
                        .all(|two| two[0].share <= two[1].share)
                );
            }
        }
    }
}

/// What is stored is small and comes back as it was.
#[test]
fn the_stored_library_is_small_and_round() {
    let mut all = 0;
    for metering in [
        Metering::AdjustableTxv,
        Metering::Electronic,
        Metering::FixedOrifice,
    ] {
        let model = belief::stored::model(metering);
        let bytes = belief::stored::encode(metering, model).expect("every number fits its byte");
        all += bytes.len();
        let again = belief::stored::decode(metering, &bytes);
        let values = |model: &belief::library::Model| -> Vec<f64> {
            let kinds = model.kinds.iter().flatten();
            let means = kinds.flat_map(|kind| kind.parts.iter().flat_map(|part| part.mean));
            let surface = model.surface.iter().flatten().copied();
            surface.chain(means).collect()
        };
        let (before, after) = (values(model), values(&again));
        assert!(before.len() == after.len() && before.len() > 1000);
        assert!(before.iter().zip(&after).all(|(a, b)| near(*a, *b)));
    }
    // The page's budget for it is 40 kB after gzip; signed bytes hardly pack.
    assert!(all < 16 * 1024, "{all} bytes");
}

//! The next test: what it is for the pairs that paint the same picture, and what it is worth.

use belief::{Class, Judged, judge};
use diagnosis::{Cause, Field, Metering, Reading, Sign};
use refrigerant::Refrigerant;

mod support;
use support::units::{Build, Dice};
use support::{Depth, Visit, visit};

const SEED: u64 = 0x0E57_0001;
const R410A: (Refrigerant, Metering) = (Refrigerant::R410A, Metering::AdjustableTxv);

/// Fields that a test fills in.
fn fields(sign: Sign) -> &'static [Field] {
    match sign {
        Sign::LiquidLineDrop => &[Field::LiquidLineEnd],
        Sign::EnteringAirRise => &[Field::CondenserAir],
        Sign::CondenserAirRise => &[Field::CondenserAir, Field::CondenserLeavingAir],
        Sign::Amps => &[Field::Amps],
        Sign::SuctionLineDrop => &[Field::CoilPressure],
        Sign::Standing => &[Field::StandingPressure, Field::StandingAir],
        _ => &[],
    }
}

/// A basic reading out of a full one.
fn basic(full: &Reading) -> Reading {
    let mut left = Reading::default();
    for field in [
        Field::SuctionPressure,
        Field::SuctionLine,
        Field::LiquidPressure,
        Field::LiquidLine,
        Field::OpenAir,
        Field::ReturnDryBulb,
        Field::ReturnWetBulb,
        Field::SupplyDryBulb,
    ] {
        left.set(field, full.get(field));
    }
    left
}

fn done(visit: &Visit, before: &Reading, sign: Option<Sign>) -> Option<Reading> {
    let mut after = before.clone();
    match sign? {
        Sign::BulbAnswer => after.bulb_test = visit.reading.bulb_test,
        sign => {
            for &field in fields(sign) {
                after.set(field, visit.reading.get(field));
            }
        }
    }
    (after != *before).then_some(after)
}

fn calls(class: Class, count: usize, dice: &mut Dice) -> Vec<Visit> {
    let (refrigerant, metering) = R410A;
    (0..count)
        .filter_map(|i| {
            let share = (i as f64 + 0.5) / count as f64;
            let (full, usual) = (Depth::Full, (Build::Usual, 1.0));
            visit(dice, refrigerant, metering, class, share, full, usual)
        })
        .collect()
}

fn lost(said: &Judged, class: Class) -> f64 {
    let there = said.posterior.iter().find(|b| b.class == class);
    -libm::log2(there.map_or(1e-9, |b| b.probability.max(1e-9)))
}

/// Doubt falls more for each minute by the chosen test than by the table's next one.
#[test]
fn the_chosen_test_tells_more_for_a_minute_than_the_tables() {
    let mut dice = Dice(SEED);
    let (mut chosen, mut listed) = ((0.0, 0.0, 0), (0.0, 0.0, 0));
    let mut foretold = 0.0;
    for &class in Class::ALL {
        for visit in calls(class, 40, &mut dice) {
            let reading = basic(&visit.reading);
            let before = judge(&visit.setup, &reading, None);
            let gain = |after: &Reading| {
                lost(&before, class) - lost(&judge(&visit.setup, after, None), class)
            };
            if let Some(next) = &before.next_test
                && let Some(after) = done(&visit, &reading, next.test.sign)
            {
                chosen.0 += gain(&after);
                chosen.1 += next.test.minutes;
                chosen.2 += 1;
                foretold += next.gain_bits;
            }
            let first = &before.assessment.findings[0];
            let says = first.next_test();
            let mut tests = first.cause.tests(visit.setup.metering);
            if let Some(test) = tests.find(|test| test.says == says)
                && let Some(after) = done(&visit, &reading, test.sign)
            {
                listed.0 += gain(&after);
                listed.1 += test.minutes;
                listed.2 += 1;
            }
        }
    }
    println!(
        "chosen by the model: {:.3} bits a minute, {:.2} bits a test ({} tests, foretold {:.2}); \
         the table's next: {:.3} bits a minute, {:.2} bits a test ({} tests)",
        chosen.0 / chosen.1,
        chosen.0 / f64::from(chosen.2),
        chosen.2,
        foretold / f64::from(chosen.2),
        listed.0 / listed.1,
        listed.0 / f64::from(listed.2),
        listed.2,
    );
    assert!(chosen.2 > 200);
    assert!(chosen.0 / chosen.1 > 1.2 * listed.0 / listed.1);
}

/// The most common next test among calls of these causes.
fn mostly(causes: [Cause; 2]) -> Option<Sign> {
    let mut dice = Dice(SEED + 1);
    let mut found: Vec<Option<Sign>> = Vec::new();
    for first in causes {
        let class = Class {
            first,
            second: None,
        };
        for visit in calls(class, 40, &mut dice) {
            let said = judge(&visit.setup, &basic(&visit.reading), None);
            if causes.contains(&said.causes[0].0) {
                found.push(said.next_test.and_then(|next| next.test.sign));
            }
        }
    }
    let count = |sign: &Option<Sign>| found.iter().filter(|one| *one == sign).count();
    let most = found.iter().max_by_key(|sign| count(sign))?;
    *most
}

/// A block in the line and a starving valve are one picture until the line is walked; hot air and a
/// dirty condenser until the entering air is read (MODEL of the plant: physically the same state).
#[test]
fn what_parts_the_look_alikes_is_named() {
    let walk = mostly([Cause::ValveUnderfeeding, Cause::LiquidRestriction]);
    assert_eq!(walk, Some(Sign::LiquidLineDrop));
    let shade = mostly([Cause::HotAirRecirculation, Cause::CondenserFouled]);
    assert_eq!(shade, Some(Sign::EnteringAirRise));
}

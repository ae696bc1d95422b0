//! What a small step of charge does, by the reading before it.

use belief::Class;
use belief::library::{Changes, ChargeStep, MARKS, STEP};
use diagnosis::{Cause, Metering};
use refrigerant::Refrigerant;

use crate::units::{Build, Dice, Unit};

/// What a step of charge towards the right one does, by the reading before it.
pub fn step(
    dice: &mut Dice,
    refrigerants: &[Refrigerant],
    metering: Metering,
    cause: Cause,
    calls: usize,
) -> ChargeStep {
    let class = Class {
        first: cause,
        second: None,
    };
    let by = if cause == Cause::LowCharge {
        STEP
    } else {
        -STEP
    };
    // Before, and the change; subcooling and superheat.
    let mut seen: [Vec<(f64, f64)>; 2] = Default::default();
    for i in 0..calls {
        let refrigerant = refrigerants[i % refrigerants.len()];
        let share = (i as f64 + dice.unit()) / calls as f64;
        let Some(unit) = Unit::draw(dice, refrigerant, metering, Build::Usual) else {
            continue;
        };
        let Some(call) = unit.call(dice, class, share) else {
            continue;
        };
        let mut faults = call.faults;
        faults.charge += by;
        let Some(after) = unit.again(&call, &faults) else {
            continue;
        };
        let before = &call.point;
        let pairs = [
            (before.subcooling(), after.subcooling()),
            (before.superheat(), after.superheat()),
        ];
        for (list, (before, after)) in seen.iter_mut().zip(pairs) {
            list.push((before.k(), (after - before).k()));
        }
    }
    ChargeStep {
        changes: core::array::from_fn(|i| changes(&seen[i], &MARKS[i])),
    }
}

/// Mean and spread at each mark, by weights that fall to nothing at its neighbours; a mark that
/// hardly any call came near takes its neighbour's.
fn changes(seen: &[(f64, f64)], marks: &[f64; 8]) -> Changes {
    const LEAST_CALLS: f64 = 8.0;
    let near = |at: f64, k: usize| -> f64 {
        if at >= marks[k] {
            marks
                .get(k + 1)
                .map_or(1.0, |next| 1.0 - (at - marks[k]) / (next - marks[k]))
        } else if k > 0 {
            1.0 - (marks[k] - at) / (marks[k] - marks[k - 1])
        } else {
            1.0
        }
        .max(0.0)
    };
    let mut found: [Option<(f64, f64)>; 8] = [None; 8];
    for (k, place) in found.iter_mut().enumerate() {
        let weight: f64 = seen.iter().map(|(at, _)| near(*at, k)).sum();
        if weight < LEAST_CALLS {
            continue;
        }
        let mean = seen.iter().map(|(at, by)| near(*at, k) * by).sum::<f64>() / weight;
        let square = |by: f64| (by - mean) * (by - mean);
        let var = seen
            .iter()
            .map(|(at, by)| near(*at, k) * square(*by))
            .sum::<f64>()
            / weight;
        *place = Some((mean, var.sqrt()));
    }
    core::array::from_fn(|k| {
        let nearest = (0..8)
            .filter(|j| found[*j].is_some())
            .min_by_key(|j| j.abs_diff(k));
        nearest.and_then(|j| found[j]).unwrap_or((0.0, 5.0))
    })
}

//! The library as small numbers: written by the generator, read once by the page.
//!
//! One signed byte for nearly every number, in units that suit each answer; spreads on a scale of
//! equal ratios; two bytes for the sound surface. Some 12 kB in all.

use std::sync::OnceLock;

use diagnosis::Metering;

use crate::class::Class;
use crate::library::{ChargeStep, Kind, Model, Part};
use crate::row::{ANSWERS, GIVENS};
use crate::surface::TERMS;
use crate::table;

/// The unit of a mean, K (percent for amps), in the order of `Answer::ALL`.
const UNIT: [f64; ANSWERS] = [
    0.25, 0.25, 0.1, 0.15, 0.3, 0.25, 0.15, 0.2, 0.2, 0.25, 0.6, 0.6,
];
/// A lean is finer than a mean by this.
const LEAN: f64 = 0.25;
/// A refrigerant's own place is coarser for the discharge line only; unit over that of a mean.
const OWN: f64 = 0.5;
/// Unit of the surface, K.
const SURFACE: f64 = 0.005;
/// The constants of the surface are stored over these, K (percent).
const BASE: [f64; ANSWERS] = [
    280.0, 0.0, 0.0, 0.0, 320.0, 0.0, 0.0, 288.0, 0.0, 0.0, 0.0, 80.0,
];
/// Unit of a change by a step of charge, K.
const CHANGE: f64 = 0.15;
/// Smallest spread and the steps in which it doubles.
const SPREAD: (f64, f64) = (0.04, 20.0);

/// The model for a kind of metering device, ready for use.
pub fn model(metering: Metering) -> &'static Model {
    static VALVE: OnceLock<Model> = OnceLock::new();
    static MOTOR: OnceLock<Model> = OnceLock::new();
    static ORIFICE: OnceLock<Model> = OnceLock::new();
    let (place, bytes): (_, &[i8]) = match metering {
        Metering::AdjustableTxv | Metering::FixedTxv => (&VALVE, &table::TXV),
        Metering::Electronic => (&MOTOR, &table::EEV),
        Metering::FixedOrifice => (&ORIFICE, &table::ORIFICE),
    };
    place.get_or_init(|| decode(metering, bytes))
}

/// Rounds a model to its stored form.
///
/// # Errors
/// A number that the stored form cannot hold: what it is, and its value.
pub fn encode(metering: Metering, model: &Model) -> Result<Vec<i8>, (&'static str, f64)> {
    let mut out = Vec::new();
    let mut byte = |what, value: f64| -> Result<(), (&'static str, f64)> {
        let rounded = libm::round(value);
        if !(-128.0..=127.0).contains(&rounded) {
            return Err((what, value));
        }
        out.push(rounded as i8);
        Ok(())
    };
    for (row, base) in model.surface.iter().zip(BASE) {
        for (i, term) in row.iter().enumerate() {
            let over = if i == 0 { term - base } else { *term };
            let steps = libm::round(over / SURFACE);
            let high = libm::floor((steps + 128.0) / 256.0);
            byte("surface", high)?;
            byte("surface", steps - 256.0 * high)?;
        }
    }
    for own in &model.own {
        for (value, unit) in own.iter().zip(UNIT) {
            byte("a refrigerant's own", value / (unit * OWN))?;
        }
    }
    for (class, kind) in Class::ALL.iter().zip(&model.kinds) {
        let Some(kind) = kind.as_ref().filter(|_| is_stored(*class, metering)) else {
            continue;
        };
        for (a, unit) in UNIT.iter().enumerate() {
            let sd = kind.spread[a][a].sqrt();
            byte("spread", SPREAD.1 * libm::log2(sd / SPREAD.0) - 128.0)?;
            for b in 0..a {
                let other = kind.spread[b][b].sqrt();
                byte("correlation", 127.0 * kind.spread[a][b] / (sd * other))?;
            }
            for lean in kind.lean[a] {
                byte("lean", lean / (unit * LEAN))?;
            }
        }
        byte("spread of share", 255.0 * kind.share_sd)?;
        for along in kind.share_along {
            byte("share along an answer", 127.0 * along)?;
        }
        byte("parts", kind.parts.len() as f64)?;
        for part in &kind.parts {
            byte("weight", 255.0 * part.weight - 128.0)?;
            byte("share", 255.0 * part.share - 128.0)?;
            for (mean, unit) in part.mean.iter().zip(UNIT) {
                byte("mean", (mean / unit).clamp(-127.0, 127.0))?;
            }
        }
    }
    for (mean, sd) in model.steps.iter().flat_map(|step| step.changes).flatten() {
        byte("change by a step of charge", mean / CHANGE)?;
        byte("spread of that change", sd / CHANGE)?;
    }
    Ok(out)
}

/// What [`encode`] wrote. Numbers that are missing at the end are zero.
pub fn decode(metering: Metering, bytes: &[i8]) -> Model {
    let mut bytes = bytes.iter().map(|byte| f64::from(*byte));
    let mut next = || bytes.next().unwrap_or(0.0);
    let mut surface = [[0.0; TERMS]; ANSWERS];
    for (row, base) in surface.iter_mut().zip(BASE) {
        for (i, term) in row.iter_mut().enumerate() {
            let steps = 256.0 * next() + next();
            *term = steps * SURFACE + if i == 0 { base } else { 0.0 };
        }
    }
    let own = refrigerant::Refrigerant::ALL
        .iter()
        .map(|_| core::array::from_fn(|a| next() * UNIT[a] * OWN))
        .collect();
    let kinds = Class::ALL
        .iter()
        .map(|&class| is_stored(class, metering).then(|| kind(&mut next)))
        .collect();
    let mut steps = <[ChargeStep; 2]>::default();
    for change in steps
        .iter_mut()
        .flat_map(|step| &mut step.changes)
        .flatten()
    {
        *change = (next() * CHANGE, next() * CHANGE);
    }
    Model {
        surface,
        own,
        kinds,
        steps,
    }
}

fn kind(next: &mut impl FnMut() -> f64) -> Kind {
    let mut spread = [[0.0; ANSWERS]; ANSWERS];
    let mut lean = [[0.0; 3]; ANSWERS];
    let mut sds = [0.0; ANSWERS];
    for a in 0..ANSWERS {
        sds[a] = SPREAD.0 * libm::exp2((next() + 128.0) / SPREAD.1);
        spread[a][a] = sds[a] * sds[a];
        for b in 0..a {
            spread[a][b] = next() / 127.0 * sds[a] * sds[b];
            spread[b][a] = spread[a][b];
        }
        for lean in &mut lean[a] {
            *lean = next() * UNIT[a] * LEAN;
        }
    }
    let share_sd = next() / 255.0;
    let share_along = core::array::from_fn(|_| next() / 127.0);
    let count = next().max(0.0) as usize;
    let mut parts: Vec<Part> = (0..count)
        .map(|_| Part {
            // Half a step keeps a rare part from never being.
            weight: (next() + 128.0).max(0.5) / 255.0,
            share: (next() + 128.0) / 255.0,
            mean: core::array::from_fn(|a| next() * UNIT[a]),
        })
        .collect();
    let all: f64 = parts.iter().map(|part| part.weight).sum();
    for part in &mut parts {
        part.weight /= all;
    }
    Kind {
        spread,
        lean,
        share_sd,
        share_along,
        parts,
    }
}

fn is_stored(class: Class, metering: Metering) -> bool {
    class.is_possible(metering) && !class.is_return_air()
}

const _: () = assert!(
    GIVENS == 5,
    "the surface's terms are laid out for five givens"
);

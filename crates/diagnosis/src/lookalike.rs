//! The few rules that part causes which paint the same picture.

use crate::band::{Banded, Target, Verdict};
use crate::cause::Cause;
use crate::checked::Checked;
use crate::derived::{Derived, Standing};
use crate::setup::{Gate, Metering, Setup};
use quantity::TemperatureDifference;

/// By how much the rules favour (over 1) or disfavour (under 1) a cause on this reading.
pub(crate) fn factor(cause: Cause, checked: &Checked, derived: &Derived) -> f64 {
    by(&[BEFORE, PICTURE].concat(), cause, checked, derived)
}

/// How common a cause is before the running signs are looked at: its own share among calls, tilted
/// by the device, by what was looked at before, and by a standing pressure off its chart. No unit;
/// only ratios between causes mean something.
///
/// For those that weigh the running signs by other means than the trade's table.
pub fn tilted_prior(cause: Cause, checked: &Checked, derived: &Derived) -> f64 {
    cause.words().prior * by(BEFORE, cause, checked, derived)
}

fn by(rules: &[Rule], cause: Cause, checked: &Checked, derived: &Derived) -> f64 {
    let setup = checked.setup();
    rules
        .iter()
        .map(|rule| rule(cause, setup, derived))
        .product()
}

type Rule = fn(Cause, &Setup, &Derived) -> f64;

/// "Nothing wrong" means superheat and subcooling in their bands: what is surely outside one is
/// not nothing, however sound the rest looks.
fn nothing_is_outside_its_band(cause: Cause, _: &Setup, derived: &Derived) -> f64 {
    if cause != Cause::NoFault {
        return 1.0;
    }
    let outside = |value: Option<Banded<TemperatureDifference>>, target: &Target| {
        value.is_some_and(|value| matches!(value.against(target), Verdict::Above | Verdict::Below))
    };
    let superheat =
        derived.superheat_target_known && outside(derived.superheat, &derived.superheat_target);
    let subcooling = outside(derived.subcooling, &derived.subcooling_target);
    [superheat, subcooling]
        .iter()
        .map(|&outside| if outside { 0.1 } else { 1.0 })
        .product()
}

/// What is known without the running signs.
const BEFORE: &[Rule] = &[
    no_bulb_without_a_valve,
    no_stem_in_an_orifice,
    gate,
    off_the_chart,
];
/// What mends the table's picture of the running signs.
const PICTURE: &[Rule] = &[
    nothing_is_outside_its_band,
    gas_lifts_head_as_far_as_subcooling,
];

/// Only a thermostatic valve has a bulb.
fn no_bulb_without_a_valve(cause: Cause, setup: &Setup, _: &Derived) -> f64 {
    if cause == Cause::BulbContact && !setup.metering.has_bulb() {
        0.0
    } else {
        1.0
    }
}

/// Of what makes a valve starve or flood (stem, bulb charge, a pin that sticks, screen, size) an
/// orifice has only the screen and the size. Common practice, no source.
fn no_stem_in_an_orifice(cause: Cause, setup: &Setup, _: &Derived) -> f64 {
    let of_a_valve = matches!(cause, Cause::ValveUnderfeeding | Cause::ValveOverfeeding);
    if of_a_valve && setup.metering == Metering::FixedOrifice {
        0.4
    } else {
        1.0
    }
}

/// What was looked at and found right is less likely; what was not looked at is more so.
fn gate(cause: Cause, setup: &Setup, _: &Derived) -> f64 {
    let Gate {
        held,
        bulb_seen_right,
    } = setup.gate;
    match cause {
        Cause::BulbContact if bulb_seen_right => 0.6,
        Cause::BulbContact => 1.5,
        Cause::LowAirflow | Cause::CondenserFouled if !held => 1.5,
        _ => 1.0,
    }
}

/// Gas lifts condensing as read at least as far as it lifts subcooling, since the liquid itself
/// hardly changes; overcharge stacks liquid and lifts subcooling two or three times as far.
/// A sound condenser stands some 20 °F over its air, give or take 4.
///
/// # Source
/// The model of this project: gas lifts subcooling by 0.77 of the lift of head, 20 % overcharge by
/// 2.7 times. The 20 ±4 °F is a trade rule.
fn gas_lifts_head_as_far_as_subcooling(cause: Cause, _: &Setup, derived: &Derived) -> f64 {
    if cause != Cause::NonCondensables {
        return 1.0;
    }
    let head = derived
        .condensing_over_entering
        .or(derived.condensing_over_open);
    let (Some(head), Some(subcooling)) = (head, derived.subcooling) else {
        return 1.0;
    };
    let head_lift = head.value.f() - 20.0;
    let subcooling_lift = (subcooling.value - derived.subcooling_target.middle()).f();
    let squares = [
        4.0,
        1.5,
        head.half_width.f() / 2.0,
        subcooling.half_width.f() / 2.0,
    ];
    let sigma = squares.iter().map(|part| part * part).sum::<f64>().sqrt();
    let too_far = (subcooling_lift - 0.9 * head_lift) / sigma;
    // Only ever against gas; nothing where the tools cannot tell one lift from the other.
    (2.0 / (1.0 + libm::exp(1.7 * too_far))).min(1.0)
}

/// Off the chart with the system off, only gas or another refrigerant is left. Gas rarely lifts the
/// standing pressure by more than a third, and nothing but another refrigerant puts it under.
fn off_the_chart(cause: Cause, _: &Setup, derived: &Derived) -> f64 {
    let Some(standing) = derived.standing.filter(Standing::is_off_chart) else {
        return 1.0;
    };
    match cause {
        Cause::NonCondensables if standing.ratio > 1.35 => 0.15,
        Cause::NonCondensables | Cause::WrongRefrigerant => 1.0,
        _ => 0.002,
    }
}

//! What the linear plant at rest says of hunting, against runs in time.

use cycle::{Faults, Run, System, Tail, Traits};
use refrigerant::Refrigerant;

mod support;
use support::*;

/// A valve without friction, which the linear plant knows nothing of.
fn smooth(refrigerant: Refrigerant, bulb_lag_s: f64, valve_size: f64) -> System {
    let traits = Traits {
        bulb_lag_s,
        valve_size,
        friction: 0.0,
        ..Traits::default()
    };
    with(refrigerant, TXV, &traits)
}

/// Superheat (°F) each half second after a small push: a quarter turn out and back. The first
/// `wait` seconds are left out.
fn pushed(system: System, turns: f64, wait: f64) -> Vec<f64> {
    let mut run = Run::at_rest(system, condition_a(), Faults::NONE, turns, Tail::NONE)
        .expect("an operating point");
    run.turn_quarters(1);
    run.advance(5.0).expect("inside the model");
    run.turn_quarters(-1);
    run.advance(wait).expect("inside the model");
    (0..1200)
        .map(|_| {
            run.advance(0.5).expect("inside the model");
            run.point().superheat().f()
        })
        .collect()
}

fn swing(part: &[f64]) -> f64 {
    let most = part.iter().copied().fold(f64::MIN, f64::max);
    most - part.iter().copied().fold(f64::MAX, f64::min)
}

/// Mean time between rises through the mean, s.
fn period(trace: &[f64]) -> f64 {
    let mean = trace.iter().sum::<f64>() / trace.len() as f64;
    let rises: Vec<usize> = (1..trace.len())
        .filter(|&at| trace[at - 1] < mean && trace[at] >= mean)
        .collect();
    let (first, last) = (rises[0], rises[rises.len() - 1]);
    0.5 * (last - first) as f64 / (rises.len() - 1) as f64
}

/// Whether a small push dies or grows is what the sign of the damping says, from nimble bulbs to
/// slow ones, valves of the right size to three times it, set to open or to close; where it is near
/// nothing (under 0.01) ten minutes do not tell. The period of growing swings is that of the pair
/// within 16 %: they have grown to where the needle meets its ends by then, and linear ends there.
#[test]
fn damping_foretells_whether_a_push_dies_or_grows() {
    let (mut dies, mut grows, mut worst) = (0, 0, 0.0_f64);
    for refrigerant in FOUR {
        for lag in [5.0, 7.0, 10.0, 15.0, 25.0, 60.0] {
            for size in [1.0, 1.8, 3.0] {
                for turns in [-2.0, 0.0, 3.0] {
                    let system = smooth(refrigerant, lag, size);
                    let found = system.stability(&condition_a(), &Faults::NONE, turns);
                    let Some(told) = found.expect("an operating point") else {
                        continue;
                    };
                    if told.damping_ratio.abs() < 0.01 {
                        continue;
                    }
                    let trace = pushed(system, turns, 600.0);
                    let (early, late) = (swing(&trace[..600]), swing(&trace[600..]));
                    let name = format!("{} {lag} s x{size} {turns}", refrigerant.name());
                    let line = format!("{name}: {told:?}, swings {early:.3}, then {late:.3} F");
                    if told.hunts() {
                        grows += 1;
                        assert!(late > 0.5 && late > 0.8 * early, "{line}");
                        let off = period(&trace) / told.period_s - 1.0;
                        println!("{line}, period off {:.0} %", 100.0 * off);
                        worst = worst.max(off.abs());
                    } else {
                        dies += 1;
                        assert!(late < 0.05 || late < 0.7 * early, "{line}");
                    }
                }
            }
        }
    }
    println!(
        "{dies} die, {grows} grow; worst period off by {:.1} %",
        100.0 * worst
    );
    assert!(dies > 60 && grows > 15 && worst < 0.16);
}

/// While a push dies, the linear plant gives its rhythm and how fast it dies.
#[test]
fn a_dying_push_swings_in_the_rhythm_foretold() {
    let mut checked = 0;
    for refrigerant in FOUR {
        for lag in [12.0, 15.0, 20.0, 25.0] {
            let system = smooth(refrigerant, lag, 1.0);
            let found = system.stability(&condition_a(), &Faults::NONE, 0.0);
            let told = found.expect("an operating point").expect("it swings");
            if !(0.01..0.12).contains(&told.damping_ratio) {
                continue;
            }
            let trace = pushed(system, 0.0, 60.0);
            let some = &trace[..(6.0 * told.period_s) as usize];
            let name = refrigerant.name();
            near(
                &format!("{name} {lag} s: period"),
                period(some),
                told.period_s,
                0.01 * told.period_s,
            );
            // One swing later the amplitude is smaller by this.
            let one = (2.0 * told.period_s) as usize;
            let ratio = swing(&trace[one..2 * one]) / swing(&trace[..one]);
            let z = told.damping_ratio;
            let foretold = libm::exp(-core::f64::consts::TAU * z / (1.0 - z * z).sqrt());
            near(&format!("{name}: one swing later"), ratio, foretold, 0.02);
            checked += 1;
        }
    }
    assert!(checked >= 3, "{checked}");
}

/// Design: damping falls as superheat is set lower, and a slow bulb alone damps.
#[test]
fn damping_falls_with_superheat_and_with_a_nimble_bulb() {
    for refrigerant in FOUR {
        let damping = |lag, turns| {
            let found =
                smooth(refrigerant, lag, 1.0).stability(&condition_a(), &Faults::NONE, turns);
            found
                .expect("an operating point")
                .map_or(1.0, |told| told.damping_ratio)
        };
        assert!(damping(30.0, -2.0) < damping(30.0, 0.0));
        assert!(damping(15.0, 0.0) < damping(60.0, 0.0));
    }
}

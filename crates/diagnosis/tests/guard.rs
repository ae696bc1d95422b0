//! The charge guard: what it never says, and each of its reasons once.
//!
//! The laws are the safety of it: never add with subcooling normal or high; never remove for hot
//! entering air, nor while gas or a wrong refrigerant is in play.

use diagnosis::{
    Assessment, Cause, ChargeAdvice, ChargeReason, Field, Gate, Metering, Pedigree, Reading, Reads,
    Setup, Sign, Target, Verdict, assess,
};
use proptest::prelude::*;
use refrigerant::Refrigerant;

mod support;
use support::random::{any_job, any_nonsense, any_setup};
use support::{Circuit, place, sharp_tools, standing};

fn reads(said: &Assessment, sign: Sign) -> Option<Reads> {
    let evidence = &said.findings[0].evidence;
    let seen = evidence.iter().find(|(seen, _)| seen.sign == sign);
    seen.map(|(seen, _)| seen.reads())
}

/// Everything that must hold of one answer, whatever was read.
fn holds(setup: &Setup, said: &Assessment) -> Result<(), TestCaseError> {
    let (advice, why) = (said.charge_advice(), said.charge);
    let derived = &said.derived;
    let off_chart = derived
        .standing
        .is_some_and(|standing| standing.is_off_chart());
    prop_assert_eq!(advice == ChargeAdvice::Recharge, off_chart, "{:?}", why);
    if !matches!(advice, ChargeAdvice::Add | ChargeAdvice::Remove) {
        return Ok(());
    }
    // To touch the charge at all.
    prop_assert!(setup.gate.held, "gate open");
    prop_assert!(said.alarm.is_none(), "superheat under its minimum");
    let steady = derived
        .superheat_swing
        .is_none_or(|(a, b)| (a - b).f().abs() <= 4.0);
    prop_assert!(steady, "needle swings");
    prop_assert!(!said.doubts.iter().any(diagnosis::Doubt::voids_pressures));
    let subcooling = derived
        .subcooling
        .map(|it| (it, it.against(&derived.subcooling_target)));
    let superheat = derived
        .superheat
        .map(|it| it.against(&derived.superheat_target));
    let orifice = setup.metering == Metering::FixedOrifice;
    let target = if orifice {
        derived.superheat_target
    } else {
        derived.subcooling_target
    };
    prop_assert_ne!(target.pedigree, Pedigree::RuleOfThumb);
    match advice {
        ChargeAdvice::Add => {
            let (subcooling, verdict) = subcooling.expect("never add with subcooling not read");
            // Normal or high.
            prop_assert!(subcooling.lowest() < derived.subcooling_target.low);
            prop_assert!(!matches!(verdict, Verdict::InBand | Verdict::Above));
            if orifice {
                prop_assert_eq!(superheat, Some(Verdict::Above));
                // The plate's own subcooling, where there is one, must be missed beyond the tools.
                prop_assert!(setup.subcooling_target.is_none() || verdict == Verdict::Below);
            } else {
                prop_assert_eq!(verdict, Verdict::Below);
            }
            prop_assert_eq!(
                place(&said.findings, Cause::LowCharge).min(1),
                place(&said.findings, Cause::LowCharge),
                "low charge leads the faults"
            );
        }
        _ => {
            prop_assert_ne!(
                reads(said, Sign::EnteringAirRise),
                Some(Reads::Above),
                "hot entering air"
            );
            if orifice {
                prop_assert_eq!(superheat, Some(Verdict::Below));
            } else {
                prop_assert_eq!(subcooling.map(|(_, verdict)| verdict), Some(Verdict::Above));
                prop_assert_ne!(
                    reads(said, Sign::Superheat),
                    Some(Reads::Above),
                    "liquid backs up"
                );
            }
            let share = |cause| said.findings[place(&said.findings, cause)].weight;
            let gas = share(Cause::NonCondensables) + share(Cause::WrongRefrigerant);
            // Off the chart by no more than a few psi, as far as fair tools can see; or gas is no
            // more than a twentieth as likely as overcharge.
            let passed = derived
                .standing
                .is_some_and(|standing| standing.off_chart.psi().abs() <= 4.0);
            prop_assert!(
                passed || gas <= 0.05 * share(Cause::Overcharge) + 1e-12,
                "gas in play"
            );
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn the_guard_holds_on_any_circuit((setup, reading) in any_job()) {
        holds(&setup, &assess(&setup, &reading))?;
    }

    /// The same with plates and gate in order, where it could act most often.
    #[test]
    fn the_guard_holds_where_it_may_act((setup, reading) in any_job()) {
        let orifice = setup.metering == Metering::FixedOrifice;
        let setup = Setup {
            gate: Gate::HELD,
            instruments: sharp_tools(),
            superheat_target: Some(Target::from_f(8.0, 12.0, Pedigree::DataPlate)),
            subcooling_target: (!orifice).then(|| Target::from_f(7.0, 13.0, Pedigree::DataPlate)),
            ..setup
        };
        holds(&setup, &assess(&setup, &reading))?;
    }

    #[test]
    fn the_guard_holds_on_nonsense(setup in any_setup(), reading in any_nonsense()) {
        holds(&setup, &assess(&setup, &reading))?;
    }
}

/// The laws are empty if nothing is ever added or removed: both happen, on both kinds of metering.
#[test]
fn the_guard_is_not_silent() {
    for metering in [Metering::AdjustableTxv, Metering::FixedOrifice] {
        let sound = Circuit::sound(Refrigerant::R410A, metering);
        let low = Circuit {
            superheat: 30.0,
            ..sound.undercharged()
        };
        assert_eq!(
            by_chart(low, 0.0).charge_advice(),
            ChargeAdvice::Add,
            "{metering:?}"
        );
        let superheat = if metering == Metering::FixedOrifice {
            6.0
        } else {
            10.0
        };
        let full = Circuit {
            superheat,
            ..sound.overcharged()
        };
        let said = by_chart(full, 0.0);
        assert_eq!(
            said.charge_advice(),
            ChargeAdvice::Remove,
            "{metering:?} {:?}",
            said.charge
        );
    }
}

/// A circuit with its maker's targets, sharp tools and a standing test.
fn by_chart(circuit: Circuit, standing_over_psi: f64) -> Assessment {
    let (setup, mut reading) = charted(circuit);
    standing(&mut reading, circuit.refrigerant, 85.0, standing_over_psi);
    assess(&setup, &reading)
}

/// An orifice gets its superheat from the maker's chart at this weather; a valve its plate.
fn charted(circuit: Circuit) -> (Setup, Reading) {
    let mut setup = Setup {
        instruments: sharp_tools(),
        ..circuit.setup()
    };
    if circuit.metering == Metering::FixedOrifice {
        setup.superheat_target = Some(Target::from_f(8.0, 18.0, Pedigree::Maker));
    }
    (setup, circuit.reading())
}

fn sound() -> Circuit {
    Circuit::sound(Refrigerant::R410A, Metering::AdjustableTxv)
}

fn orifice() -> Circuit {
    Circuit {
        superheat: 13.0,
        ..Circuit::sound(Refrigerant::R410A, Metering::FixedOrifice)
    }
}

/// One case for each reason.
fn case(reason: ChargeReason) -> Assessment {
    use ChargeReason::*;
    let changed = |circuit: Circuit, change: &dyn Fn(&mut Setup, &mut Reading)| {
        let (mut setup, mut reading) = charted(circuit);
        change(&mut setup, &mut reading);
        assess(&setup, &reading)
    };
    let plain = |circuit| changed(circuit, &|_, _| ());
    match reason {
        StandingFails => by_chart(sound().overcharged(), 40.0),
        SuperheatUnderMinimum => plain(Circuit {
            superheat: 4.0,
            ..sound().undercharged()
        }),
        GateOpen => changed(sound().undercharged(), &|setup, _| setup.gate = Gate::OPEN),
        ReadingDoubted => changed(sound().undercharged(), &|_, reading| {
            let (low, high) = (Field::SuctionPressure, Field::LiquidPressure);
            let (suction, liquid) = (reading.get(low), reading.get(high));
            reading.set(low, liquid);
            reading.set(high, suction);
        }),
        Unsteady => changed(sound().undercharged(), &|_, reading| {
            let psig = reading.get(Field::SuctionPressure).expect("read");
            reading.set(Field::SuctionLow, Some(psig - 8.0));
            reading.set(Field::SuctionHigh, Some(psig + 8.0));
        }),
        NotRead => changed(sound().undercharged(), &|_, reading| {
            reading.set(Field::LiquidLine, None)
        }),
        NoWeatherTarget => changed(orifice(), &|setup, reading| {
            setup.superheat_target = None;
            reading.set(Field::ReturnWetBulb, Some(57.0));
            reading.set(Field::CondenserAir, Some(105.0));
        }),
        TargetIsRuleOfThumb => changed(sound().undercharged(), &|setup, _| {
            setup.subcooling_target = None
        }),
        ToolsCannotTell => plain(Circuit {
            subcooling: 7.2,
            ..sound()
        }),
        InBand => plain(sound()),
        SubcoolingNotLow => plain(Circuit {
            superheat: 30.0,
            evaporating: 32.0,
            ..orifice()
        }),
        HotEnteringAir => plain(Circuit {
            subcooling: 20.0,
            ..sound().recirculating()
        }),
        DirtyFirst => plain(Circuit {
            subcooling: 18.0,
            ..sound().fouled()
        }),
        LiquidBacksUp => plain(Circuit {
            subcooling: 20.0,
            ..sound().underfed()
        }),
        GasNotRuledOut => plain(lifted()),
        CausesCompete => plain(Circuit {
            subcooling: 1.0,
            line_drop: 12.0,
            ..sound().underfed()
        }),
        PlantDisagrees => {
            let mut said = plain(sound().undercharged());
            said.charge = said.charge.withheld();
            said
        }
        LowAndConsistent => plain(sound().undercharged()),
        HighAndConsistent => by_chart(sound().overcharged(), 0.0),
    }
}

#[test]
fn each_reason_has_a_case() {
    for &reason in ChargeReason::ALL {
        let said = case(reason);
        assert_eq!(
            said.charge,
            reason,
            "{}: {}",
            reason.key(),
            support::told(&said.findings)
        );
        assert_eq!(said.charge_advice(), reason.advice());
        assert!(!reason.says().is_empty() && !reason.key().is_empty());
    }
}

/// The model of the plant may hold a hand back, never loosen one.
#[test]
fn a_withheld_reason_never_touches_the_charge_and_keeps_what_forbids() {
    for &reason in ChargeReason::ALL {
        let left = reason.withheld();
        assert!(!matches!(
            left.advice(),
            ChargeAdvice::Add | ChargeAdvice::Remove
        ));
        let acts = matches!(reason.advice(), ChargeAdvice::Add | ChargeAdvice::Remove);
        assert_eq!(left == reason, !acts, "{}", reason.key());
    }
}

/// Hot entering air and too much subcooling at once, standing test passed: clear the air first.
#[test]
fn hot_entering_air_never_removes_even_with_subcooling_high() {
    for subcooling in [14.0, 18.0, 24.0, 30.0] {
        let circuit = Circuit {
            subcooling,
            ..sound().recirculating()
        };
        let said = by_chart(circuit, 0.0);
        assert_eq!(
            said.charge_advice(),
            ChargeAdvice::Leave,
            "{subcooling}: {:?}",
            said.charge
        );
    }
}

/// The heart of it: a starved coil, whatever stands behind it, is never an undercharge while liquid
/// backs up to the condenser.
#[test]
fn a_starved_coil_with_subcooling_normal_or_high_never_adds() {
    for metering in Metering::ALL {
        for refrigerant in Refrigerant::ALL {
            for subcooling in [9.0, 12.0, 16.0, 22.0] {
                let starved = Circuit::sound(refrigerant, metering).underfed();
                let circuit = Circuit {
                    subcooling,
                    ..starved
                };
                let (setup, reading) = charted(circuit);
                support::never_adds(&assess(&setup, &reading), refrigerant.name());
            }
        }
    }
}

/// Head lifted nearly as far as subcooling: overcharge or gas, as the readings go.
fn lifted() -> Circuit {
    Circuit {
        condensing: 124.0,
        subcooling: 19.0,
        discharge: sound().discharge_at(124.0, 0.0),
        ..sound().overcharged()
    }
}

/// Gas lifts head as far as subcooling: while that may be, the standing test comes first.
#[test]
fn removing_waits_for_the_standing_test() {
    let full = lifted();
    let (setup, reading) = charted(full);
    assert_eq!(
        assess(&setup, &reading).charge,
        ChargeReason::GasNotRuledOut
    );
    assert_eq!(by_chart(full, 0.0).charge_advice(), ChargeAdvice::Remove);
    assert_eq!(by_chart(full, 2.0).charge_advice(), ChargeAdvice::Remove);
    assert_eq!(by_chart(full, 40.0).charge_advice(), ChargeAdvice::Recharge);
    // Tools that cannot see 10 psi cannot pass the test.
    let mut tested = reading;
    standing(&mut tested, full.refrigerant, 85.0, 0.0);
    let blunt = Setup {
        instruments: support::tools(12.0, 2.0, 0.5),
        ..setup
    };
    assert_ne!(
        assess(&blunt, &tested).charge_advice(),
        ChargeAdvice::Remove
    );
    // Gauges and pipes alone, no air: nothing says how far head is lifted.
    let mut bare = Reading::default();
    for field in [
        Field::SuctionPressure,
        Field::SuctionLine,
        Field::LiquidPressure,
        Field::LiquidLine,
    ] {
        bare.set(field, sound().overcharged().reading().get(field));
    }
    assert_eq!(assess(&setup, &bare).charge, ChargeReason::GasNotRuledOut);
}

/// DIFFERENCE: where subcooling stands three times as far over its target as head over its usual,
/// gas is taken as ruled out (under a twentieth of overcharge) and the standing test is not asked
/// for: the liquid of a gassy circuit is hardly colder than it was.
#[test]
fn liquid_stacked_far_beyond_the_lift_of_head_is_not_gas() {
    let full = Circuit {
        condensing: 118.0,
        subcooling: 26.0,
        ..sound().overcharged()
    };
    let (setup, reading) = charted(full);
    let said = assess(&setup, &reading);
    let share = |cause| said.findings[place(&said.findings, cause)].weight;
    assert!(share(Cause::NonCondensables) < 0.05 * share(Cause::Overcharge));
    assert_eq!(said.charge_advice(), ChargeAdvice::Remove);
}

//! Pairs that paint the same picture, each with its twin: change the reading that parts them and
//! the other wins.
//!
//! Source: the trade's rules for telling them apart (trade articles and makers' sheets, listed in
//! DEVELOPERS.md); the one a test stands on is named beside it.

use diagnosis::{
    Assessment, Cause, ChargeAdvice, Field, Finding, Gate, MeasuringPoint, Metering, Setup, assess,
};
use refrigerant::Refrigerant;

mod support;
use support::{Circuit, both_lead, leads, never_adds, place, psig, standing, told};

/// Without glide, little and much of it.
fn each(case: impl Fn(Circuit, &str)) {
    for refrigerant in [
        Refrigerant::R410A,
        Refrigerant::R22,
        Refrigerant::R134a,
        Refrigerant::R407C,
        Refrigerant::R454B,
    ] {
        case(
            Circuit::sound(refrigerant, Metering::AdjustableTxv),
            refrigerant.name(),
        );
    }
}

fn of(said: &Assessment, cause: Cause) -> &Finding {
    &said.findings[place(&said.findings, cause)]
}

/// All three starve the coil; subcooling parts low charge (low) from the other two.
#[test]
fn subcooling_parts_low_charge_from_a_starving_valve() {
    each(|sound, name| {
        let starved = sound.underfed();
        leads(&starved.assessed(), Cause::ValveUnderfeeding, name);
        never_adds(&starved.assessed(), name);
        let twin = Circuit {
            subcooling: 1.0,
            ..starved
        };
        leads(&twin.assessed(), Cause::LowCharge, name);
    });
}

/// Walk the liquid line: a drop before the valve is a block; none up to the inlet leaves the valve.
#[test]
fn a_drop_along_the_line_parts_a_block_from_the_valve() {
    each(|sound, name| {
        let valve = Circuit {
            subcooling: 17.0,
            ..sound.underfed()
        };
        leads(&valve.assessed(), Cause::ValveUnderfeeding, name);
        let twin = Circuit {
            line_drop: 12.0,
            ..valve
        };
        leads(&twin.assessed(), Cause::LiquidRestriction, name);
        never_adds(&twin.assessed(), name);
    });
}

/// Both high and the line not walked yet: trade order looks at drier and screen before the stem,
/// against some makers' two-by-two. Both lead, the walk is next, and the charge stays.
#[test]
fn superheat_and_subcooling_high_asks_for_the_walk_before_the_stem() {
    each(|sound, name| {
        let circuit = Circuit {
            subcooling: 19.0,
            ..sound.underfed()
        };
        let mut reading = circuit.reading();
        reading.set(Field::LiquidLineEnd, None);
        let said = assess(&circuit.setup(), &reading);
        both_lead(
            &said,
            [Cause::ValveUnderfeeding, Cause::LiquidRestriction],
            name,
        );
        for finding in &said.findings[..2] {
            assert!(
                finding.next_test().starts_with("Walk the liquid line"),
                "{name}"
            );
            assert!(finding.cause.words().sources_differ.is_some());
        }
        never_adds(&said, name);
    });
}

/// A cold drier with low subcooling can be low charge flashing there, not the drier (a trade
/// article on driers). With subcooling high the same drop is the drier.
#[test]
fn a_cold_drier_with_low_subcooling_is_not_condemned() {
    each(|sound, name| {
        let drop = |circuit: Circuit| {
            let mut reading = circuit.reading();
            let liquid = reading.get(Field::LiquidLine).expect("read");
            reading.set(Field::LiquidLineEnd, None);
            reading.set(Field::DrierIn, Some(liquid));
            reading.set(Field::DrierOut, Some(liquid - 4.0));
            assess(&circuit.setup(), &reading)
        };
        leads(&drop(sound.undercharged()), Cause::LowCharge, name);
        let twin = Circuit {
            subcooling: 18.0,
            ..sound.undercharged()
        };
        leads(&drop(twin), Cause::LiquidRestriction, name);
    });
}

/// Both low in suction. Airflow: superheat normal to low and split high; starved: the reverse.
#[test]
fn split_and_superheat_part_a_starved_coil_from_a_coil_short_of_air() {
    each(|sound, name| {
        let air = sound.short_of_air();
        leads(&air.assessed(), Cause::LowAirflow, name);
        let twin = Circuit {
            superheat: 28.0,
            air_split: 13.0,
            ..air
        };
        leads(&twin.assessed(), Cause::ValveUnderfeeding, name);
        // The split alone, and superheat still low: no pair of the table, but airflow it is not.
        let split_only = Circuit {
            air_split: 13.0,
            ..air
        };
        let weight = |circuit: Circuit| of(&circuit.assessed(), Cause::LowAirflow).weight;
        assert!(weight(split_only) < weight(air) / 3.0, "{name}");
    });
}

/// Superheat low in all. Suction high: valve or bulb. Suction low: load or airflow.
#[test]
fn suction_parts_overfeeding_from_too_little_heat() {
    each(|sound, name| {
        let flooded = Circuit {
            air_split: 20.0,
            ..sound.overfed()
        };
        let said = flooded.assessed();
        both_lead(&said, [Cause::ValveOverfeeding, Cause::BulbContact], name);
        let twin = Circuit {
            evaporating: 31.0,
            air_split: 28.0,
            ..flooded
        };
        leads(&twin.assessed(), Cause::LowAirflow, name);
        let cold = Circuit {
            evaporating: 31.0,
            return_dry_bulb: 66.0,
            return_wet_bulb: 52.0,
            air_split: 17.0,
            amps: 55.0,
            superheat: 6.0,
            condensing: 108.0,
            condenser_air_rise: 11.0,
            subcooling: 10.0,
            ..flooded
        };
        leads(&cold.assessed(), Cause::LowLoad, name);
    });
}

/// The bulb is free: looked at and found right, the valve comes first; not yet, the bulb does.
#[test]
fn a_bulb_seen_right_leaves_the_valve() {
    each(|sound, name| {
        let circuit = sound.overfed();
        let with = |bulb_seen_right| {
            let gate = Gate {
                held: true,
                bulb_seen_right,
            };
            let setup = Setup {
                gate,
                ..circuit.setup()
            };
            assess(&setup, &circuit.reading())
        };
        leads(&with(false), Cause::BulbContact, name);
        leads(&with(true), Cause::ValveOverfeeding, name);
    });
}

/// High head, first of four: open shade against entering air.
#[test]
fn open_shade_parts_recirculation_from_a_dirty_coil() {
    each(|sound, name| {
        let recess = sound.recirculating();
        leads(&recess.assessed(), Cause::HotAirRecirculation, name);
        // The same heat in the open: not recirculation, and nothing wrong at the condenser.
        let hot_day = Circuit {
            open_air: 107.0,
            amps: 95.0,
            ..recess
        };
        let said = hot_day.assessed();
        assert!(
            place(&said.findings, Cause::HotAirRecirculation) > 1,
            "{name}"
        );
        // Entering as in the open, and condensing far over it: dirt.
        let dirty = Circuit {
            entering_air: 92.0,
            condenser_air_rise: 33.0,
            ..recess
        };
        leads(&dirty.assessed(), Cause::CondenserFouled, name);
    });
}

/// Second and third: air rise high is dirt; subcooling high is overcharge or gas.
#[test]
fn subcooling_parts_a_dirty_coil_from_overcharge() {
    each(|sound, name| {
        let dirty = sound.fouled();
        leads(&dirty.assessed(), Cause::CondenserFouled, name);
        let full = Circuit {
            subcooling: 30.0,
            condenser_air_rise: 22.0,
            condensing: 124.0,
            discharge: sound.discharge_at(124.0, -8.0),
            ..dirty
        };
        let mut reading = full.reading();
        standing(&mut reading, full.refrigerant, 85.0, 0.0);
        leads(&assess(&full.setup(), &reading), Cause::Overcharge, name);
    });
}

/// Fourth: compressor off, fan on until air in equals air out. Overcharge falls to the chart, gas
/// stays above it.
#[test]
fn standing_test_parts_overcharge_from_gas() {
    each(|sound, name| {
        let high = Circuit {
            subcooling: 24.0,
            discharge: sound.discharge_at(130.0, 0.0),
            ..sound.gassy()
        };
        let with = |over_psi: Option<f64>| {
            let mut reading = high.reading();
            if let Some(over_psi) = over_psi {
                standing(&mut reading, high.refrigerant, 85.0, over_psi);
            }
            assess(&high.setup(), &reading)
        };
        leads(&with(Some(40.0)), Cause::NonCondensables, name);
        assert_eq!(
            with(Some(40.0)).charge_advice(),
            ChargeAdvice::Recharge,
            "{name}"
        );
        let passed = with(Some(0.0));
        assert!(
            place(&passed.findings, Cause::Overcharge)
                < place(&passed.findings, Cause::NonCondensables),
            "{name}: {}",
            told(&passed.findings)
        );
        // Not done: nothing may be taken out yet.
        assert_ne!(with(None).charge_advice(), ChargeAdvice::Remove, "{name}");
    });
}

/// Suction pressure at the coil against the compressor parts a blocked suction line from a valve.
#[test]
fn coil_pressure_parts_a_blocked_suction_line_from_the_valve() {
    each(|sound, name| {
        let starved = sound.underfed();
        let setup = Setup {
            point: MeasuringPoint::ServiceValve,
            target_point: MeasuringPoint::ServiceValve,
            ..starved.setup()
        };
        let with = |coil_f: f64| {
            let mut reading = starved.reading();
            reading.set(
                Field::CoilPressure,
                Some(psig(starved.at_midpoint(coil_f)) + 1.0),
            );
            assess(&setup, &reading)
        };
        leads(&with(30.0), Cause::ValveUnderfeeding, name);
        leads(&with(46.0), Cause::SuctionRestriction, name);
    });
}

/// Suction high, superheat low, split low: a compressor that does not pump shows it on its other
/// side, in head, ratio and amps.
#[test]
fn head_ratio_and_amps_part_a_weak_compressor_from_an_overfeeding_valve() {
    each(|sound, name| {
        let flooded = Circuit {
            air_split: 15.0,
            evaporating: 58.0,
            ..sound.overfed()
        };
        both_lead(
            &flooded.assessed(),
            [Cause::ValveOverfeeding, Cause::BulbContact],
            name,
        );
        let twin = Circuit {
            condensing: 100.0,
            amps: 50.0,
            superheat: 7.0,
            condenser_air_rise: 6.0,
            discharge: sound.discharge_at(100.0, 0.0),
            ..flooded
        };
        leads(&twin.assessed(), Cause::WeakCompressor, name);
    });
}

/// The same suction over the same air: hot return air is the reason, or the reason is elsewhere.
#[test]
fn return_air_parts_high_load_from_an_overfeeding_valve() {
    each(|sound, name| {
        let hot = Circuit {
            evaporating: 56.0,
            superheat: 13.0,
            condensing: 121.0,
            return_dry_bulb: 90.0,
            return_wet_bulb: 77.0,
            amps: 108.0,
            ..sound
        };
        leads(&hot.assessed(), Cause::HighLoad, name);
        let twin = Circuit {
            return_dry_bulb: 80.0,
            return_wet_bulb: 67.0,
            superheat: 3.0,
            ..hot
        };
        both_lead(
            &twin.assessed(),
            [Cause::ValveOverfeeding, Cause::BulbContact],
            name,
        );
    });
}

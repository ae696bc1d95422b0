//! Rossi and Braun's rules, row by row: all seven residuals of a fault, on a fixed orifice and on a
//! valve.
//!
//! Source: head of `data/fdd_rule_table_rossi_braun.csv` (table 1-1 of a report on rooftop units;
//! rules from HVAC&R Research 3(1), 1997). A residual is measured minus expected for a normal
//! system in the same weather. The rules give signs only; the sizes here are ours, large enough to
//! stand outside the usual ranges, since this tool has no model of one unit's normal.
//!
//! The rules were made on a fixed orifice: there the fault must come first. A valve holds superheat
//! and the same signs are less typical: first or second.

use diagnosis::{Cause, Field, Instruments, Metering, Setup, assess};
use refrigerant::Refrigerant;
use std::collections::HashMap;

mod support;
use support::{Circuit, place, rows, sharp_tools, told};

const RULES: &str = include_str!("data/fdd_rule_table_rossi_braun.csv");

fn cause(fault: &str) -> Cause {
    match fault {
        "refrigerant leakage" => Cause::LowCharge,
        "compressor valve leakage" => Cause::WeakCompressor,
        "liquid line restriction" => Cause::LiquidRestriction,
        "condenser fouling" => Cause::CondenserFouled,
        "evaporator fouling" => Cause::LowAirflow,
        other => panic!("no cause for {other}"),
    }
}

/// A sound circuit, moved by the seven residuals. Subcooling moves down less than up: there are
/// only 10 °F of it.
fn moved(sound: Circuit, signs: &HashMap<String, String>) -> Circuit {
    let by = |column: &str, down: f64, up: f64| match signs[column].as_str() {
        "+" => up,
        "-" => -down,
        other => panic!("{column}: {other} is no sign"),
    };
    Circuit {
        evaporating: sound.evaporating + by("T_evap", 13.0, 13.0),
        superheat: sound.superheat + by("T_superheat", 9.0, 15.0),
        condensing: sound.condensing + by("T_cond", 12.0, 14.0),
        subcooling: sound.subcooling + by("T_subcool", 9.0, 12.0),
        discharge: sound.discharge + by("T_hotgas", 25.0, 25.0),
        condenser_air_rise: sound.condenser_air_rise + by("dT_cond_air", 11.0, 14.0),
        air_split: sound.air_split + by("dT_evap_air", 6.0, 7.0),
        ..sound
    }
}

/// `within` places from the top, with the seven signs and nothing else that a rule does not name.
fn check(metering: Metering, superheat: f64, within: usize) {
    let rules = rows(RULES);
    assert_eq!(rules.len(), 5);
    for refrigerant in [Refrigerant::R22, Refrigerant::R410A, Refrigerant::R407C] {
        for rule in &rules {
            let sound = Circuit {
                superheat,
                ..Circuit::sound(refrigerant, metering)
            };
            let circuit = moved(sound, rule);
            let mut reading = circuit.reading();
            for unnamed in [Field::LiquidLineEnd, Field::Amps, Field::OpenAir] {
                reading.set(unnamed, None);
            }
            for instruments in [sharp_tools(), Instruments::default()] {
                let setup = Setup {
                    instruments,
                    ..circuit.setup()
                };
                let said = assess(&setup, &reading);
                let at = place(&said.findings, cause(&rule["fault"]));
                assert!(
                    at < within,
                    "{} on {}: {}",
                    rule["fault"],
                    refrigerant.name(),
                    told(&said.findings)
                );
            }
        }
    }
}

#[test]
fn on_a_fixed_orifice_the_fault_comes_first() {
    // The weather of the sound circuit asks 13 °F.
    check(Metering::FixedOrifice, 13.0, 1);
}

#[test]
fn on_a_valve_the_fault_is_among_the_first_two() {
    check(Metering::AdjustableTxv, 10.0, 2);
}

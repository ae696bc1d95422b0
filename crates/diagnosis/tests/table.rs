//! Each row of the trade's diagnosis table as a whole case, on refrigerants with and without glide.
//!
//! Source: the trade's table as gathered in the module doc of `table` (trade articles and makers'
//! sheets, listed in DEVELOPERS.md). The directions are the table's; the sizes are ours, large
//! enough for protocol-grade tools to prove. Each case must put its cause first, or, where these
//! readings cannot part two causes, put both first and name the test that does.

use diagnosis::{Alarm, Cause, ChargeAdvice, Field, Gate, MeasuringPoint, Metering, Setup, assess};
use refrigerant::Refrigerant;

mod support;
use support::{Circuit, both_lead, leads, never_adds, psig, standing};

/// Without glide, nearly none, little and much of it; cool and hot discharge.
const REFRIGERANTS: [Refrigerant; 8] = [
    Refrigerant::R22,
    Refrigerant::R134a,
    Refrigerant::R410A,
    Refrigerant::R32,
    Refrigerant::R407C,
    Refrigerant::R454B,
    Refrigerant::R290,
    Refrigerant::R448A,
];

/// A case on every refrigerant.
fn each(case: impl Fn(Circuit, &str)) {
    for refrigerant in REFRIGERANTS {
        let sound = Circuit::sound(refrigerant, Metering::AdjustableTxv);
        case(sound, refrigerant.name());
    }
}

#[test]
fn a_sound_circuit_has_no_fault() {
    for refrigerant in Refrigerant::ALL {
        for metering in Metering::ALL {
            let circuit = Circuit {
                superheat: 10.0,
                ..Circuit::sound(refrigerant, metering)
            };
            let said = circuit.assessed();
            leads(&said, Cause::NoFault, refrigerant.name());
            never_adds(&said, refrigerant.name());
            assert_ne!(said.charge_advice(), ChargeAdvice::Remove);
        }
    }
}

/// Suction down, superheat up, subcooling normal to up, head normal to down, split down, amps
/// down, no drop up to the valve; the warmed bulb does nothing.
#[test]
fn valve_underfeeding() {
    each(|sound, name| {
        let circuit = sound.underfed();
        let mut reading = circuit.reading();
        reading.bulb_test = Some(diagnosis::BulbTest::Nothing);
        let said = assess(&circuit.setup(), &reading);
        leads(&said, Cause::ValveUnderfeeding, name);
        never_adds(&said, name);
    });
}

/// Suction down, superheat up, subcooling DOWN, head down, split down, amps down.
#[test]
fn low_charge() {
    each(|sound, name| {
        let said = sound.undercharged().assessed();
        leads(&said, Cause::LowCharge, name);
        assert_eq!(
            said.charge_advice(),
            ChargeAdvice::Add,
            "{name}: {:?}",
            said.charge
        );
    });
}

/// As underfeeding, with subcooling up and the drop before the valve.
#[test]
fn liquid_restriction() {
    each(|sound, name| {
        let circuit = Circuit {
            subcooling: 18.0,
            line_drop: 12.0,
            ..sound.underfed()
        };
        let mut reading = circuit.reading();
        let liquid = reading.get(Field::LiquidLine).expect("read");
        reading.set(Field::DrierIn, Some(liquid - 0.5));
        reading.set(Field::DrierOut, Some(liquid - 10.0));
        let said = assess(&circuit.setup(), &reading);
        leads(&said, Cause::LiquidRestriction, name);
        never_adds(&said, name);
    });
}

/// Suction down, superheat normal to down, subcooling normal to up, head normal to down, split UP.
#[test]
fn low_airflow() {
    each(|sound, name| {
        let said = sound.short_of_air().assessed();
        leads(&said, Cause::LowAirflow, name);
        never_adds(&said, name);
    });
}

/// Return air cold, airflow good: suction, head, split and amps down; superheat holds.
#[test]
fn low_load() {
    each(|sound, name| {
        let circuit = Circuit {
            evaporating: 30.0,
            condensing: 108.0,
            return_dry_bulb: 66.0,
            return_wet_bulb: 52.0,
            air_split: 17.0,
            amps: 55.0,
            condenser_air_rise: 11.0,
            discharge: sound.discharge_at(108.0, 0.0),
            ..sound
        };
        let said = circuit.assessed();
        leads(&said, Cause::LowLoad, name);
        never_adds(&said, name);
    });
}

/// Return air hot and wet: suction up, head up, amps up; superheat and subcooling near normal.
#[test]
fn high_load() {
    each(|sound, name| {
        let circuit = Circuit {
            evaporating: 56.0,
            superheat: 14.0,
            condensing: 122.0,
            return_dry_bulb: 90.0,
            return_wet_bulb: 77.0,
            air_split: 21.0,
            amps: 108.0,
            condenser_air_rise: 24.0,
            discharge: sound.discharge_at(122.0, 0.0),
            ..sound
        };
        let said = circuit.assessed();
        leads(&said, Cause::HighLoad, name);
        never_adds(&said, name);
    });
}

/// Suction up, superheat DOWN, subcooling normal to down, split normal to down.
#[test]
fn valve_overfeeding_with_the_bulb_seen_right() {
    each(|sound, name| {
        let circuit = Circuit {
            air_split: 15.0,
            subcooling: 6.0,
            ..sound.overfed()
        };
        let setup = Setup {
            gate: Gate::HELD,
            ..circuit.setup()
        };
        let said = assess(&setup, &circuit.reading());
        leads(&said, Cause::ValveOverfeeding, name);
        assert!(matches!(
            said.alarm,
            Some(Alarm::LiquidPossible { .. } | Alarm::BelowMinimum { .. })
        ));
        assert_eq!(said.charge_advice(), ChargeAdvice::Unknown, "{name}");
    });
}

/// A loose bulb paints the picture of an overfeeding valve: both lead, and the next test of either
/// is the strap. Not yet looked at, the bulb comes first: it is free.
#[test]
fn bulb_contact() {
    each(|sound, name| {
        let circuit = Circuit {
            subcooling: 10.0,
            ..sound.overfed()
        };
        let setup = Setup {
            gate: Gate {
                held: true,
                bulb_seen_right: false,
            },
            ..circuit.setup()
        };
        let said = assess(&setup, &circuit.reading());
        both_lead(&said, [Cause::BulbContact, Cause::ValveOverfeeding], name);
        leads(&said, Cause::BulbContact, name);
        for finding in &said.findings[..2] {
            assert!(
                finding.next_test().contains("strap"),
                "{}",
                finding.next_test()
            );
        }
    });
}

/// Subcooling UP 20 to 25, superheat held 8 to 12, head up, discharge cool; standing test passes.
#[test]
fn overcharge() {
    each(|sound, name| {
        let circuit = sound.overcharged();
        let mut reading = circuit.reading();
        standing(&mut reading, circuit.refrigerant, 85.0, 0.0);
        let said = assess(&circuit.setup(), &reading);
        leads(&said, Cause::Overcharge, name);
        never_adds(&said, name);
    });
}

/// Head UP, subcooling normal to up, amps UP, air rise through the condenser high; entering air as
/// in the open.
#[test]
fn condenser_fouled() {
    each(|sound, name| {
        let circuit = sound.fouled();
        let said = circuit.assessed();
        leads(&said, Cause::CondenserFouled, name);
        never_adds(&said, name);
        assert_ne!(said.charge_advice(), ChargeAdvice::Remove, "{name}");
    });
}

/// Head up over open air, normal over entering air; entering well above open shade.
#[test]
fn hot_air_recirculation() {
    each(|sound, name| {
        let circuit = sound.recirculating();
        let said = circuit.assessed();
        leads(&said, Cause::HotAirRecirculation, name);
        never_adds(&said, name);
        assert_ne!(said.charge_advice(), ChargeAdvice::Remove, "{name}");
    });
}

/// Head UP as calculated, subcooling up as calculated, split down, amps up; standing test fails.
#[test]
fn non_condensables() {
    each(|sound, name| {
        let circuit = sound.gassy();
        let mut reading = circuit.reading();
        standing(&mut reading, circuit.refrigerant, 85.0, 40.0);
        let said = assess(&circuit.setup(), &reading);
        leads(&said, Cause::NonCondensables, name);
        assert_eq!(said.charge_advice(), ChargeAdvice::Recharge, "{name}");
    });
}

/// Suction UP, head down, split down, amps down; the ratio is low.
#[test]
fn weak_compressor() {
    each(|sound, name| {
        let circuit = Circuit {
            evaporating: 60.0,
            superheat: 8.0,
            condensing: 101.0,
            subcooling: 10.0,
            air_split: 9.0,
            amps: 50.0,
            condenser_air_rise: 6.0,
            discharge: sound.discharge_at(101.0, 0.0),
            ..sound
        };
        let said = circuit.assessed();
        leads(&said, Cause::WeakCompressor, name);
        never_adds(&said, name);
    });
}

/// Suction down at the compressor, superheat up, and pressure that differs from coil to compressor.
#[test]
fn suction_restriction() {
    each(|sound, name| {
        let circuit = Circuit {
            evaporating: 26.0,
            superheat: 30.0,
            condensing: 109.0,
            subcooling: 13.0,
            air_split: 14.0,
            amps: 52.0,
            condenser_air_rise: 12.0,
            discharge: sound.discharge_at(109.0, 10.0),
            ..sound
        };
        let mut reading = circuit.reading();
        let at_coil = circuit.at_midpoint(43.0);
        reading.set(Field::CoilPressure, Some(psig(at_coil)));
        let setup = Setup {
            point: MeasuringPoint::ServiceValve,
            target_point: MeasuringPoint::ServiceValve,
            ..circuit.setup()
        };
        let said = assess(&setup, &reading);
        leads(&said, Cause::SuctionRestriction, name);
        never_adds(&said, name);
    });
}

/// Another refrigerant: everything odd, and the standing pressure fits no line of the named chart.
/// What is in the circuit is sound; it is read by the wrong chart.
#[test]
fn wrong_refrigerant() {
    use Refrigerant::{R22, R134a, R407C, R410A, R454B};
    for (inside, named) in [
        (R134a, R22),
        (R22, R134a),
        (R22, R454B),
        (R454B, R22),
        (R407C, R410A),
    ] {
        let truth = Circuit::sound(inside, Metering::AdjustableTxv);
        let mut reading = truth.reading();
        standing(&mut reading, inside, 85.0, 0.0);
        let setup = Setup {
            refrigerant: named,
            ..truth.setup()
        };
        let said = assess(&setup, &reading);
        let case = format!("{} named {}", inside.name(), named.name());
        leads(&said, Cause::WrongRefrigerant, &case);
        assert_eq!(said.charge_advice(), ChargeAdvice::Recharge, "{case}");
        let fits = said.doubts.iter().find_map(|doubt| match doubt {
            diagnosis::Doubt::StandingOffChart { fits } => Some(fits.clone()),
            _ => None,
        });
        assert!(fits.expect("doubted").contains(&inside), "{case}");
    }
}

/// Every cause of the table has a case above; this one says which causes there are.
#[test]
fn there_are_sixteen_causes_with_words_and_tests() {
    assert_eq!(Cause::ALL.len(), 16);
    for cause in Cause::ALL {
        let words = cause.words();
        assert!(
            !words.name.is_empty() && !words.action.is_empty() && !words.overturned_by.is_empty()
        );
        assert!(
            !words.tests.is_empty() && words.prior > 0.0 && words.prior.is_finite(),
            "{cause:?}"
        );
    }
    let mut keys: Vec<&str> = Cause::ALL.iter().map(|cause| cause.key()).collect();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), 16);
}

//! Floodback: said at once, and nothing is done to the charge while it stands.

use diagnosis::{Alarm, ChargeAdvice, ChargeReason, Field, Metering, Setup, assess};
use refrigerant::Refrigerant;

mod support;
use support::Circuit;

fn sound() -> Circuit {
    Circuit::sound(Refrigerant::R410A, Metering::AdjustableTxv)
}

/// At the bulb 2 °F, at the service valve 5 °F, and any band that touches zero: liquid is possible.
/// Source of the two figures: a maker's valve check and charging charts; the job's minimum of 5 °F
/// is RA3.2.2.6.1 step 3.
#[test]
fn floodback_alarm() {
    use diagnosis::MeasuringPoint::{Bulb, ServiceValve};
    let alarm = |superheat, point, tools| {
        let circuit = Circuit {
            superheat,
            ..sound()
        };
        let setup = Setup {
            point,
            target_point: point,
            instruments: tools,
            ..circuit.setup()
        };
        let alarm = assess(&setup, &circuit.reading()).alarm;
        alarm.map(|alarm| alarm.key())
    };
    let liquid = Some("liquid-possible");
    let exact = support::tools(0.0, 0.0, 0.0);
    assert_eq!(alarm(1.99, Bulb, exact), liquid);
    assert_eq!(alarm(2.01, Bulb, exact), Some("below-minimum"));
    assert_eq!(alarm(4.99, Bulb, exact), Some("below-minimum"));
    assert_eq!(alarm(5.01, Bulb, exact), None);
    assert_eq!(alarm(4.99, ServiceValve, exact), liquid);
    assert_eq!(alarm(5.01, ServiceValve, exact), None);
    // ±5 psi on a dial and ±1.3 °F: 2.5 °F of band touches zero at 2.4.
    let dial = support::tools(5.0, 5.0, 1.3);
    assert_eq!(alarm(2.4, Bulb, dial), liquid);
    assert_eq!(alarm(2.9, Bulb, dial), Some("below-minimum"));
    // A dry bulb does not excuse a wet compressor.
    let circuit = sound();
    let mut reading = circuit.reading();
    let dew_f = reading.get(Field::SuctionLine).expect("read") - circuit.superheat;
    reading.set(Field::CompressorSuction, Some(dew_f + 3.0));
    let said = assess(&circuit.setup(), &reading);
    assert!(matches!(
        said.alarm,
        Some(Alarm::LiquidPossible {
            point: ServiceValve,
            ..
        })
    ));
    assert_eq!(said.charge, ChargeReason::SuperheatUnderMinimum);
}

/// The minimum is the job's own: raised, it stops what the default lets pass.
#[test]
fn the_minimum_is_editable() {
    let circuit = sound();
    let setup = Setup {
        minimum_superheat: quantity::TemperatureDifference::from_f(11.0),
        ..circuit.setup()
    };
    assert!(circuit.assessed().alarm.is_none());
    let said = assess(&setup, &circuit.reading());
    assert!(matches!(said.alarm, Some(Alarm::BelowMinimum { .. })));
    assert_eq!(said.charge_advice(), ChargeAdvice::Unknown);
}

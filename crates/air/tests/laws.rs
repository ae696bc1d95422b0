//! What must hold for any air: order of the three temperatures, round trips, and refusals.
#![allow(clippy::unwrap_used)] // helpers of tests

use air::{AirError, Altitude, MoistAir, standard_atmosphere};
use quantity::{AbsolutePressure, Temperature};

/// Dry bulb in °F, the share of the way from driest to saturated, altitude in ft.
fn states() -> impl Iterator<Item = (Temperature, f64, AbsolutePressure)> {
    let altitudes = [-1500.0, 0.0, 5000.0, 12_000.0, 30_000.0];
    altitudes.into_iter().flat_map(|feet| {
        let pressure = standard_atmosphere(Altitude::from_ft(feet)).unwrap();
        (-30..=130).step_by(4).flat_map(move |f| {
            (0..=10).map(move |tenth| {
                (
                    Temperature::from_f(f64::from(f)),
                    f64::from(tenth) / 10.0,
                    pressure,
                )
            })
        })
    })
}

#[test]
fn dew_point_wet_bulb_and_dry_bulb_stand_in_order_and_come_back() {
    let mut seen = 0;
    for (dry, humidity, pressure) in states() {
        let air = MoistAir::from_relative_humidity(dry, humidity, pressure).unwrap();
        let wet = air.wet_bulb();
        assert!((air.relative_humidity() - humidity).abs() < 1e-9);
        assert!(
            wet.k() <= dry.k() + 1e-9 && air.dew_point().k() <= wet.k() + 1e-9,
            "{air:?}"
        );
        // Near 0 °C ice and water on the wick give two answers; see `wet_bulb`.
        if wet.c().abs() > 0.5 {
            let wet = Temperature::from_k(wet.k().min(dry.k()));
            let back = MoistAir::from_dry_and_wet_bulb(dry, wet, pressure).unwrap();
            assert!(
                (back.humidity_ratio() - air.humidity_ratio()).abs() < 1e-9,
                "{air:?}"
            );
        }
        seen += 1;
    }
    assert_eq!(seen, 5 * 41 * 11);
}

#[test]
fn dew_point_of_saturated_air_is_its_temperature() {
    for f in [-20.0, 10.0, 32.0, 45.0, 90.0] {
        let t = Temperature::from_f(f);
        let air = MoistAir::saturated(t, AbsolutePressure::STANDARD_ATMOSPHERE).unwrap();
        assert!((air.dew_point().k() - f_k(f)).abs() < 1e-6);
        assert!((air.wet_bulb().k() - f_k(f)).abs() < 1e-6);
    }
}

fn f_k(f: f64) -> f64 {
    Temperature::from_f(f).k()
}

#[test]
fn pressure_falls_with_altitude_and_beyond_the_limits_is_refused() {
    let at = |feet| standard_atmosphere(Altitude::from_ft(feet));
    assert!(at(-1500.0).unwrap() > at(0.0).unwrap() && at(0.0).unwrap() > at(30_000.0).unwrap());
    assert!((at(0.0).unwrap().kpa() - 101.325).abs() < 1e-12);
    for feet in [-1501.0, 30_001.0, f64::NAN, f64::INFINITY] {
        let refused = at(feet).unwrap_err();
        assert_eq!((refused.low, refused.high), (-1500.0, 30_000.0));
    }
}

#[test]
fn bad_input_is_named() {
    let sea = AbsolutePressure::STANDARD_ATMOSPHERE;
    let (f, bulbs) = (Temperature::from_f, MoistAir::from_dry_and_wet_bulb);
    let said = bulbs(f(67.0), f(80.0), sea).unwrap_err();
    assert_eq!(
        said.to_string(),
        "Wet bulb 80.0 °F is above dry bulb 67.0 °F. Are the two swapped?"
    );
    let too_dry = bulbs(f(100.0), f(40.0), sea);
    assert!(
        matches!(too_dry, Err(AirError::WetBulbTooLow { .. })),
        "{too_dry:?}"
    );
    let wet = MoistAir::from_humidity_ratio(f(40.0), 0.02, sea);
    assert!(
        matches!(wet, Err(AirError::Supersaturated { .. })),
        "{wet:?}"
    );
    let boiling = MoistAir::saturated(f(212.5), sea);
    assert!(
        matches!(boiling, Err(AirError::Boils { .. })),
        "{boiling:?}"
    );
    let nothing = bulbs(f(f64::NAN), f(60.0), sea);
    assert!(
        matches!(nothing, Err(AirError::OutOfRange(_))),
        "{nothing:?}"
    );
    // 14.7 typed as kPa: the usual slip.
    let slip = bulbs(f(80.0), f(67.0), AbsolutePressure::from_kpa(14.7)).unwrap_err();
    assert_eq!(
        slip.to_string(),
        "air pressure, kPa: 14.7000 is outside 20 to 120."
    );
    let dry = MoistAir::from_humidity_ratio(f(80.0), 0.0, sea).unwrap();
    assert!((dry.dew_point().c() + 100.0).abs() < 1e-9);
}

//! The same conversions by another library. `uom` has its own factors (it cites NIST SP 811 and
//! the CGPM); agreement to 1e-7 is as far as it prints psi.

use approx::assert_relative_eq;
use proptest::prelude::*;
use quantity::{AbsolutePressure, Temperature, TemperatureDifference};
use uom::si::f64::{Pressure, TemperatureInterval, ThermodynamicTemperature};
use uom::si::pressure::{bar, kilopascal, pascal, psi};
use uom::si::thermodynamic_temperature::{degree_celsius, degree_fahrenheit, kelvin};
use uom::si::{temperature_interval, thermodynamic_temperature};

/// `uom` writes psi as 6.894 757 E3, SP 811's seven digits.
const SEVEN_DIGITS: f64 = 1e-7;

#[test]
fn uom_is_asked_in_kelvin_where_it_can_be() {
    // Guards the imports: a temperature of 0 °C is not an interval of 0 K.
    let freezing = ThermodynamicTemperature::new::<thermodynamic_temperature::degree_celsius>(0.0);
    assert_relative_eq!(freezing.get::<kelvin>(), 273.15);
    let nothing = TemperatureInterval::new::<temperature_interval::degree_celsius>(0.0);
    assert_relative_eq!(nothing.get::<temperature_interval::kelvin>(), 0.0);
}

proptest! {
    #[test]
    fn pressures_agree(number in 0.01..1000.0f64) {
        for (theirs, ours) in [
            (Pressure::new::<psi>(number), AbsolutePressure::from_psia(number)),
            (Pressure::new::<kilopascal>(number), AbsolutePressure::from_kpa(number)),
            (Pressure::new::<bar>(number), AbsolutePressure::from_bar(number)),
        ] {
            for (a, b) in [
                (theirs.get::<pascal>(), ours.pa()),
                (theirs.get::<psi>(), ours.psia()),
                (theirs.get::<kilopascal>(), ours.kpa()),
                (theirs.get::<bar>(), ours.bar()),
            ] {
                prop_assert!((a / b - 1.0).abs() < SEVEN_DIGITS, "{a} {b}");
            }
        }
    }

    #[test]
    fn temperatures_agree(number in -300.0..500.0f64) {
        for (theirs, ours) in [
            (ThermodynamicTemperature::new::<degree_fahrenheit>(number), Temperature::from_f(number)),
            (ThermodynamicTemperature::new::<degree_celsius>(number), Temperature::from_c(number)),
        ] {
            prop_assert!((theirs.get::<kelvin>() - ours.k()).abs() < 1e-9);
            prop_assert!((theirs.get::<degree_fahrenheit>() - ours.f()).abs() < 1e-9);
            prop_assert!((theirs.get::<degree_celsius>() - ours.c()).abs() < 1e-9);
        }
    }

    #[test]
    fn differences_agree(number in -300.0..300.0f64) {
        use temperature_interval::{degree_celsius, degree_fahrenheit, kelvin};
        for (theirs, ours) in [
            (TemperatureInterval::new::<degree_fahrenheit>(number), TemperatureDifference::from_f(number)),
            (TemperatureInterval::new::<degree_celsius>(number), TemperatureDifference::from_k(number)),
        ] {
            prop_assert!((theirs.get::<kelvin>() - ours.k()).abs() < 1e-9);
            prop_assert!((theirs.get::<degree_fahrenheit>() - ours.f()).abs() < 1e-9);
        }
    }
}

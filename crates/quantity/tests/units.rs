//! What a number in one unit is in another.
//!
//! Expected values: NIST Special Publication 811 (2008), appendix B.8 (factors) and B.9
//! (temperatures), and the international agreement that one inch is 25.4 mm and one pound
//! 0.453 592 37 kg. Tolerances: 1e-12 of the value is the rounding of three operations in f64.

use approx::assert_relative_eq;
use proptest::prelude::*;
use quantity::{
    AbsolutePressure, GaugePressure, GaugeReference, PressureDifference, PressureUnit, Temperature,
    TemperatureDifference, TemperatureUnit, Units,
};

const ROUNDING: f64 = 1e-12;

#[test]
fn psi_is_a_pound_force_on_a_square_inch() {
    // SP 811 B.8: pound 0.453 592 37 kg, standard gravity 9.806 65 m/s2, inch 0.0254 m, all exact.
    let pascal = 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254);
    assert_relative_eq!(
        AbsolutePressure::from_psia(1.0).pa(),
        pascal,
        max_relative = ROUNDING
    );
    // The factor as printed there: 6.894 757 E+03.
    assert_relative_eq!(
        PressureDifference::from_psi(1.0).pa(),
        6.894_757e3,
        max_relative = 1e-7
    );
}

#[test]
fn bar_kilopascal_and_atmosphere() {
    // SP 811 B.8: bar 1.0 E+05 Pa, standard atmosphere 1.013 25 E+05 Pa, both exact.
    assert_relative_eq!(GaugePressure::from_bar(1.0).pa(), 1.0e5);
    assert_relative_eq!(GaugePressure::from_kpa(1.0).pa(), 1.0e3);
    let air = AbsolutePressure::STANDARD_ATMOSPHERE;
    assert_relative_eq!(air.pa(), 101_325.0);
    // 14.695 9 psi: the same two factors divided.
    assert_relative_eq!(air.psia(), 14.695_949, max_relative = 1e-7);
}

#[test]
fn fixed_points_of_the_scales() {
    // SP 811 B.9: T/K = t/degC + 273.15 = (t/degF + 459.67)/1.8.
    for (fahrenheit, celsius, kelvin) in [
        (-459.67, -273.15, 0.0),
        (-40.0, -40.0, 233.15),
        (32.0, 0.0, 273.15),
        (68.0, 20.0, 293.15),
        (212.0, 100.0, 373.15),
    ] {
        let t = Temperature::from_f(fahrenheit);
        assert_relative_eq!(t.c(), celsius, epsilon = 1e-9);
        assert_relative_eq!(t.k(), kelvin, epsilon = 1e-9);
        assert_relative_eq!(Temperature::from_c(celsius).f(), fahrenheit, epsilon = 1e-9);
        assert_relative_eq!(Temperature::from_k(kelvin).f(), fahrenheit, epsilon = 1e-9);
    }
}

#[test]
fn a_difference_is_scaled_and_never_shifted() {
    // SP 811 B.9: an interval of 1 degF is 5/9 K; 10 K is 18 degF, not 50.
    assert_relative_eq!(TemperatureDifference::from_k(10.0).f(), 18.0);
    assert_relative_eq!(TemperatureDifference::from_f(9.0).k(), 5.0);
    for unit in [TemperatureUnit::Fahrenheit, TemperatureUnit::Celsius] {
        assert_relative_eq!(unit.show_difference(TemperatureDifference::ZERO), 0.0);
        assert_relative_eq!(unit.read_difference(0.0).k(), 0.0);
    }
    let celsius = Units {
        temperature: TemperatureUnit::Celsius,
        pressure: PressureUnit::Kilopascal,
    };
    assert_eq!(
        celsius.difference(TemperatureDifference::from_f(0.0)),
        "0.0 K"
    );
    assert_eq!(
        celsius.difference(TemperatureDifference::from_f(-9.0)),
        "-5.0 K"
    );
    assert_eq!(celsius.temperature(Temperature::from_f(32.0)), "0.0 °C");
}

#[test]
fn what_is_shown_is_rounded_and_never_minus_nothing() {
    let shown = |units: Units, psig: f64| units.gauge(GaugePressure::from_psig(psig));
    let of = |pressure| Units {
        temperature: TemperatureUnit::Fahrenheit,
        pressure,
    };
    assert_eq!(shown(of(PressureUnit::Psi), 118.04), "118.0 psig");
    assert_eq!(
        shown(of(PressureUnit::Kilopascal), 118.0),
        "813.6 kPa (gauge)"
    );
    assert_eq!(shown(of(PressureUnit::Bar), 118.0), "8.14 bar (gauge)");
    for pressure in [
        PressureUnit::Psi,
        PressureUnit::Kilopascal,
        PressureUnit::Bar,
    ] {
        let text = shown(of(pressure), -1e-6);
        assert!(!text.starts_with('-'), "{text}");
        let drop = of(pressure).pressure_difference(PressureDifference::from_psi(-1e-6));
        assert!(!drop.starts_with('-'), "{drop}");
    }
}

/// One absolute pressure, seen by three gauges: each is corrected once, by its own zero.
#[test]
fn each_gauge_is_corrected_once_and_only_by_its_own_zero() {
    // 12.23 psia: standard atmosphere at 5000 ft, ASHRAE Fundamentals (2017) chapter 1, table 1.
    let local = AbsolutePressure::from_psia(12.23);
    let truth = AbsolutePressure::from_psia(130.0);
    for (reference, shown_psig) in [
        (GaugeReference::Vented, 117.77),
        (GaugeReference::Sealed, 130.0 - 14.695_949),
        (GaugeReference::Absolute, 130.0),
    ] {
        let shown = reference.shown(truth, local);
        assert_relative_eq!(shown.psig(), shown_psig, epsilon = 1e-6);
        assert_relative_eq!(
            reference.absolute(shown, local).psia(),
            130.0,
            epsilon = 1e-9
        );
    }
}

#[test]
fn only_a_vented_gauge_minds_the_local_air() {
    let shown = GaugePressure::from_psig(118.0);
    let (low, high) = (
        AbsolutePressure::from_psia(11.0),
        AbsolutePressure::from_psia(14.7),
    );
    for reference in GaugeReference::ALL {
        let moved = reference.absolute(shown, high) - reference.absolute(shown, low);
        let expected = if reference == GaugeReference::Vented {
            3.7
        } else {
            0.0
        };
        assert_relative_eq!(moved.psi(), expected, epsilon = 1e-9);
    }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(1.0)
}

proptest! {
    #[test]
    fn temperatures_come_back(number in -400.0..900.0f64) {
        prop_assert!(same(Temperature::from_f(number).f(), number));
        prop_assert!(same(Temperature::from_c(number).c(), number));
        prop_assert!(same(Temperature::from_k(number).k(), number));
        for unit in [TemperatureUnit::Fahrenheit, TemperatureUnit::Celsius] {
            prop_assert!(same(unit.show(unit.read(number)), number));
            prop_assert!(same(unit.show_difference(unit.read_difference(number)), number));
        }
    }

    #[test]
    fn pressures_come_back(number in -1000.0..10_000.0f64) {
        prop_assert!(same(AbsolutePressure::from_psia(number).psia(), number));
        prop_assert!(same(AbsolutePressure::from_kpa(number).kpa(), number));
        prop_assert!(same(AbsolutePressure::from_bar(number).bar(), number));
        for unit in [PressureUnit::Psi, PressureUnit::Kilopascal, PressureUnit::Bar] {
            prop_assert!(same(unit.show(unit.read(number)), number));
        }
    }

    /// The superheat is the same number whichever scale the two temperatures were typed in.
    #[test]
    fn a_difference_does_not_know_its_scale(a in -100.0..300.0f64, b in -100.0..300.0f64) {
        let typed_in_f = Temperature::from_f(a) - Temperature::from_f(b);
        let typed_in_c = Temperature::from_c((a - 32.0) / 1.8) - Temperature::from_c((b - 32.0) / 1.8);
        prop_assert!((typed_in_f - typed_in_c).k().abs() < 1e-9);
        prop_assert!(same(typed_in_f.f(), a - b));
        prop_assert!(same(typed_in_f.abs().f(), (a - b).abs()));
    }

    #[test]
    fn a_shift_there_and_back(t in -100.0..300.0f64, by in -200.0..200.0f64) {
        let start = Temperature::from_f(t);
        let shift = TemperatureDifference::from_f(by);
        prop_assert!((((start + shift) - shift) - start).k().abs() < 1e-9);
        prop_assert!(((start + shift) - start - shift).k().abs() < 1e-9);
        prop_assert!(same((shift * 2.0 + -shift).f(), by));
        prop_assert!(same((shift / 4.0).f(), by / 4.0));
    }

    #[test]
    fn gauges_come_back(psia in 0.0..700.0f64, local in 8.0..16.0f64) {
        let (truth, local) = (AbsolutePressure::from_psia(psia), AbsolutePressure::from_psia(local));
        for reference in GaugeReference::ALL {
            let back = reference.absolute(reference.shown(truth, local), local);
            prop_assert!(same(back.psia(), psia));
        }
    }

    /// A pressure difference does not depend on what the two gauges stand on.
    #[test]
    fn a_pressure_drop_does_not_know_the_altitude(a in 0.0..400.0f64, b in 0.0..400.0f64, local in 8.0..16.0f64) {
        let local = AbsolutePressure::from_psia(local);
        for reference in GaugeReference::ALL {
            let drop = reference.absolute(GaugePressure::from_psig(a), local)
                - reference.absolute(GaugePressure::from_psig(b), local);
            prop_assert!(same(drop.psi(), a - b));
        }
    }
}

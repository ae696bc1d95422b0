//! What must hold for every refrigerant at every pressure and temperature.

use proptest::prelude::*;
use quantity::{AbsolutePressure, PressureDifference, Temperature};
use refrigerant::{Line, OutsideTable, Refrigerant, SaturationLine};

fn any_line() -> impl Strategy<Value = (Refrigerant, Line)> {
    (
        prop::sample::select(&Refrigerant::ALL[..]),
        prop::sample::select(&Line::ALL[..]),
    )
}

/// A temperature inside the table, `share` of the way up.
fn inside(line: &SaturationLine, share: f64) -> Temperature {
    let limits = line.limits();
    let low = limits.lowest_temperature;
    low + (limits.highest_temperature - low) * share
}

proptest! {
    /// Both directions are fitted apart, each to 0.0001 °F: there and back within twice that.
    #[test]
    fn there_and_back((refrigerant, line) in any_line(), share in 0.0..=1.0f64) {
        let line = refrigerant.line(line);
        let t = inside(line, share);
        let p = line.pressure(t).expect("inside");
        let back = line.temperature(p).expect("an answer may be asked back");
        prop_assert!((back - t).f().abs() < 2e-4);
        let again = line.pressure(back).expect("an answer may be asked back");
        prop_assert!((again.pa() / p.pa() - 1.0).abs() < 2e-6);
    }

    #[test]
    fn warmer_is_higher((refrigerant, line) in any_line(), a in 0.0..=1.0f64, b in 0.0..=1.0f64) {
        prop_assume!((a - b).abs() > 1e-6);
        let line = refrigerant.line(line);
        let (low, high) = (inside(line, a.min(b)), inside(line, a.max(b)));
        let (p_low, p_high) = (line.pressure(low).expect("inside"), line.pressure(high).expect("inside"));
        prop_assert!(p_low < p_high);
        prop_assert!(line.temperature(p_low).expect("inside") < line.temperature(p_high).expect("inside"));
    }

    /// Pure fluids have one line; a nearly azeotropic blend's two lines almost touch, so that the
    /// allowance is the error of both fits.
    #[test]
    fn dew_is_never_colder_than_bubble(
        refrigerant in prop::sample::select(&Refrigerant::ALL[..]),
        share in 0.0..=1.0f64,
    ) {
        let p = refrigerant.bubble().pressure(inside(refrigerant.bubble(), share)).expect("inside");
        if let Ok(dew) = refrigerant.dew().temperature(p) {
            let bubble = refrigerant.bubble().temperature(p).expect("inside");
            prop_assert!((dew - bubble).f() > -2e-4);
            let glide = refrigerant.glide(p).expect("both lines reach");
            prop_assert_eq!(glide, dew - bubble);
            let middle = refrigerant.midpoint_temperature(p).expect("both lines reach");
            prop_assert!(((middle - bubble) - (dew - middle)).k().abs() < 1e-9);
        }
    }

    /// The slope is that of the table: against a difference over 0.01 %, whose own error is under
    /// one part in a thousand.
    #[test]
    fn the_band_is_the_slope_times_the_half_width(
        (refrigerant, line) in any_line(),
        share in 0.01..=0.99f64,
        psi in 0.0..=10.0f64,
    ) {
        let line = refrigerant.line(line);
        let p = line.pressure(inside(line, share)).expect("inside");
        let step = p.pa() * 1e-4;
        let at = |pa| line.temperature(AbsolutePressure::from_pa(pa)).expect("inside").k();
        let slope = (at(p.pa() + step) - at(p.pa() - step)) / (2.0 * step);
        let half_width = PressureDifference::from_psi(psi);
        let band = line.temperature_band(p, half_width).expect("inside");
        prop_assert!((band.k() - slope * half_width.pa()).abs() <= 1e-3 * slope * half_width.pa());
        let other_way = line.temperature_band(p, -half_width).expect("inside");
        prop_assert_eq!(other_way, band);
    }

    /// Both directions have a slope of their own: dp/dT times dT/dp is one, within the error of
    /// two differentiated fits.
    #[test]
    fn the_slopes_of_both_directions_agree((refrigerant, line) in any_line(), share in 0.0..=1.0f64) {
        let line = refrigerant.line(line);
        let t = inside(line, share);
        let p = line.pressure(t).expect("inside");
        let rise = PressureDifference::from_pa(line.pascal_per_kelvin(t).expect("inside"));
        let back = line.temperature_band(p, rise).expect("inside");
        prop_assert!((back.k() - 1.0).abs() < 2e-3, "{}", back.k());
    }

    #[test]
    fn any_number_gives_a_finite_answer_or_an_error_with_the_limits(
        (refrigerant, line) in any_line(),
        number in prop_oneof![any::<f64>(), -1e7..1e7f64, 0.0..1000.0f64],
    ) {
        let saturation = refrigerant.line(line);
        let limits = saturation.limits();
        match saturation.temperature(AbsolutePressure::from_pa(number)) {
            Ok(t) => {
                prop_assert!(t.k().is_finite());
                prop_assert!(limits.lowest_pressure.pa() <= number);
                prop_assert!(number <= limits.highest_pressure.pa());
            }
            Err(error) => check_pressure_error(error, refrigerant, line, number)?,
        }
        match saturation.pressure(Temperature::from_k(number)) {
            Ok(p) => {
                prop_assert!(p.pa().is_finite() && p.pa() > 0.0);
                prop_assert!(limits.lowest_temperature.k() <= number);
                prop_assert!(number <= limits.highest_temperature.k());
            }
            Err(error) => check_temperature_error(error, refrigerant, line, number)?,
        }
    }
}

fn check_pressure_error(
    error: OutsideTable,
    whose: Refrigerant,
    which: Line,
    number: f64,
) -> Result<(), TestCaseError> {
    let OutsideTable::Pressure {
        refrigerant,
        line,
        asked,
        lowest,
        highest,
    } = error
    else {
        return Err(TestCaseError::fail("the wrong quantity"));
    };
    let limits = whose.line(which).limits();
    prop_assert_eq!((refrigerant, line), (whose, which));
    prop_assert_eq!(asked.pa().to_bits(), number.to_bits());
    prop_assert_eq!(
        (lowest, highest),
        (limits.lowest_pressure, limits.highest_pressure)
    );
    prop_assert!(!(lowest.pa() <= number && number <= highest.pa()));
    Ok(())
}

fn check_temperature_error(
    error: OutsideTable,
    whose: Refrigerant,
    which: Line,
    number: f64,
) -> Result<(), TestCaseError> {
    let OutsideTable::Temperature {
        refrigerant,
        line,
        asked,
        lowest,
        highest,
    } = error
    else {
        return Err(TestCaseError::fail("the wrong quantity"));
    };
    let limits = whose.line(which).limits();
    prop_assert_eq!((refrigerant, line), (whose, which));
    prop_assert_eq!(asked.k().to_bits(), number.to_bits());
    prop_assert_eq!(
        (lowest, highest),
        (limits.lowest_temperature, limits.highest_temperature)
    );
    prop_assert!(!(lowest.k() <= number && number <= highest.k()));
    Ok(())
}

#[test]
fn what_is_not_a_number_is_outside_every_table() {
    for refrigerant in Refrigerant::ALL {
        for which in Line::ALL {
            let line = refrigerant.line(which);
            for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let p = AbsolutePressure::from_pa(number);
                let t = Temperature::from_k(number);
                let half = PressureDifference::from_psi(1.0);
                assert!(line.temperature(p).is_err());
                assert!(line.pressure(t).is_err());
                assert!(line.temperature_band(p, half).is_err());
                assert!(refrigerant.glide(p).is_err());
                assert!(refrigerant.midpoint_temperature(p).is_err());
            }
        }
    }
}

#[test]
fn both_ends_are_inside_and_a_step_further_is_not() {
    for refrigerant in Refrigerant::ALL {
        for which in Line::ALL {
            let line = refrigerant.line(which);
            let ends = line.limits();
            for p in [ends.lowest_pressure, ends.highest_pressure] {
                assert!(line.temperature(p).is_ok());
            }
            for t in [ends.lowest_temperature, ends.highest_temperature] {
                assert!(line.pressure(t).is_ok());
            }
            let step = PressureDifference::from_psi(0.001);
            assert!(line.temperature(ends.highest_pressure + step).is_err());
            assert!(line.temperature(ends.lowest_pressure - step).is_err());
        }
    }
}

#[test]
fn an_error_says_what_was_asked_and_both_limits() {
    let line = Refrigerant::R454B.dew();
    let error = line
        .temperature(AbsolutePressure::from_psia(1000.0))
        .expect_err("outside");
    let limits = line.limits();
    let said = error.to_string();
    for part in [
        "1000.0 psia".to_owned(),
        "dew line of R-454B".to_owned(),
        format!(
            "{:.1} to {:.1}",
            limits.lowest_pressure.psia(),
            limits.highest_pressure.psia()
        ),
    ] {
        assert!(said.contains(&part), "{said} lacks {part}");
    }
}

#[test]
fn names_are_read_as_people_type_them_and_near_misses_are_not() {
    for refrigerant in Refrigerant::ALL {
        let name = refrigerant.name();
        let bare = name.replace("R-", "");
        for typed in [
            name.to_owned(),
            name.to_lowercase(),
            bare.clone(),
            bare.to_uppercase(),
            format!("r{bare}"),
            format!(" R {bare}\n"),
        ] {
            assert_eq!(Refrigerant::from_name(&typed), Some(refrigerant), "{typed}");
        }
    }
    for typed in [
        "", "R", "R-", "R-41", "R-410", "R-4100A", "RR-22", "R--22", "-22", "R-22 B", "R-134",
        "R-1234ze", "Ｒ-22",
    ] {
        assert_eq!(Refrigerant::from_name(typed), None, "{typed}");
    }
}

#[test]
fn all_lists_each_refrigerant_once_in_order() {
    assert!(Refrigerant::ALL.is_sorted());
    assert!(Refrigerant::ALL.windows(2).all(|pair| pair[0] != pair[1]));
}

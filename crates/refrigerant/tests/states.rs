//! Saturated liquid and vapour against published tables, against the reference, and their laws.

mod support;

use proptest::prelude::*;
use quantity::{AbsolutePressure, Temperature, TemperatureDifference};
use refrigerant::{OutsideStates, Refrigerant, State};
use support::{Row, rows};

fn close(what: &str, ours: f64, theirs: f64, percent: f64) {
    let off = (ours / theirs - 1.0).abs() * 100.0;
    assert!(
        off <= percent,
        "{what}: {ours:.6e} is {off:.4} % from {theirs:.6e}"
    );
}

/// Dry saturated vapour at a dew temperature.
fn dry(refrigerant: Refrigerant, t: Temperature) -> Option<State> {
    let p = refrigerant.dew().pressure(t).ok()?;
    refrigerant.vapour(p, TemperatureDifference::ZERO).ok()
}

/// EnergyPlus saturation tables: densities and enthalpies of four (R-22, R-134a) and five digits.
/// Four digits are up to 0.05 %; the file says that 0.05 % was found. The R-410A columns are the
/// same equation: 0.02 %. Enthalpies share our zero.
#[test]
fn saturated_states_agree_with_energyplus() {
    for (file, refrigerant, percent) in [
        ("saturation_energyplus_R22", Refrigerant::R22, 0.06),
        ("saturation_energyplus_R134a", Refrigerant::R134a, 0.06),
        ("saturation_energyplus_R410A", Refrigerant::R410A, 0.02),
    ] {
        let mut compared = 0;
        for row in &rows(file) {
            let t = Temperature::from_c(row.number("T_C"));
            let (Ok(liquid), Some(vapour)) = (refrigerant.saturated_liquid(t), dry(refrigerant, t))
            else {
                continue;
            };
            let at = format!("{} at {} °C", refrigerant.name(), t.c());
            close(
                &at,
                liquid.density_kg_m3,
                row.number("rho_liq_kg_per_m3"),
                percent,
            );
            close(
                &at,
                vapour.density_kg_m3,
                row.number("rho_vap_kg_per_m3"),
                percent,
            );
            close(
                &at,
                liquid.enthalpy_j_kg,
                row.number("h_liq_J_per_kg"),
                percent,
            );
            close(
                &at,
                vapour.enthalpy_j_kg,
                row.number("h_vap_J_per_kg"),
                percent,
            );
            compared += 1;
        }
        assert!(compared >= 35, "{file}: only {compared} rows compared");
    }
}

/// EnergyPlus superheated tables: four digits of enthalpy and density, 0.05 %.
#[test]
fn superheated_vapour_agrees_with_energyplus() {
    let table = rows("superheated_vapour_energyplus");
    for row in &table {
        let p = AbsolutePressure::from_pa(row.number("P_Pa_abs"));
        let refrigerant = row.refrigerant().expect("ours");
        let t = Temperature::from_c(row.number("T_C"));
        let state = refrigerant.superheated_vapour(p, t).expect("inside");
        let at = format!("{} at {} Pa, {} °C", refrigerant.name(), p.pa(), t.c());
        close(
            &at,
            state.enthalpy_j_kg,
            row.number("h_kJ_per_kg") * 1000.0,
            0.05,
        );
        if !row.text("rho_kg_per_m3").is_empty() {
            close(&at, state.density_kg_m3, row.number("rho_kg_per_m3"), 0.05);
        }
    }
    assert_eq!(table.len(), 11);
}

/// VDI Heat Atlas: densities to 0.1 kg/m3 and three or four digits (2.416: 0.02 %), latent heat to
/// 0.01 kJ/kg. R-134a vapour is printed to 0.01 kg/m3, up to 0.4 % at the coldest row.
#[test]
fn densities_and_latent_heat_agree_with_the_vdi_heat_atlas() {
    let mut compared = 0;
    for row in &rows("saturation_vdi_heat_atlas") {
        let t = Temperature::from_k(row.number("T_K"));
        let Some(refrigerant) = row.refrigerant() else {
            continue;
        };
        let (Ok(liquid), Some(vapour)) = (refrigerant.saturated_liquid(t), dry(refrigerant, t))
        else {
            continue;
        };
        let at = format!("{} at {} K", refrigerant.name(), t.k());
        let latent = vapour.enthalpy_j_kg - liquid.enthalpy_j_kg;
        close(
            &at,
            liquid.density_kg_m3,
            row.number("rho_liq_kg_per_m3"),
            0.05,
        );
        let printed = row.number("rho_vap_kg_per_m3");
        close(&at, vapour.density_kg_m3, printed, 0.05 + 0.5 / printed);
        close(
            &at,
            latent,
            row.number("latent_heat_kJ_per_kg") * 1000.0,
            0.1,
        );
        compared += 1;
    }
    assert!(compared >= 12, "only {compared} rows compared");
}

fn refprop(refrigerant: &str, quantity: &str) -> f64 {
    let table = rows("refprop_check_values");
    let wanted =
        |row: &&Row| row.text("refrigerant") == refrigerant && row.text("quantity") == quantity;
    table
        .iter()
        .find(wanted)
        .expect("such a row")
        .number("value")
}

/// NIST REFPROP test suite. R-134a: the same equation, so the table's own error: 0.02 %. R-407C
/// and R-410A: the mixture model, ours being pseudo-pure: 0.1 %; the liquid of R-410A stands in
/// equilibrium with much vapour there, so that it is a little richer in R-125 than ours.
#[test]
fn states_agree_with_the_refprop_check_values() {
    let p = AbsolutePressure::from_pa(refprop("R134a", "pressure") * 1e6);
    let state = Refrigerant::R134a.superheated_vapour(p, Temperature::from_k(400.0));
    close(
        "R-134a at 400 K",
        state.expect("inside").density_kg_m3,
        50.0,
        0.02,
    );

    let vapour = dry(Refrigerant::R407C, Temperature::from_k(267.15)).expect("inside");
    close(
        "R-407C",
        vapour.density_kg_m3,
        refprop("R407C", "density"),
        0.1,
    );
    close(
        "R-407C",
        vapour.enthalpy_j_kg,
        refprop("R407C", "enthalpy"),
        0.1,
    );
    close(
        "R-407C",
        vapour.entropy_j_kg_k,
        refprop("R407C", "entropy"),
        0.1,
    );

    let liquid = Refrigerant::R410A
        .saturated_liquid(Temperature::from_k(250.0))
        .expect("inside");
    // ASHRAE Standard 34 prints 72.6 g/mol; 72.585 is by their molar masses
    // (52.024 and 120.02 g/mol) at the mole fraction of the same file.
    let moles = liquid.density_kg_m3 / 72.585;
    close(
        "R-410A",
        moles,
        refprop("R410A", "saturated liquid density"),
        0.1,
    );
}

/// States of the reference itself. Asked for: 0.5 %; met with room: 0.1 % of density, enthalpy and
/// entropy. Heat capacity is held to 0.5 % where saturation is at most 120 °F; nearer to the
/// critical point it is up to 6 % off, close to dew.
#[test]
fn every_refrigerant_follows_the_reference() {
    let table = rows("coolprop_states");
    for row in &table {
        let refrigerant = row.refrigerant().expect("ours");
        let (state, at) = match row.text("phase") {
            "liquid" => {
                let t = Temperature::from_k(row.number("T_K"));
                (
                    refrigerant.saturated_liquid(t),
                    format!("liquid at {} K", t.k()),
                )
            }
            _ => {
                let p = AbsolutePressure::from_pa(row.number("p_Pa"));
                let superheat = TemperatureDifference::from_k(row.number("superheat_K"));
                (
                    refrigerant.vapour(p, superheat),
                    format!("vapour at {} Pa", p.pa()),
                )
            }
        };
        let state = state.expect("inside");
        let at = format!("{} {at}", refrigerant.name());
        close(&at, state.density_kg_m3, row.number("rho_kg_m3"), 0.1);
        close(&at, state.enthalpy_j_kg, row.number("h_J_kg"), 0.1);
        close(&at, state.entropy_j_kg_k, row.number("s_J_kg_K"), 0.1);
        let saturation = refrigerant
            .dew()
            .temperature(state.pressure)
            .expect("inside");
        if saturation.f() <= 120.0 {
            close(
                &at,
                state.heat_capacity_j_kg_k,
                row.number("cp_J_kg_K"),
                0.5,
            );
        }
    }
    assert_eq!(table.len(), Refrigerant::ALL.len() * 48);
}

/// The working range of the plant model: -50 °F of evaporation to 145 °F of condensation.
#[test]
fn states_cover_the_working_range() {
    for refrigerant in Refrigerant::ALL {
        let (lowest, highest) = refrigerant.state_limits();
        assert!(
            lowest.f() < -50.0 && highest.f() > 145.0,
            "{}",
            refrigerant.name()
        );
    }
}

/// A refrigerant, and a share of the way up its table and across its superheat.
fn any_vapour() -> impl Strategy<Value = (Refrigerant, f64, f64)> {
    (
        prop::sample::select(&Refrigerant::ALL[..]),
        0.001..0.999f64,
        0.0..=100.0f64,
    )
}

fn pressure_at(refrigerant: Refrigerant, share: f64) -> AbsolutePressure {
    let (lowest, highest) = refrigerant.state_limits();
    refrigerant
        .dew()
        .pressure(lowest + (highest - lowest) * share)
        .expect("inside")
}

fn vapour(refrigerant: Refrigerant, p: AbsolutePressure, superheat: f64) -> State {
    refrigerant
        .vapour(p, TemperatureDifference::from_k(superheat))
        .expect("inside")
}

proptest! {
    /// Along an isobar dh = T ds (first and second law). Both fits are apart; over 2 K the
    /// difference quotient and the fits leave under 1 %, and 5 % close to the critical point.
    #[test]
    fn enthalpy_and_entropy_rise_together((refrigerant, share, superheat) in any_vapour()) {
        let p = pressure_at(refrigerant, share);
        let from = vapour(refrigerant, p, superheat.min(98.0));
        let to = vapour(refrigerant, p, superheat.min(98.0) + 2.0);
        let middle = (from.temperature.k() + to.temperature.k()) / 2.0;
        let heat = middle * (to.entropy_j_kg_k - from.entropy_j_kg_k);
        let rise = to.enthalpy_j_kg - from.enthalpy_j_kg;
        prop_assert!(rise > 0.0);
        prop_assert!((heat / rise - 1.0).abs() < 0.002, "{heat} {rise}");
        prop_assert!(to.density_kg_m3 < from.density_kg_m3);
    }

    /// Searching comes back to the state it started from: 1e-12 of the range, times slope.
    #[test]
    fn a_state_is_found_again((refrigerant, share, superheat) in any_vapour()) {
        let p = pressure_at(refrigerant, share);
        let state = vapour(refrigerant, p, superheat);
        for found in [
            refrigerant.vapour_of_enthalpy(p, state.enthalpy_j_kg),
            refrigerant.vapour_of_entropy(p, state.entropy_j_kg_k),
            refrigerant.superheated_vapour(p, state.temperature),
        ] {
            match found {
                Ok(found) => prop_assert!((found.temperature - state.temperature).k().abs() < 1e-6),
                // At either end of the table rounding may carry the search outside.
                Err(_) => prop_assert!(!(1e-6..=100.0 - 1e-6).contains(&superheat)),
            }
        }
    }

    #[test]
    fn vapour_is_lighter_and_richer_than_liquid((refrigerant, share, _) in any_vapour()) {
        let (lowest, highest) = refrigerant.state_limits();
        let t = lowest + (highest - lowest) * share;
        let liquid = refrigerant.saturated_liquid(t).expect("inside");
        let vapour = dry(refrigerant, t).expect("inside");
        prop_assert!(vapour.density_kg_m3 < liquid.density_kg_m3);
        prop_assert!(vapour.enthalpy_j_kg > liquid.enthalpy_j_kg);
        prop_assert!(vapour.entropy_j_kg_k > liquid.entropy_j_kg_k);
        prop_assert!(liquid.heat_capacity_j_kg_k > 0.0);
    }

    #[test]
    fn any_numbers_give_finite_states_or_an_error(
        refrigerant in prop::sample::select(&Refrigerant::ALL[..]),
        a in prop_oneof![any::<f64>(), 1e4..5e6f64],
        b in prop_oneof![any::<f64>(), -10.0..120.0f64, 1e5..6e5f64],
    ) {
        let p = AbsolutePressure::from_pa(a);
        for state in [
            refrigerant.vapour(p, TemperatureDifference::from_k(b)),
            refrigerant.superheated_vapour(p, Temperature::from_k(b)),
            refrigerant.vapour_of_enthalpy(p, b),
            refrigerant.vapour_of_entropy(p, b),
            refrigerant.saturated_liquid(Temperature::from_k(b)),
        ].into_iter().flatten() {
            prop_assert!(state.density_kg_m3.is_finite() && state.density_kg_m3 > 0.0);
            prop_assert!(state.enthalpy_j_kg.is_finite());
            prop_assert!(state.entropy_j_kg_k.is_finite());
            prop_assert!(state.heat_capacity_j_kg_k.is_finite() && state.heat_capacity_j_kg_k > 0.0);
        }
    }
}

#[test]
fn what_lies_outside_is_refused_with_its_limits() {
    let refrigerant = Refrigerant::R410A;
    let p = AbsolutePressure::from_psia(130.0);
    for kelvin in [-0.01, 100.01, f64::NAN, f64::INFINITY] {
        let asked = TemperatureDifference::from_k(kelvin);
        let error = refrigerant.vapour(p, asked).expect_err("outside");
        assert!(matches!(error, OutsideStates::Superheat { most, .. } if most.k() == 100.0));
    }
    let hot = Temperature::from_f(157.0);
    assert!(
        refrigerant.bubble().pressure(hot).is_ok(),
        "saturation reaches further than states"
    );
    assert!(matches!(
        refrigerant.saturated_liquid(hot),
        Err(OutsideStates::Saturation(_))
    ));
    let high = refrigerant.dew().pressure(hot).expect("inside");
    let dry = TemperatureDifference::ZERO;
    assert!(matches!(
        refrigerant.vapour(high, dry),
        Err(OutsideStates::Saturation(_))
    ));
    // Wet: the enthalpy of liquid belongs to no vapour.
    let wet = refrigerant.vapour_of_enthalpy(p, 250e3).expect_err("wet");
    assert!(
        wet.to_string()
            .contains("no vapour of R-410A at 130.0 psia"),
        "{wet}"
    );
    assert!(refrigerant.vapour_of_entropy(p, f64::NAN).is_err());
}

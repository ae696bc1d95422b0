//! What holds at every operating point, whatever is wrong: masses and heats close, and there is
//! either an answer or a reason.

use cycle::{
    Bound, BuildError, Faults, LineSet, NoSolution, Plate, Point, System, Traits, Unknown,
};
use proptest::prelude::*;
use quantity::{PressureDifference, TemperatureDifference};
use refrigerant::Refrigerant;

mod support;
use support::*;

/// Share of the compressor's work that goes into the gas, as the model has it.
const WORK_IN_GAS: f64 = 0.9;

/// The sums and signs of one point.
///
/// Energy: coil, suction line and compressor against what the condenser's three zones and the liquid
/// line give to the air, each from its own transfer law. Charge: what each zone holds against what was
/// put in. All to a millionth; the worst of 40 000 random systems with ten faults at once was 3e-8,
/// the solver's tolerance.
fn check_closes(point: &Point) {
    let heat = point.capacity_w + point.line_gain_w + WORK_IN_GAS * point.power_w;
    let out = point.rejected_w + point.liquid_line_loss_w;
    assert!((heat / out - 1.0).abs() < 1e-6, "energy {heat} {out}");
    assert!(
        (point.feed_kg_s / point.mass_flow_kg_s - 1.0).abs() < 1e-6,
        "flow {point:?}"
    );
    let charge = point.charge_found_kg / point.charge_kg;
    assert!((charge - 1.0).abs() < 1e-6, "charge {charge}");
    // The refrigerant's own account of the coil: what flows in and out of it.
    let rise = point.compressor_inlet.enthalpy_j_kg - point.coil_inlet.enthalpy_j_kg;
    let coil = point.mass_flow_kg_s * rise - point.line_gain_w;
    assert!(
        (coil / point.capacity_w - 1.0).abs() < 1e-6,
        "coil {coil} {}",
        point.capacity_w
    );
    // And of the condenser.
    let fall = point.discharge.enthalpy_j_kg - point.liquid_port.enthalpy_j_kg;
    let condenser = point.mass_flow_kg_s * fall;
    assert!(
        (condenser / point.rejected_w - 1.0).abs() < 1e-6,
        "condenser {condenser}"
    );

    assert!(
        point.superheat().k() > -1e-6 && point.subcooling().k() > -1e-6,
        "{point:?}"
    );
    assert!((0.0..=1.0).contains(&point.lift) && point.power_w > 0.0 && point.capacity_w > 0.0);
    assert!((0.0..=1.0).contains(&point.wetted), "{}", point.wetted);
    assert!(point.compressor_inlet.pressure <= point.coil_outlet.pressure);
    assert!(point.line_end.pressure <= point.liquid_port.pressure);
    assert!(point.liquid_port.pressure <= point.discharge.pressure);
    assert!(point.condenser_leaving_air > point.condenser_air);
    assert!(point.water_kg_s >= 0.0);
}

fn any_refrigerant() -> impl Strategy<Value = Refrigerant> {
    prop::sample::select(Refrigerant::ALL.to_vec())
}

fn any_system() -> impl Strategy<Value = System> {
    let lines =
        (4.0..40.0, 6.0..10.0, 14.0..24.0).prop_map(|(length_m, liquid, suction)| LineSet {
            length_m,
            liquid_inner_mm: liquid,
            suction_inner_mm: suction,
        });
    let target = (6.0..14.0, 6.0..14.0);
    let device = prop::sample::select(DEVICES.to_vec());
    (any_refrigerant(), 1.0..8.0, device, lines, target).prop_map(
        |(refrigerant, tons, metering, lines, (superheat, subcooling))| {
            let plate = Plate {
                lines,
                superheat: TemperatureDifference::from_f(superheat),
                subcooling: TemperatureDifference::from_f(subcooling),
                ..Plate::new(refrigerant, tons, metering)
            };
            System::build(&plate).expect("a usual plate")
        },
    )
}

prop_compose! {
    fn any_faults()(
        charge in 0.7..1.3,
        valve_area in 0.5..2.0,
        bulb_contact in 0.6..1.0,
        liquid_restriction in 1.0..30.0,
        suction_restriction in 1.0..12.0,
        indoor_air in 0.5..1.2,
        condenser_air in 0.5..1.2,
        recirculation in 0.0..0.3,
        gas in 0.0..200.0,
        pumping in 0.6..1.0,
    ) -> Faults {
        let non_condensables = PressureDifference::from_kpa(gas);
        Faults {
            charge,
            valve_area,
            bulb_contact,
            liquid_restriction,
            suction_restriction,
            indoor_air,
            condenser_air,
            recirculation,
            non_condensables,
            pumping,
            ..Faults::NONE
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..Default::default() })]

    /// All faults at once: an answer that closes, or the reason why there is none.
    #[test]
    fn masses_and_heats_close_or_the_reason_is_given(
        system in any_system(),
        faults in any_faults(),
        (outdoor, dry, below) in (65.0..112.0, 68.0..90.0, 4.0..18.0),
    ) {
        let weather = weather(outdoor, dry, dry - below);
        match system.steady(&weather, &faults, 0.0) {
            Ok(point) => check_closes(&point),
            Err(NoSolution::Beyond { unknown, .. }) => prop_assert!(
                matches!(
                    unknown,
                    Unknown::Condensing
                        | Unknown::DischargeSuperheat
                        | Unknown::Evaporating
                        | Unknown::Floodback
                        | Unknown::CondenserLiquid
                        // About one case in tens of thousands: every fault at once throws the feed
                        // of a wide-open valve past what the model holds. Named, not answered.
                        | Unknown::FeedFirst
                        | Unknown::FeedSecond
                ),
                "{unknown:?}"
            ),
            Err(other) => prop_assert!(false, "{other}"),
        }
    }

    /// One fault at a time, of a size met in the field: always an answer.
    #[test]
    fn a_single_fault_in_usual_weather_has_an_answer(
        refrigerant in any_refrigerant(),
        size in 0.0..1.0,
        which in 0..8usize,
        (outdoor, wet) in (70.0..100.0, 60.0..70.0),
    ) {
        let system = system(refrigerant, TXV);
        let none = Faults::NONE;
        let faults = [
            Faults { charge: 0.8 + 0.4 * size, ..none },
            Faults { valve_area: 0.6 + size, ..none },
            Faults { bulb_contact: 1.0 - 0.4 * size, ..none },
            Faults { liquid_restriction: 1.0 + 25.0 * size, ..none },
            Faults { suction_restriction: 1.0 + 10.0 * size, ..none },
            Faults { indoor_air: 1.0 - 0.4 * size, ..none },
            Faults { condenser_air: 1.0 - 0.4 * size, ..none },
            Faults { pumping: 1.0 - 0.3 * size, ..none },
        ][which];
        check_closes(&rest(&system, &weather(outdoor, 78.0, wet), &faults, 0.0));
    }

    /// More charge never lowers subcooling, more turns in never lower superheat.
    #[test]
    fn charge_and_stem_push_one_way(
        refrigerant in any_refrigerant(),
        charge in 0.94..1.15,
        turns in -2.0..6.0,
    ) {
        let system = system(refrigerant, TXV);
        let at = |charge, turns| at_a(&system, &Faults { charge, ..Faults::NONE }, turns);
        let here = at(charge, turns);
        prop_assert!(at(charge + 0.05, turns).subcooling() > here.subcooling());
        prop_assert!(at(charge, turns + 1.0).superheat() > here.superheat());
        prop_assert!(at(charge, turns + 1.0).coil_outlet.pressure < here.coil_outlet.pressure);
    }
}

/// The same random extremes as the prototype's: almost all come to rest, the rest say why. None is
/// restless. Prints how hard the solver worked.
#[test]
fn two_thousand_extremes_come_to_rest_or_run_out_of_head_or_superheat() {
    for refrigerant in FOUR {
        let system = system(refrigerant, TXV);
        let mut dice = Dice(410);
        let (mut iterations, mut head, mut hot) = (Vec::new(), 0, 0);
        for _ in 0..500 {
            let faults = Faults {
                charge: dice.between(0.6, 1.4),
                indoor_air: dice.between(0.4, 1.2),
                valve_area: dice.between(0.4, 2.5),
                recirculation: dice.between(0.0, 0.35),
                ..Faults::NONE
            };
            let turns = dice.between(-4.0, 10.0);
            match system.steady_iterations(&condition_a(), &faults, turns) {
                Ok(count) => iterations.push(count),
                Err(NoSolution::Beyond {
                    unknown: Unknown::DischargeSuperheat,
                    ..
                }) => hot += 1,
                Err(reason) if reason.is_head_beyond_model() => head += 1,
                Err(other) => panic!("{other}: {faults:?}, {turns} turns"),
            }
        }
        iterations.sort_unstable();
        let (middle, most) = (
            iterations[iterations.len() / 2],
            iterations[iterations.len() - 1],
        );
        println!(
            "{}: {} at rest in {middle} (most {most}) iterations, head {head}, discharge {hot}",
            refrigerant.name(),
            iterations.len(),
        );
        assert!(iterations.len() > 460 && middle < 20);
    }
}

/// Head beyond the model is said, never shown as a number.
#[test]
fn a_head_beyond_the_model_is_no_answer() {
    for refrigerant in FOUR {
        let system = system(refrigerant, TXV);
        let faults = Faults {
            charge: 1.5,
            recirculation: 0.45,
            condenser_air: 0.4,
            ..Faults::NONE
        };
        let none = system.steady(&weather(118.0, 85.0, 72.0), &faults, 0.0);
        let error = none.expect_err("no compressor bears this");
        assert!(error.is_head_beyond_model(), "{error}");
        assert!(
            error.to_string().contains("high-pressure switch"),
            "{error}"
        );
    }
}

#[test]
fn other_ends_of_the_model_are_named() {
    // Starved so far that the gas leaves hotter than the tables know.
    let starved = Faults {
        charge: 0.6,
        valve_area: 0.5,
        ..Faults::NONE
    };
    let hot = system(Refrigerant::R32, TXV).steady(&weather(110.0, 85.0, 70.0), &starved, 0.0);
    assert!(
        matches!(
            hot,
            Err(NoSolution::Beyond {
                unknown: Unknown::DischargeSuperheat,
                bound: Bound::High,
                ..
            })
        ),
        "{hot:?}"
    );
    // Flooded and overfed in cool weather, with a pump too weak to draw the coil cold: found by
    // random search, where an equation has a root that no machine has.
    let plate = Plate {
        lines: LineSet {
            length_m: 4.0,
            liquid_inner_mm: 6.0,
            suction_inner_mm: 14.0,
        },
        superheat: TemperatureDifference::from_f(6.0),
        subcooling: TemperatureDifference::from_f(6.0),
        ..Plate::new(Refrigerant::R22, 1.0, cycle::Metering::Orifice)
    };
    let flooded = Faults {
        charge: 1.2828,
        valve_area: 1.7208,
        indoor_air: 0.5,
        condenser_air: 0.5,
        pumping: 0.6,
        ..Faults::NONE
    };
    let small = System::build(&plate).expect("a usual plate");
    let none = small.steady(&weather(65.0, 68.0, 64.0), &flooded, 0.0);
    assert!(
        matches!(
            none,
            Err(NoSolution::Beyond {
                unknown: Unknown::Floodback | Unknown::Evaporating,
                bound: Bound::High,
                ..
            })
        ),
        "{none:?}"
    );
    // A stem beyond its end, or where there is none; a fault of a size that means nothing.
    let valve = system(Refrigerant::R22, TXV);
    let is_refused = |system: &System, faults: &Faults, turns| {
        let answer = system.steady(&condition_a(), faults, turns);
        matches!(answer, Err(NoSolution::OutOfRange(_)))
    };
    assert!(is_refused(&valve, &Faults::NONE, 12.5) && is_refused(&valve, &Faults::NONE, -8.5));
    assert!(!is_refused(&valve, &Faults::NONE, 12.0));
    assert!(is_refused(
        &system(Refrigerant::R22, cycle::Metering::Orifice),
        &Faults::NONE,
        0.25
    ));
    for bad in [
        Faults {
            charge: f64::NAN,
            ..Faults::NONE
        },
        Faults {
            recirculation: 0.9,
            ..Faults::NONE
        },
        Faults {
            stuck_at: Some(1.2),
            ..Faults::NONE
        },
    ] {
        assert!(is_refused(&valve, &bad, 0.0), "{bad:?}");
    }
}

#[test]
fn a_plate_that_cannot_be_is_refused() {
    let plate = Plate::new(Refrigerant::R410A, 3.0, TXV);
    let refused = System::build(&Plate {
        tons: 90.0,
        ..plate.clone()
    });
    assert!(
        matches!(refused, Err(BuildError::OutOfRange(_))),
        "{refused:?}"
    );
    // Little air and much superheat: more than the air over the coil can give.
    let traits = Traits {
        airflow_m3_s_ton: 255.0 * 4.719_474e-4,
        ..Traits::default()
    };
    let deep = Plate {
        superheat: TemperatureDifference::from_f(25.0),
        ..plate.clone()
    };
    let refused = System::build_with(&deep, &traits);
    assert!(
        matches!(
            refused,
            Err(BuildError::Unreachable {
                coil: "evaporator",
                ..
            })
        ),
        "{refused:?}"
    );
    assert!(System::build(&plate).is_ok());
    assert!(cycle::Weather::at_sea_level_f(95.0, 80.0, 85.0).is_err());
    assert!(cycle::Weather::at_sea_level_f(20.0, 80.0, 67.0).is_err());
}

/// From a place near by or far, the plant comes to the same rest.
#[test]
fn a_start_near_by_comes_to_the_same_rest() {
    let mut dice = Dice(77);
    for refrigerant in FOUR {
        let system = system(refrigerant, TXV);
        let mut near = None;
        for _ in 0..100 {
            let faults = Faults {
                charge: dice.between(0.8, 1.2),
                indoor_air: dice.between(0.7, 1.1),
                recirculation: dice.between(0.0, 0.2),
                ..Faults::NONE
            };
            let air = condition_a()
                .with(
                    quantity::Temperature::from_f(dice.between(75.0, 105.0)),
                    quantity::Temperature::from_f(78.0),
                    quantity::Temperature::from_f(dice.between(58.0, 70.0)),
                )
                .expect("usual weather");
            let turns = dice.between(-2.0, 8.0);
            let alone = rest(&system, &air, &faults, turns);
            let rested = system
                .steady_near(&air, &faults, turns, near.as_ref())
                .expect("an operating point");
            let off = (rested.point.superheat() - alone.superheat()).abs().f();
            assert!(off < 1e-4, "{off} at {faults:?}, {turns}");
            near = Some(rested);
        }
    }
}

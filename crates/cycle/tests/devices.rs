//! Each device and each trouble of it: what a technician would find.

use cycle::{Coefficients, Equalizer, Faults, LineSet, Metering, Plate, System, Traits, Weather};
use quantity::{AbsolutePressure, Temperature, TemperatureDifference};
use refrigerant::Refrigerant;

mod support;
use support::*;

/// A loose bulb reads warm, opens the valve and floods the coil. The stem can hide it, which is why
/// the bulb comes first. Common practice, no source.
#[test]
fn a_loose_bulb_floods_the_coil() {
    for refrigerant in FOUR {
        let system = system(refrigerant, TXV);
        let loose = Faults {
            bulb_contact: 0.8,
            ..Faults::NONE
        };
        let superheat = |faults: &Faults, turns| at_a(&system, faults, turns).superheat().f();
        let (sound, found) = (superheat(&Faults::NONE, 0.0), superheat(&loose, 0.0));
        assert!(found < sound - 4.0, "{} {found}", refrigerant.name());
        assert!(superheat(&loose, 2.0) > found + 3.0);
        let point = at_a(&system, &loose, 0.0);
        assert!(point.bulb > point.coil_outlet.temperature);
    }
}

/// A bulb that has lost its charge closes the valve; what the stem can give back is far too little
/// once most is gone.
#[test]
fn a_bulb_without_charge_shuts_the_valve() {
    let system = system(Refrigerant::R410A, TXV);
    let lost = |share| Faults {
        bulb_charge_lost: share,
        ..Faults::NONE
    };
    let slight = at_a(&system, &lost(0.1), 0.0).superheat().f();
    assert!(slight > 15.0, "{slight}");
    // The stem all the way out does not bring it back.
    let opened = at_a(&system, &lost(0.6), -8.0).superheat().f();
    assert!(opened > 25.0, "{opened}");
    // Without any charge it is shut but for its bleed, and the coil runs out of the model.
    let reason = system
        .steady(&condition_a(), &lost(1.0), 0.0)
        .expect_err("no coil that empty");
    assert!(
        matches!(reason, cycle::NoSolution::Beyond { .. }),
        "{reason}"
    );
}

#[test]
fn a_stuck_needle_is_deaf_to_stem_and_bulb() {
    let system = system(Refrigerant::R22, TXV);
    let stuck = Faults {
        stuck_at: Some(0.4),
        ..Faults::NONE
    };
    let superheat = |faults: &Faults, turns| at_a(&system, faults, turns).superheat().f();
    near(
        "stem",
        superheat(&stuck, 4.0),
        superheat(&stuck, -4.0),
        1e-6,
    );
    let loose = Faults {
        bulb_contact: 0.7,
        ..stuck
    };
    near("bulb", superheat(&loose, 0.0), superheat(&stuck, 0.0), 1e-6);
    assert!(superheat(&stuck, 0.0) > 15.0);
    // Without control, weather moves it as it moves an orifice.
    let humid = rest(&system, &weather(95.0, 80.0, 72.0), &stuck, 0.0)
        .superheat()
        .f();
    println!("{humid} {}", superheat(&stuck, 0.0));
    assert!(humid > superheat(&stuck, 0.0) + 2.0);
}

/// A dirty screen starves like a blocked drier, but the line ahead of it stays warm to its end.
#[test]
fn a_dirty_screen_starves_behind_a_warm_line() {
    let system = system(Refrigerant::R410A, TXV);
    let screen = at_a(
        &system,
        &Faults {
            screen: 29.0,
            ..Faults::NONE
        },
        0.0,
    );
    let drier = at_a(
        &system,
        &Faults {
            liquid_restriction: 30.0,
            ..Faults::NONE
        },
        0.0,
    );
    near(
        "superheat",
        screen.superheat().f(),
        drier.superheat().f(),
        0.2,
    );
    let drop =
        |point: &cycle::Point| (point.liquid_port.temperature - point.line_end.temperature).f();
    // What is left is its heat to the open air, about a sixth of a degree.
    near("line ahead of the screen", drop(&screen), 0.15, 0.1);
    assert!(drop(&drier) > 5.0);
}

/// An equalizer inside the valve feels the coil's drop, which grows with flow: with more load and
/// flow it asks for more superheat than an external one, with less for less.
#[test]
fn an_inner_equalizer_drifts_with_load() {
    for refrigerant in FOUR {
        let [outer, inner] = [Equalizer::External, Equalizer::Internal]
            .map(|equalizer| system(refrigerant, Metering::Txv(equalizer)));
        let drift = |system: &System| {
            let more = rest(system, &weather(95.0, 85.0, 73.0), &Faults::NONE, 0.0);
            let less = rest(system, &weather(95.0, 72.0, 60.0), &Faults::NONE, 0.0);
            (more.superheat() - less.superheat()).f()
        };
        let (outer, inner) = (drift(&outer), drift(&inner));
        println!(
            "{}: external {outer:.2} F, internal {inner:.2} F",
            refrigerant.name()
        );
        assert!(inner > outer + 0.5);
    }
}

/// A cross charge loses less pressure for a kelvin than the refrigerant: on a cold coil it keeps the
/// valve further open than a parallel charge does.
#[test]
fn a_cross_charge_holds_the_valve_open_on_a_cold_coil() {
    let drift = |bulb_slope| {
        let traits = Traits {
            bulb_slope,
            ..Traits::default()
        };
        let system = with(Refrigerant::R22, TXV, &traits);
        let cold = rest(&system, &weather(70.0, 68.0, 56.0), &Faults::NONE, 0.0);
        cold.superheat().f() - at_a(&system, &Faults::NONE, 0.0).superheat().f()
    };
    let (cross, parallel) = (drift(0.75), drift(1.0));
    println!("cross {cross:.2} F, parallel {parallel:.2} F");
    assert!(cross < parallel - 0.5);
}

/// A bulb whose liquid runs out limits suction pressure on a hot start, and starves on purpose.
#[test]
fn a_limited_bulb_holds_suction_down_in_heat() {
    let limit = AbsolutePressure::from_psia(185.0);
    let traits = Traits {
        bulb_limit: Some(limit),
        ..Traits::default()
    };
    let plain = system(Refrigerant::R410A, TXV);
    let limited = with(Refrigerant::R410A, TXV, &traits);
    let hot = weather(95.0, 92.0, 78.0);
    let free = rest(&plain, &hot, &Faults::NONE, 0.0);
    let held = rest(&limited, &hot, &Faults::NONE, 0.0);
    println!(
        "free {:.1}, held {:.1} psig",
        psig(&free.coil_outlet),
        psig(&held.coil_outlet)
    );
    assert!(psig(&held.coil_outlet) < psig(&free.coil_outlet) - 3.0);
    assert!(held.superheat().f() > free.superheat().f() + 5.0);
    // At the design point it does not bite.
    near(
        "design",
        at_a(&limited, &Faults::NONE, 0.0).superheat().f(),
        10.0,
        0.5,
    );
}

/// An electronic valve holds its target by itself, until it is fully open.
#[test]
fn an_electronic_valve_holds_superheat_until_it_is_open() {
    for refrigerant in FOUR {
        let system = system(refrigerant, Metering::Eev);
        for outdoor in [75.0, 95.0, 110.0] {
            for charge in [0.92, 1.0, 1.1] {
                let faults = Faults {
                    charge,
                    ..Faults::NONE
                };
                let point = rest(&system, &weather(outdoor, 80.0, 67.0), &faults, 0.0);
                near("target", point.superheat().f(), 10.0, 0.01);
            }
        }
        let starved = at_a(
            &system,
            &Faults {
                valve_area: 0.3,
                ..Faults::NONE
            },
            0.0,
        );
        assert!(
            starved.superheat().f() > 20.0 && starved.lift > 0.999,
            "{}",
            starved.lift
        );
    }
}

/// A valve without a stem is the same valve.
#[test]
fn a_valve_without_a_stem_differs_only_in_that() {
    let fixed = system(Refrigerant::R32, Metering::TxvFixed(Equalizer::External));
    let stem = system(Refrigerant::R32, TXV);
    assert_eq!(
        at_a(&fixed, &Faults::NONE, 0.0),
        at_a(&stem, &Faults::NONE, 0.0)
    );
    assert_eq!(fixed.stem_ends(), (0.0, 0.0));
    assert!(fixed.steady(&condition_a(), &Faults::NONE, -0.25).is_err());
}

/// A block in the suction line: low pressure at the port, not at the coil.
#[test]
fn a_suction_block_shows_at_the_port_and_not_at_the_coil() {
    let system = system(Refrigerant::R410A, TXV);
    let sound = at_a(&system, &Faults::NONE, 0.0);
    let blocked = at_a(
        &system,
        &Faults {
            suction_restriction: 15.0,
            ..Faults::NONE
        },
        0.0,
    );
    assert!(psig(&blocked.compressor_inlet) < psig(&sound.compressor_inlet) - 10.0);
    assert!(psig(&blocked.coil_outlet) > psig(&sound.coil_outlet));
    println!(
        "{:.1} {:.1}",
        blocked.superheat_at_port().f(),
        blocked.superheat().f()
    );
    // Throttled gas keeps its heat: colder, but further above the dew point of its lower pressure.
    let (coil, port) = (blocked.superheat().f(), blocked.superheat_at_port().f());
    println!("{coil:.1} {port:.1}");
    assert!(
        port > coil + 4.0 && blocked.compressor_inlet.temperature < blocked.coil_outlet.temperature
    );
    // 1.4 % of suction is lost in a sound line, by construction.
    near(
        "sound line",
        sound.compressor_inlet.pressure / sound.coil_outlet.pressure,
        0.986,
        0.0005,
    );
}

/// Thin air carries less: less capacity, more head.
#[test]
fn altitude_costs_capacity_and_raises_head() {
    let system = system(Refrigerant::R410A, TXV);
    let [outdoor, dry, wet] = [95.0, 80.0, 67.0].map(Temperature::from_f);
    let mile = Weather::new(outdoor, dry, wet, AbsolutePressure::from_psia(12.2)).expect("weather");
    let (sea, high) = (
        at_a(&system, &Faults::NONE, 0.0),
        rest(&system, &mile, &Faults::NONE, 0.0),
    );
    between("capacity", high.capacity_w / sea.capacity_w, 0.92, 0.99);
    assert!(psig(&high.liquid_port) > psig(&sea.liquid_port) + 10.0);
}

/// A map typed in replaces the efficiencies. This one is invented: 3 tons of R-410A.
fn map() -> Coefficients {
    let mut map = Coefficients {
        flow_lb_h: [0.0; 10],
        power_w: [0.0; 10],
    };
    (map.flow_lb_h[0], map.flow_lb_h[1], map.flow_lb_h[2]) = (245.0, 9.0, -1.2);
    (map.power_w[0], map.power_w[1], map.power_w[2]) = (-400.0, -2.0, 30.0);
    map
}

#[test]
fn a_map_decides_flow_and_power() {
    let plate = Plate {
        compressor: Some(map()),
        ..Plate::new(Refrigerant::R410A, 3.0, TXV)
    };
    let system = System::build(&plate).expect("three tons by the map");
    let point = at_a(&system, &Faults::NONE, 0.0);
    near("superheat", point.superheat().f(), 10.0, 0.3);
    near("condensing", point.condensing.f(), 115.0, 0.5);
    // By hand, with the dew points of this very point.
    let (s, d) = (point.suction_dew.f(), point.discharge.pressure);
    let d = Refrigerant::R410A
        .dew()
        .temperature(d)
        .expect("in the table")
        .f();
    near("power", point.power_w, -400.0 - 2.0 * s + 30.0 * d, 3.0);
    // The gas is colder than the map's 20 °F of superheat, and so denser: three quarters of that.
    let density = |superheat| {
        let p = point.compressor_inlet.pressure;
        Refrigerant::R410A
            .vapour(p, superheat)
            .expect("in the table")
            .density_kg_m3
    };
    let usual = density(TemperatureDifference::from_f(20.0));
    let denser = 1.0 + 0.75 * (density(point.superheat_at_port()) / usual - 1.0);
    near(
        "flow",
        point.mass_flow_lb_h() / (245.0 + 9.0 * s - 1.2 * d),
        denser,
        0.001,
    );
    let weak = at_a(
        &system,
        &Faults {
            pumping: 0.8,
            ..Faults::NONE
        },
        0.0,
    );
    assert!(weak.capacity_w < point.capacity_w && weak.evaporating > point.evaporating);
}

#[test]
fn a_map_of_another_size_is_refused() {
    let plate = Plate {
        compressor: Some(map()),
        ..Plate::new(Refrigerant::R410A, 6.0, TXV)
    };
    let refused = System::build(&plate);
    assert!(
        matches!(refused, Err(cycle::BuildError::MapAgainstPlate { .. })),
        "{refused:?}"
    );
}

/// A wider design: any plate is met by construction, and its charge grows with its lines.
#[test]
fn line_length_adds_charge() {
    let plate = Plate::new(Refrigerant::R410A, 3.0, TXV);
    let mut long = plate.clone();
    long.lines.length_m += 10.0;
    long.subcooling = TemperatureDifference::from_f(10.0);
    let [short, long] = [plate, long].map(|plate| System::build(&plate).expect("a usual plate"));
    // 10 m of 8 mm liquid line hold 0.50 L of liquid at 115 °F (R-410A: 921 kg/m3 by
    // `refrigerant`), and the suction line 3.1 L of vapour (38 kg/m3).
    near(
        "added, kg",
        long.charge_kg() - short.charge_kg(),
        0.503 * 0.921 + 3.14e-3 * 38.0,
        0.02,
    );
}

/// The liquid line gives heat to air that is cooler and takes it from air that is warmer, by as much
/// as its bare pipe lets through: 10 W/(m2 K) of inner wall, engineering default, no source.
#[test]
fn the_liquid_line_trades_heat_with_the_open_air() {
    let of_length = |length_m| {
        let lines = LineSet {
            length_m,
            ..LineSet::default()
        };
        let plate = Plate {
            lines,
            ..Plate::new(Refrigerant::R410A, 3.0, TXV)
        };
        System::build(&plate).expect("a usual plate")
    };
    let (short, long) = (of_length(5.0), of_length(50.0));
    let cool = at_a(&long, &Faults::NONE, 0.0);
    let wall = core::f64::consts::PI * 8e-3 * 50.0;
    let mean = (cool.liquid_port.temperature.k() + cool.line_end.temperature.k()) / 2.0;
    let by_hand = 10.0 * wall * (mean - cool.condenser_air.k());
    near("heat, W", cool.liquid_line_loss_w, by_hand, 0.02 * by_hand);
    let less = at_a(&short, &Faults::NONE, 0.0);
    assert!(less.liquid_line_loss_w < 0.15 * cool.liquid_line_loss_w);
    // With gas that does not condense the port reads high, but the liquid itself can be near the
    // air; recirculation makes it warmer than the open air, never colder.
    let pocket = Faults {
        recirculation: 0.2,
        ..Faults::NONE
    };
    assert!(at_a(&long, &pocket, 0.0).liquid_line_loss_w > cool.liquid_line_loss_w);
    near(
        "tons",
        at_a(&long, &Faults::NONE, 0.0).capacity_tons(),
        3.0,
        0.01,
    );
}

//! From a reading to text and back, as the page's background worker does it.

use diagnosis::{Field, MeasuringPoint, Metering, Reading, Setup};
use likeness::{Answered, Besides, FitError, Measured, Question, Told, answer, fit, read, told};
use proptest::prelude::*;
use refrigerant::Refrigerant;
use serde_json::Value;

/// An invented reading of 3 tons of R-410A.
fn reading() -> Reading {
    Reading::of(&[
        (Field::SuctionPressure, 118.0),
        (Field::SuctionLine, 58.0),
        (Field::LiquidPressure, 380.0),
        (Field::LiquidLine, 102.0),
        (Field::OpenAir, 92.0),
        (Field::CondenserAir, 94.0),
        (Field::ReturnDryBulb, 76.0),
        (Field::ReturnWetBulb, 63.0),
        (Field::SupplyDryBulb, 57.0),
    ])
}

fn setup(metering: Metering) -> Setup {
    Setup {
        nominal_tons: Some(3.0),
        ..Setup::new(Refrigerant::R410A, metering)
    }
}

fn told_by(metering: Metering) -> Told {
    told(&setup(metering), &reading(), &Besides::default()).expect("enough")
}

fn asked(told: &Told) -> Value {
    let question = Question {
        told: told.clone(),
        ounces: Some(6.0),
        will_it_fit: true,
    };
    let text = serde_json::to_string(&question).expect("a question");
    serde_json::from_str(&answer(&text)).expect("JSON")
}

/// Superheat and subcooling by hand, from the chart of `refrigerant`.
#[test]
fn a_reading_is_told_in_dew_and_bubble_temperatures() {
    let told = told_by(Metering::AdjustableTxv);
    let dew = Refrigerant::R410A
        .dew()
        .temperature(quantity::AbsolutePressure::from_psia(118.0 + 14.696))
        .expect("on the chart");
    assert!((told.suction_dew.f - dew.f()).abs() < 0.01, "{told:?}");
    assert!(told.suction_dew.within_f > 0.5 && told.suction_line.within_f > 1.2);
    assert!((told.suction_line.f - 58.0).abs() < 1e-9);
    assert_eq!((told.superheat_low_f, told.superheat_high_f), (8.0, 12.0));
    assert!(!told.at_service_valve && !told.is_off_chart);
    let moved = Setup {
        point: MeasuringPoint::ServiceValve,
        ..setup(Metering::AdjustableTxv)
    };
    let told = likeness::told(&moved, &reading(), &Besides::default()).expect("enough");
    assert!(told.at_service_valve);
}

#[test]
fn what_a_reading_lacks_is_named() {
    let mut short = reading();
    short.set(Field::LiquidLine, None);
    short.set(Field::OpenAir, None);
    let setup = setup(Metering::AdjustableTxv);
    let lacking = told(&setup, &short, &Besides::default()).expect_err("no subcooling");
    assert_eq!(lacking.0, [Field::LiquidLine]);
    short.set(Field::CondenserAir, None);
    let lacking = told(&setup, &short, &Besides::default()).expect_err("no air");
    assert_eq!(
        lacking.0,
        [Field::LiquidLine, Field::CondenserAir, Field::OpenAir]
    );
    assert!(lacking.to_string().contains("Liquid line"), "{lacking}");
}

/// A standing pressure far over its chart: gas, and no likeness of anything.
#[test]
fn a_standing_test_off_its_chart_is_told() {
    let mut gassed = reading();
    gassed.set(Field::StandingPressure, Some(320.0));
    gassed.set(Field::StandingAir, Some(80.0));
    let told = told(
        &setup(Metering::AdjustableTxv),
        &gassed,
        &Besides::default(),
    )
    .expect("enough");
    assert!(told.is_off_chart);
    let said = asked(&told);
    assert_eq!(said["likeness"]["poor"], true);
    assert_eq!(said["what_if"], Value::Array(Vec::new()));
}

/// Nothing is lost on the way back to the page.
#[test]
fn an_answer_is_read_as_it_was_written() {
    let question = Question {
        told: told_by(Metering::AdjustableTxv),
        ounces: Some(3.0),
        will_it_fit: true,
    };
    let text = answer(&serde_json::to_string(&question).expect("text"));
    let back = read(&text).expect("an answer");
    assert!(back.will_it_fit.is_some() && back.now.is_some());
    let again = serde_json::to_value(&back).expect("JSON");
    assert_eq!(again, serde_json::from_str::<Value>(&text).expect("JSON"));
}

#[test]
fn every_device_is_answered() {
    for metering in Metering::ALL {
        let said = asked(&told_by(metering));
        let changes = said["what_if"].as_array().expect("a list");
        println!("{metering:?} {}", said["likeness"]["worst"]);
        assert_eq!(said["likeness"]["poor"], false, "{metering:?} {said}");
        let expected = if metering == Metering::AdjustableTxv {
            7
        } else {
            5
        };
        assert_eq!(changes.len(), expected, "{metering:?}");
        assert!(
            changes.iter().all(|change| change["then"].is_object()),
            "{changes:?}"
        );
        assert!(said["after_charge"]["shift"]["subcooling_f"]["middle"].as_f64() > Some(0.5));
        let has_stem = matches!(metering, Metering::AdjustableTxv | Metering::Electronic);
        assert_eq!(said["will_it_fit"]["reach"] == "no-stem", !has_stem);
    }
}

/// What every change must do, whatever was read.
#[test]
fn changes_push_the_way_they_do() {
    let said = asked(&told_by(Metering::AdjustableTxv));
    let shift = |what: &str, of: &str| {
        let changes = said["what_if"].as_array().expect("a list");
        let change = changes.iter().find(|change| change["what"] == what);
        change.expect("answered")["shift"][of]["middle"]
            .as_f64()
            .expect("a number")
    };
    assert!(shift("stem-out-one-turn", "superheat_f") < -0.5);
    assert!(shift("stem-in-one-turn", "superheat_f") > 0.5);
    assert!(shift("stem-out-one-turn", "suction_psi") > 0.3);
    assert!(shift("charge-up-tenth", "subcooling_f") > 3.0);
    assert!(shift("charge-down-tenth", "subcooling_f") < -3.0);
    assert!(shift("condenser-air-cooler-10-f", "head_psi") < -30.0);
    assert!(shift("condenser-in-open-air", "head_psi") < 0.0);
    assert!(shift("indoor-air-up-fifth", "suction_psi") > 1.0);
}

#[test]
fn ounces_need_a_charge_and_are_a_small_step() {
    let told = Told {
        nominal_tons: None,
        ..told_by(Metering::AdjustableTxv)
    };
    let said = asked(&told);
    assert!(said["after_charge"].is_null() && said["now"]["capacity_btu_h"].is_null());
    assert!(said["no_ounces"].as_str().expect("words").contains("tons"));
    let told = told_by(Metering::AdjustableTxv);
    let likeness = fit(&told).expect("a fit");
    for ounces in [500.0, -500.0, f64::NAN] {
        assert!(likeness.after_charge(ounces).is_err());
    }
    // The plate's charge decides what an ounce is worth: half of it, twice the effect.
    let effect = |plate_charge_oz| {
        let told = Told {
            plate_charge_oz: Some(plate_charge_oz),
            ..told.clone()
        };
        let forecast = fit(&told)
            .expect("a fit")
            .after_charge(3.0)
            .expect("a charge");
        forecast.shift.expect("an answer").subcooling_f.middle
    };
    let ratio = effect(80.0) / effect(160.0);
    assert!((1.8..2.2).contains(&ratio), "{ratio}");
}

#[test]
fn what_the_model_does_not_know_is_an_error() {
    let told = told_by(Metering::AdjustableTxv);
    let key = |told: &Told| asked(told)["error"]["key"].as_str().map(str::to_owned);
    let odd = Told {
        refrigerant: "R-999".to_owned(),
        ..told.clone()
    };
    assert_eq!(key(&odd).as_deref(), Some("unknown-refrigerant"));
    let odd = Told {
        metering: "tap".to_owned(),
        ..told.clone()
    };
    assert_eq!(key(&odd).as_deref(), Some("unknown-metering"));
    let odd = Told {
        open_air: None,
        condenser_air: None,
        ..told.clone()
    };
    assert_eq!(key(&odd).as_deref(), Some("no-outdoor-air"));
    let odd = Told {
        nominal_tons: Some(900.0),
        ..told.clone()
    };
    assert_eq!(key(&odd).as_deref(), Some("no-such-system"));
    let odd = Told {
        suction_line: Measured {
            f: f64::NAN,
            within_f: 1.0,
        },
        ..told
    };
    assert_eq!(fit(&odd).err(), Some(FitError::NotANumber));
    for text in ["", "{}", "[1]", "{\"told\":{}}"] {
        let said: Value = serde_json::from_str(&answer(text)).expect("JSON");
        assert_eq!(said["error"]["key"], "not-a-question", "{text}");
    }
}

/// Every refrigerant of the tables can be fitted.
#[test]
fn every_refrigerant_is_fitted() {
    for refrigerant in Refrigerant::ALL {
        let psig = |line: &refrigerant::SaturationLine, f: f64| {
            let pressure = line.pressure(quantity::Temperature::from_f(f));
            pressure.expect("on the chart").psia() - 14.696
        };
        let mut own = reading();
        own.set(Field::SuctionPressure, Some(psig(refrigerant.dew(), 42.0)));
        own.set(
            Field::LiquidPressure,
            Some(psig(refrigerant.bubble(), 112.0)),
        );
        let setup = Setup {
            refrigerant,
            ..setup(Metering::AdjustableTxv)
        };
        let told = told(&setup, &own, &Besides::default()).expect("enough");
        let report = fit(&told).expect("a fit").report();
        println!("{} {:?}", refrigerant.name(), report.worst);
        assert!(!report.poor, "{} {report:?}", refrigerant.name());
    }
}

fn any_measured() -> impl Strategy<Value = Measured> {
    (-60.0..250.0_f64, 0.0..20.0_f64).prop_map(|(f, within_f)| Measured { f, within_f })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..Default::default() })]

    /// Whatever is told, the answer is JSON: an answer or an error.
    #[test]
    fn any_numbers_are_answered(
        main in prop::array::uniform4(any_measured()),
        air in prop::array::uniform4(prop::option::of(any_measured())),
        turns in -30.0..30.0_f64,
        superheat in -20.0..80.0_f64,
        metering in 0..4_usize,
    ) {
        let [suction_dew, suction_line, liquid_bubble, liquid_line] = main;
        let [condenser_air, open_air, return_dry_bulb, return_wet_bulb] = air;
        let answered = vec![Answered { stem_turns: 0.0, superheat_f: superheat, within_f: 1.0 }];
        let told = Told {
            suction_dew,
            suction_line,
            liquid_bubble,
            liquid_line,
            condenser_air,
            open_air,
            return_dry_bulb,
            return_wet_bulb,
            stem_turns: turns,
            answered,
            ..told_by(Metering::ALL[metering])
        };
        let said = asked(&told);
        prop_assert!(said["error"].is_object() || said["likeness"].is_object());
        // Three numbers that are a hundred degrees off are no system.
        if said["likeness"]["poor"] == false {
            prop_assert!(said["likeness"]["worst"]["sigmas"].as_f64().is_some_and(|s| s.abs() < 3.3));
        }
    }
}

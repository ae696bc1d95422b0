//! Lines that are good: what comes back is what the core says.

use diagnosis::{
    Banded, Cause, ChargeReason, Field, Gate, Metering, Pedigree, Reading, Setup, Target, assess,
};
use quantity::{Temperature, TemperatureDifference};
use refrigerant::Refrigerant;
use serde_json::{Value, json};

mod support;
use support::{evaluate, full, good, run, with};

/// The output is rounded to 0.0001.
fn near(told: &Value, core: f64) {
    let told = told
        .as_f64()
        .unwrap_or_else(|| panic!("{told} is no number"));
    assert!((told - core).abs() <= 0.5001e-4, "{told} is not {core}");
}

#[test]
fn a_good_line_says_what_the_core_says() {
    let ran = evaluate(&[Value::Object(good())]);
    assert_eq!(ran.status, Some(0));
    assert!(ran.stderr.is_empty());
    let told = &ran.lines[0];
    let setup = Setup {
        gate: Gate::HELD,
        ..Setup::new(Refrigerant::R410A, Metering::AdjustableTxv)
    };
    let said = assess(
        &setup,
        &Reading::of(&[
            (Field::SuctionPressure, 121.0),
            (Field::SuctionLine, 52.0),
            (Field::LiquidPressure, 340.0),
            (Field::LiquidLine, 95.0),
        ]),
    );
    let temperature = |name: &str, core: Option<Banded<Temperature>>| {
        let core = core.expect("read");
        near(&told[format!("{name}_f")], core.value.f());
        near(&told[format!("{name}_band_f")], core.half_width.f());
    };
    temperature("suction_saturation", said.derived.suction_saturation);
    temperature("liquid_saturation", said.derived.liquid_saturation);
    let difference = |name: &str, core: Option<Banded<TemperatureDifference>>| {
        let core = core.expect("read");
        near(&told[format!("{name}_f")], core.value.f());
        near(&told[format!("{name}_band_f")], core.half_width.f());
    };
    difference("superheat", said.derived.superheat);
    difference("subcooling", said.derived.subcooling);
    let ratio = said.derived.compression_ratio.expect("read");
    near(&told["compression_ratio"], ratio.value);
    let findings = told["findings"].as_array().expect("a list");
    assert_eq!(findings.len(), said.findings.len());
    for (told, core) in findings.iter().zip(&said.findings) {
        assert_eq!(told["cause"], core.cause.key());
        let weight = told["weight"].as_f64().expect("a number");
        assert!((weight - core.weight).abs() < 1e-12);
        assert_eq!(told["next_test"], core.next_test());
        assert_eq!(
            told["evidence"].as_array().map(Vec::len),
            Some(core.evidence.len())
        );
    }
    let sum: f64 = findings
        .iter()
        .filter_map(|finding| finding["weight"].as_f64())
        .sum();
    assert!((sum - 1.0).abs() < 1e-9);
    assert_eq!(told["charge_advice"], said.charge_advice().key());
    assert_eq!(told["charge_reason"], said.charge.says());
    assert_eq!(told["charge_reason_id"], said.charge.key());
    // What was not read is null, not nothing and not zero.
    for key in [
        "air_split_f",
        "entering_air_rise_f",
        "standing_off_chart_psi",
        "alarm",
    ] {
        assert_eq!(told.get(key), Some(&Value::Null), "{key}");
    }
    assert!(told.get("ignored_fields").is_none());
}

#[test]
fn every_key_at_once_is_taken_and_leaves_no_number_out() {
    for &field in Field::ALL {
        assert!(
            full().contains_key(field.row().key),
            "{} is not in the full line",
            field.row().key
        );
    }
    let ran = evaluate(&[Value::Object(full())]);
    assert_eq!(ran.status, Some(0), "{}", ran.stdout);
    let told = support::object(ran.lines[0].clone());
    assert!(
        !told.contains_key("ignored_fields"),
        "{:?}",
        told["ignored_fields"]
    );
    // Nothing is wrong, so there is nothing to warn of, to test or to weigh.
    let silent = ["alarm", "charge_step", "posterior_next_test"];
    for (key, value) in &told {
        assert!(
            !value.is_null() || silent.contains(&key.as_str()),
            "{key} is null"
        );
    }
    assert_eq!(told["doubts"], json!([]));
    assert_eq!(told["findings"][0]["cause"], Cause::NoFault.key());
    assert_eq!(
        told["superheat_target_used_f"],
        json!({"band": [8.0, 12.0], "pedigree": "data-plate"})
    );
}

/// The posterior is the core's: shares of causes that sum to 1, and a small step of charge with what
/// it would do, in the plate's ounces.
#[test]
fn table_and_model_together_are_the_cores() {
    let mut short = good();
    for (key, value) in [
        ("suction_pressure_psig", json!(108)),
        ("suction_line_temp_f", json!(58)),
        ("liquid_pressure_psig", json!(340)),
        ("liquid_line_temp_f", json!(104.5)),
        ("open_air_f", json!(95)),
        ("condenser_air_f", json!(95)),
        ("plate_charge_oz", json!(160)),
        ("superheat_target_f", json!([8, 12])),
        ("subcooling_target_f", json!([7, 13])),
    ] {
        short.insert(key.to_owned(), value);
    }
    let ran = evaluate(&[Value::Object(short)]);
    assert_eq!(ran.status, Some(0), "{}", ran.stdout);
    let told = &ran.lines[0];
    let shares = told["posterior"].as_object().expect("an object");
    assert_eq!(shares.len(), Cause::ALL.len());
    let share = |cause: Cause| shares[cause.key()].as_f64().expect("a number");
    let sum: f64 = Cause::ALL.iter().map(|cause| share(*cause)).sum();
    assert!((sum - 1.0).abs() < 1e-3, "{sum}");
    assert!(share(Cause::LowCharge) > 0.5, "{told}");
    let setup = Setup {
        superheat_target: Some(Target::from_f(8.0, 12.0, Pedigree::DataPlate)),
        subcooling_target: Some(Target::from_f(7.0, 13.0, Pedigree::DataPlate)),
        gate: Gate::HELD,
        ..Setup::new(Refrigerant::R410A, Metering::AdjustableTxv)
    };
    let reading = Reading::of(&[
        (Field::SuctionPressure, 108.0),
        (Field::SuctionLine, 58.0),
        (Field::LiquidPressure, 340.0),
        (Field::LiquidLine, 104.5),
        (Field::OpenAir, 95.0),
        (Field::CondenserAir, 95.0),
    ]);
    let core = belief::judge(&setup, &reading, Some(160.0));
    for (cause, expected) in core.shares() {
        assert!((share(cause) - expected).abs() < 1e-4, "{}", cause.key());
    }
    assert_eq!(told["charge_advice"], core.assessment.charge_advice().key());
    let step = core.proposal.map(|step| (step.share, step.ounces));
    let said = told["charge_step"].as_object();
    assert_eq!(said.is_some(), step.is_some());
    if let (Some(said), Some((_, ounces))) = (said, step) {
        assert_eq!(said["charge_oz"].as_f64(), ounces);
    }
}

/// Each number alone beside the four: taken, and no other answer than the core's with that entry.
#[test]
fn every_field_is_taken_alone() {
    let full = full();
    let lines: Vec<Value> = Field::ALL
        .iter()
        .map(|field| with(field.row().key, full[field.row().key].clone()))
        .collect();
    let ran = evaluate(&lines);
    assert_eq!(ran.status, Some(0), "{}", ran.stdout);
    let setup = Setup {
        gate: Gate::HELD,
        ..Setup::new(Refrigerant::R410A, Metering::AdjustableTxv)
    };
    for ((line, told), &field) in lines.iter().zip(&ran.lines).zip(Field::ALL) {
        let mut reading = Reading::default();
        for &each in Field::ALL {
            reading.set(each, line[each.row().key].as_f64());
        }
        let said = assess(&setup, &reading);
        assert_eq!(
            told["findings"][0]["cause"],
            said.findings[0].cause.key(),
            "{field:?}"
        );
        let weight = told["findings"][0]["weight"].as_f64().expect("a number");
        assert!(
            (weight - said.findings[0].weight).abs() < 1e-12,
            "{field:?}"
        );
        assert!(told.get("ignored_fields").is_none(), "{field:?}");
    }
}

/// The job's own keys reach the core: each moves the number that it is for.
#[test]
fn each_part_of_the_job_counts() {
    let superheat = |told: &Value| told["superheat_f"].as_f64().expect("a number");
    let lines = [
        Value::Object(good()),
        with("altitude_ft", json!(6000)),
        with("barometer_psia", json!(14.696)),
        with("line_loss_psi", json!(2.0)),
        with("instruments", json!({"low_psi": 0.5, "temperature_f": 0.2})),
        with("superheat_target_f", json!([6, 9])),
        with("gate_held", json!(false)),
        with("metering", json!("orifice")),
        with("minimum_superheat_f", json!(20)),
    ];
    let ran = evaluate(&lines);
    let [
        plain,
        high,
        barometer,
        loss,
        sharp,
        target,
        open,
        orifice,
        minimum,
    ] = ran.lines.as_slice()
    else {
        panic!("nine lines");
    };
    // R-410A at 6000 ft: saturation 1.3 °F lower than uncorrected (worked in the core's tests); 2 psi
    // of suction line 0.9 °F.
    assert!((superheat(high) - superheat(plain) - 1.3).abs() < 0.15);
    assert!((superheat(plain) - superheat(barometer)).abs() < 1e-3);
    assert!((superheat(plain) - superheat(loss) - 0.9).abs() < 0.06);
    let band = |told: &Value| told["superheat_band_f"].as_f64().expect("a number");
    assert!(band(sharp) < 0.4 && band(plain) > 1.9);
    assert_eq!(target["superheat_verdict"], "cannot-tell");
    assert_eq!(
        target["superheat_target_used_f"]["pedigree"],
        Pedigree::DataPlate.key()
    );
    assert_eq!(open["charge_reason_id"], ChargeReason::GateOpen.key());
    assert_eq!(
        plain["superheat_target_used_f"]["pedigree"],
        Pedigree::RuleOfThumb.key()
    );
    assert_ne!(orifice["findings"], plain["findings"]);
    assert_eq!(minimum["alarm"]["alarm"], "below-minimum");
}

/// One rule with the page: a loss counts with gauge and thermometer apart, and is 2 psi unless said.
#[test]
fn line_loss_counts_only_with_gauge_and_thermometer_apart() {
    let of = |keys: Value| {
        let mut line = good();
        line.extend(support::object(keys));
        let ran = evaluate(&[Value::Object(line)]);
        ran.lines[0]["superheat_f"].as_f64().expect("a number")
    };
    let (none, two) = (of(json!({})), of(json!({"line_loss_psi": 2})));
    assert!(none - two > 0.5);
    for (keys, expected) in [
        (json!({"gauge_at_service_valve": true}), two),
        (
            json!({"gauge_at_service_valve": true, "line_loss_psi": 0}),
            none,
        ),
        (
            json!({"gauge_at_service_valve": false, "line_loss_psi": 2}),
            none,
        ),
        (
            json!({"measuring_point": "service-valve", "line_loss_psi": 2}),
            none,
        ),
        (
            json!({"measuring_point": "service-valve", "gauge_at_service_valve": true}),
            none,
        ),
    ] {
        assert_eq!(of(keys.clone()), expected, "{keys}");
    }
}

#[test]
fn a_bare_absolute_or_sealed_gauge_needs_no_altitude() {
    let mut line = good();
    line.remove("altitude_ft");
    for (gauge, suction, liquid) in [("absolute", 135.696, 354.696), ("sealed", 121.0, 340.0)] {
        line.insert("gauge_reference".into(), json!(gauge));
        line.insert("suction_pressure_psig".into(), json!(suction));
        line.insert("liquid_pressure_psig".into(), json!(liquid));
        let ran = evaluate(&[Value::Object(line.clone()), Value::Object(good())]);
        assert_eq!(ran.status, Some(0), "{}", ran.stdout);
        for key in ["superheat_f", "subcooling_f", "compression_ratio"] {
            let of = |at: usize| ran.lines[at][key].as_f64().expect("a number");
            assert!((of(0) - of(1)).abs() < 1e-3, "{gauge} {key}");
        }
    }
}

#[test]
fn every_refrigerant_is_known_by_its_usual_spellings() {
    for refrigerant in Refrigerant::ALL {
        let name = refrigerant.name();
        let bare = name.replace('-', "");
        for spelled in [name.to_owned(), bare.clone(), bare.to_lowercase()] {
            let mut line = good();
            line.insert("refrigerant".into(), json!(spelled));
            line.insert("suction_pressure_psig".into(), json!(40.0));
            line.insert("liquid_pressure_psig".into(), json!(150.0));
            let ran = evaluate(&[Value::Object(line)]);
            assert_eq!(ran.status, Some(0), "{spelled}: {}", ran.stdout);
        }
    }
}

#[test]
fn blank_lines_carriage_returns_and_a_missing_last_newline() {
    let line = Value::Object(good());
    let text = format!("\r\n{line}\r\n\n   \t\n{line}\r\n\r\n{line}");
    let ran = run(&["evaluate"], text.as_bytes());
    assert_eq!(ran.status, Some(0));
    assert_eq!(ran.lines.len(), 3);
    assert_eq!(ran.stdout.lines().count(), 3);
    assert!(ran.lines.iter().all(|told| *told == ran.lines[0]));
    let nothing = run(&["evaluate"], b"");
    assert_eq!((nothing.status, nothing.stdout.as_str()), (Some(0), ""));
}

#[test]
fn what_means_nothing_here_is_told_back() {
    let mut line = good();
    line.insert("suction_presure_psig".into(), json!(12.0));
    line.insert("note".into(), json!("roof"));
    let ran = evaluate(&[Value::Object(line)]);
    assert_eq!(ran.status, Some(0));
    assert_eq!(
        ran.lines[0]["ignored_fields"],
        json!(["suction_presure_psig", "note"])
    );
}

/// Null is a blank: an optional key may carry it.
#[test]
fn null_is_not_given() {
    let lines = [
        Value::Object(good()),
        with("open_air_f", Value::Null),
        with("metering", Value::Null),
    ];
    let ran = evaluate(&lines);
    assert_eq!(ran.status, Some(0));
    assert_eq!(ran.lines[0], ran.lines[1]);
    assert_eq!(ran.lines[0], ran.lines[2]);
}

#[test]
fn doubtful_entries_are_used_and_told() {
    let mut line = good();
    line.insert("suction_pressure_psig".into(), json!(340.0));
    line.insert("liquid_pressure_psig".into(), json!(121.0));
    let ran = evaluate(&[Value::Object(line)]);
    assert_eq!(ran.status, Some(0));
    let doubts: Vec<&str> = ran.lines[0]["doubts"]
        .as_array()
        .expect("a list")
        .iter()
        .filter_map(|doubt| doubt["doubt"].as_str())
        .collect();
    assert!(doubts.contains(&"hoses-swapped"), "{doubts:?}");
    assert_eq!(ran.lines[0]["charge_advice"], "unknown");
    assert!(ran.lines[0]["superheat_f"].is_number());
}

/// A plate target takes the pedigree that is given with it.
#[test]
fn pedigree_of_a_target() {
    for pedigree in Pedigree::ALL {
        let mut line = good();
        line.insert("subcooling_target_f".into(), json!([7, 13]));
        line.insert("target_pedigree".into(), json!(pedigree.key()));
        let ran = evaluate(&[Value::Object(line)]);
        let used = &ran.lines[0]["subcooling_target_used_f"];
        let target = Target::from_f(7.0, 13.0, pedigree);
        assert_eq!(used["pedigree"], target.pedigree.key());
        let thumb = ran.lines[0]["charge_reason_id"] == ChargeReason::TargetIsRuleOfThumb.key();
        assert_eq!(thumb, pedigree == Pedigree::RuleOfThumb);
    }
}

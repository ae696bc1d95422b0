//! What the core said, as one JSON object.

use crate::input::Case;
use belief::Judged;
use diagnosis::{Alarm, Banded, Derived, Doubt, Finding, Metering};
use quantity::{Temperature, TemperatureDifference, Units};
use serde_json::{Map, Value, json};

/// The answer to one line.
pub fn told(case: &Case, judged: &Judged) -> Value {
    let said = &judged.assessment;
    let mut out = Map::new();
    let derived = &said.derived;
    temperatures(&mut out, derived);
    differences(&mut out, derived);
    out.insert(
        "superheat_verdict".into(),
        json!(
            derived
                .superheat
                .map(|superheat| superheat.against(&derived.superheat_target).key())
        ),
    );
    out.insert(
        "subcooling_verdict".into(),
        json!(
            derived
                .subcooling
                .map(|value| value.against(&derived.subcooling_target).key())
        ),
    );
    for (key, target) in [
        ("superheat_target_used_f", &derived.superheat_target),
        ("subcooling_target_used_f", &derived.subcooling_target),
    ] {
        let band = [round(target.low.f()), round(target.high.f())];
        out.insert(
            key.into(),
            json!({ "band": band, "pedigree": target.pedigree.key() }),
        );
    }
    out.insert(
        "compression_ratio".into(),
        json!(derived.compression_ratio.map(|r| round(r.value))),
    );
    out.insert(
        "compression_ratio_band".into(),
        json!(derived.compression_ratio.map(|r| round(r.half_width))),
    );
    out.insert(
        "suction_line_drop_psi".into(),
        json!(derived.suction_line_drop.map(|drop| round(drop.psi()))),
    );
    let standing = derived.standing;
    out.insert(
        "standing_off_chart_psi".into(),
        json!(standing.map(|s| round(s.off_chart.psi()))),
    );
    out.insert(
        "standing_band_psi".into(),
        json!(standing.map(|s| round(s.half_width.psi()))),
    );
    out.insert("alarm".into(), alarm(said.alarm, case.setup.metering));
    out.insert("doubts".into(), said.doubts.iter().map(doubt).collect());
    out.insert(
        "findings".into(),
        said.findings.iter().map(finding).collect(),
    );
    posterior(&mut out, judged);
    out.insert("charge_advice".into(), json!(said.charge_advice().key()));
    out.insert("charge_reason".into(), json!(said.charge.says()));
    out.insert("charge_reason_id".into(), json!(said.charge.key()));
    if !case.ignored.is_empty() {
        out.insert("ignored_fields".into(), json!(case.ignored));
    }
    Value::Object(out)
}

/// What table and model say together.
fn posterior(out: &mut Map<String, Value>, judged: &Judged) {
    let shares = judged.shares();
    let shares: Map<String, Value> = shares
        .iter()
        .map(|(cause, share)| (cause.key().to_owned(), json!(round(*share))))
        .collect();
    out.insert("posterior".into(), Value::Object(shares));
    let pairs: Vec<Value> = judged
        .pairs()
        .map(|(first, second, probability)| {
            json!({ "causes": [first.key(), second.key()], "probability": round(probability) })
        })
        .collect();
    out.insert("posterior_pairs".into(), json!(pairs));
    out.insert("model_explains".into(), json!(round(judged.explained)));
    let next = judged.next_test.map(|next| {
        json!({
            "says": next.test.says,
            "minutes": next.test.minutes,
            "gain_bits": round(next.gain_bits),
        })
    });
    out.insert("posterior_next_test".into(), json!(next));
    let step = judged.proposal.map(|step| {
        let after = |banded: Option<Banded<TemperatureDifference>>| {
            banded.map(|b| [round(b.value.f()), round(b.half_width.f())])
        };
        json!({
            "charge_share": round(step.share),
            "charge_oz": step.ounces,
            "subcooling_after_f": after(step.subcooling),
            "superheat_after_f": after(step.superheat),
        })
    });
    out.insert("charge_step".into(), json!(step));
}

/// To a ten-thousandth: far under any tool, and short to read.
pub fn round(number: f64) -> f64 {
    (number * 10_000.0).round() / 10_000.0
}

fn temperatures(out: &mut Map<String, Value>, derived: &Derived) {
    let rows: [(&str, Option<Banded<Temperature>>); 4] = [
        ("suction_saturation", derived.suction_saturation),
        ("liquid_saturation", derived.liquid_saturation),
        ("evaporating", derived.evaporating),
        ("condensing", derived.condensing),
    ];
    for (name, banded) in rows {
        put(out, name, banded.map(|b| (b.value.f(), b.half_width)));
    }
}

fn differences(out: &mut Map<String, Value>, derived: &Derived) {
    let rows: [(&str, Option<Banded<TemperatureDifference>>); 14] = [
        ("superheat", derived.superheat),
        ("subcooling", derived.subcooling),
        ("compressor_superheat", derived.compressor_superheat),
        ("condensing_over_air", derived.condensing_over_entering),
        ("condensing_over_open_air", derived.condensing_over_open),
        ("evaporator_split", derived.evaporator_split),
        ("air_split", derived.air_split),
        ("air_split_off_expected", derived.air_split_off()),
        ("liquid_approach", derived.liquid_approach),
        ("entering_air_rise", derived.entering_air_rise),
        ("condenser_air_rise", derived.condenser_air_rise),
        ("liquid_line_drop", derived.liquid_line_drop),
        ("drier_drop", derived.drier_drop),
        ("discharge_over_condensing", derived.discharge_superheat),
    ];
    for (name, banded) in rows {
        put(out, name, banded.map(|b| (b.value.f(), b.half_width)));
    }
    let expected = derived.expected_air_split.map(|split| round(split.f()));
    out.insert("expected_air_split_f".into(), json!(expected));
}

fn put(out: &mut Map<String, Value>, name: &str, banded: Option<(f64, TemperatureDifference)>) {
    out.insert(
        format!("{name}_f"),
        json!(banded.map(|(value, _)| round(value))),
    );
    out.insert(
        format!("{name}_band_f"),
        json!(banded.map(|(_, half)| round(half.f()))),
    );
}

fn alarm(alarm: Option<Alarm>, metering: Metering) -> Value {
    alarm.map_or(Value::Null, |alarm| {
        let has_stem = metering == Metering::AdjustableTxv;
        json!({ "alarm": alarm.key(), "says": alarm.safe_direction(has_stem) })
    })
}

fn doubt(doubt: &Doubt) -> Value {
    json!({
        "doubt": doubt.key(),
        "field": doubt.field().map(|field| field.row().key),
        "says": doubt.says(),
    })
}

fn finding(finding: &Finding) -> Value {
    let evidence: Vec<Value> = finding
        .evidence
        .iter()
        .map(|(seen, speaks)| {
            json!({
                "sign": seen.sign.key(),
                "reads": seen.reads().key(),
                "speaks": speaks.key(),
                "says": seen.says(Units::default()),
            })
        })
        .collect();
    json!({
        "cause": finding.cause.key(),
        "weight": finding.weight,
        "evidence": evidence,
        "next_test": finding.next_test(),
    })
}

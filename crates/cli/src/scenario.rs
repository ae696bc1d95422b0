//! What a scenario may say. Names carry their units; what means nothing here is refused.

use serde::Deserialize;
use std::collections::BTreeMap;

/// What is asked.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scenario {
    pub system: Given,
    #[serde(default)]
    pub conditions: Conditions,
    #[serde(default)]
    pub faults: BTreeMap<String, f64>,
    #[serde(default)]
    pub stem_turns: f64,
    #[serde(default)]
    pub events: Vec<Event>,
    pub duration_s: f64,
    #[serde(default = "half_a_minute")]
    pub interval_s: f64,
    #[serde(default)]
    pub measuring_point: Place,
    pub late_share: Option<f64>,
    pub late_minutes: Option<f64>,
}

fn half_a_minute() -> f64 {
    30.0
}

/// Where suction is read.
#[derive(Clone, Copy, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    #[default]
    Bulb,
    ServiceValve,
}

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Device {
    #[default]
    Txv,
    TxvFixed,
    Eev,
    Orifice,
}

#[derive(Clone, Copy, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tube {
    #[default]
    External,
    Internal,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Given {
    pub refrigerant: String,
    pub nominal_tons: f64,
    #[serde(default)]
    pub metering: Device,
    #[serde(default)]
    pub equalizer: Tube,
    pub line_length_ft: Option<f64>,
    pub liquid_line_inner_in: Option<f64>,
    pub suction_line_inner_in: Option<f64>,
    pub design_superheat_f: Option<f64>,
    pub design_subcooling_f: Option<f64>,
    pub plate_charge_lb: Option<f64>,
    pub compressor: Option<Map>,
    pub superheat_per_turn_f: Option<f64>,
    pub stem_turns_out: Option<f64>,
    pub stem_turns_in: Option<f64>,
    pub bulb_lag_s: Option<f64>,
    pub friction_share: Option<f64>,
    pub valve_size_share: Option<f64>,
    pub bulb_limit_psia: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Map {
    pub flow_lb_h: [f64; 10],
    pub power_w: [f64; 10],
}

/// What is left out stays as it was; at the start, as in AHRI 210/240 condition A at sea level.
#[derive(Clone, Copy, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Conditions {
    pub outdoor_f: Option<f64>,
    pub return_dry_bulb_f: Option<f64>,
    pub return_wet_bulb_f: Option<f64>,
    pub altitude_ft: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Event {
    pub t_s: f64,
    pub turn: Option<f64>,
    pub charge_oz: Option<f64>,
    #[serde(default)]
    pub faults: BTreeMap<String, f64>,
    #[serde(default)]
    pub conditions: Conditions,
}

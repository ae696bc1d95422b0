//! Systems, weather and published tables for the tests.

#![allow(dead_code)] // Each test file uses its own part.

use std::collections::HashMap;

use cycle::{Equalizer, Faults, Metering, Plate, Point, System, Traits, Weather};
use refrigerant::Refrigerant;

pub const TXV: Metering = Metering::Txv(Equalizer::External);
pub const DEVICES: [Metering; 4] = [
    TXV,
    Metering::Txv(Equalizer::Internal),
    Metering::Eev,
    Metering::Orifice,
];
/// Those the model was validated for by name.
pub const FOUR: [Refrigerant; 4] = [
    Refrigerant::R22,
    Refrigerant::R410A,
    Refrigerant::R32,
    Refrigerant::R454B,
];

pub fn system(refrigerant: Refrigerant, metering: Metering) -> System {
    sized(refrigerant, 3.0, metering)
}

pub fn sized(refrigerant: Refrigerant, tons: f64, metering: Metering) -> System {
    System::build(&Plate::new(refrigerant, tons, metering)).expect("a usual plate")
}

pub fn with(refrigerant: Refrigerant, metering: Metering, traits: &Traits) -> System {
    let plate = Plate::new(refrigerant, 3.0, metering);
    System::build_with(&plate, traits).expect("a usual plate")
}

/// °F: outdoors, return dry and wet bulb.
pub fn weather(outdoor: f64, dry: f64, wet: f64) -> Weather {
    Weather::at_sea_level_f(outdoor, dry, wet).expect("usual weather")
}

/// AHRI 210/240 condition A.
pub fn condition_a() -> Weather {
    weather(95.0, 80.0, 67.0)
}

pub fn rest(system: &System, weather: &Weather, faults: &Faults, turns: f64) -> Point {
    system
        .steady(weather, faults, turns)
        .expect("an operating point")
}

/// At condition A.
pub fn at_a(system: &System, faults: &Faults, turns: f64) -> Point {
    rest(system, &condition_a(), faults, turns)
}

/// psi over standard air.
pub fn psig(corner: &cycle::Corner) -> f64 {
    corner.pressure.psia() - 14.696
}

/// `value` is `expected` to `tolerance`; says what it found.
pub fn near(what: &str, value: f64, expected: f64, tolerance: f64) {
    let text = format!("{what}: {value:.4}, expected {expected:.4} +- {tolerance}");
    println!("{text}");
    assert!((value - expected).abs() <= tolerance, "{text}");
}

pub fn between(what: &str, value: f64, low: f64, high: f64) {
    let text = format!("{what}: {value:.4}, expected {low} to {high}");
    println!("{text}");
    assert!((low..=high).contains(&value), "{text}");
}

/// Rows of a published table: column name to text.
pub fn rows(csv: &str) -> Vec<HashMap<String, String>> {
    let mut lines = csv
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty());
    let names: Vec<&str> = lines
        .next()
        .map_or(Vec::new(), |head| head.split(',').collect());
    lines
        .map(|line| {
            let words = line.split(',').map(str::to_owned);
            names
                .iter()
                .map(|name| (*name).to_owned())
                .zip(words)
                .collect()
        })
        .collect()
}

pub fn number(row: &HashMap<String, String>, column: &str) -> f64 {
    row[column].parse().expect("a number")
}

/// Random numbers that are the same everywhere: splitmix64 of Steele, Lea and Flood (2014).
pub struct Dice(pub u64);

impl Dice {
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        low + (high - low) * ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

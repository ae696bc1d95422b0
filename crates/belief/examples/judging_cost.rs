//! What a judgement costs, natively: `cargo run --release -p belief --example judging_cost`.
#![allow(clippy::disallowed_methods, reason = "a bench looks at the clock")]

use std::hint::black_box;
use std::time::Instant;

use belief::judge;
use diagnosis::{Field, Gate, Metering, Pedigree, Reading, Setup, Target, assess};
use refrigerant::Refrigerant;

const TIMES: u32 = 4000;

fn main() {
    let setup = Setup {
        superheat_target: Some(Target::from_f(8.0, 12.0, Pedigree::DataPlate)),
        subcooling_target: Some(Target::from_f(7.0, 13.0, Pedigree::DataPlate)),
        gate: Gate::HELD,
        ..Setup::new(Refrigerant::R410A, Metering::AdjustableTxv)
    };
    let basic = Reading::of(&[
        (Field::SuctionPressure, 118.0),
        (Field::SuctionLine, 58.0),
        (Field::LiquidPressure, 371.0),
        (Field::LiquidLine, 102.0),
        (Field::OpenAir, 93.0),
        (Field::ReturnDryBulb, 77.0),
        (Field::ReturnWetBulb, 64.0),
        (Field::SupplyDryBulb, 58.0),
    ]);
    let mut full = basic.clone();
    for (field, value) in [
        (Field::CondenserAir, 97.0),
        (Field::CondenserLeavingAir, 115.0),
        (Field::LiquidLineEnd, 101.0),
        (Field::DischargeLine, 165.0),
        (Field::Amps, 84.0),
        (Field::StandingPressure, 270.0),
        (Field::StandingAir, 90.0),
    ] {
        full.set(field, Some(value));
    }
    for (name, reading) in [("basic", &basic), ("full", &full)] {
        let table = per_call(|| {
            black_box(assess(&setup, black_box(reading)));
        });
        let both = per_call(|| {
            black_box(judge(&setup, black_box(reading), Some(128.0)));
        });
        println!("{name} reading: table {table:.0} us, table and model {both:.0} us");
    }
}

fn per_call(mut once: impl FnMut()) -> f64 {
    once();
    let start = Instant::now();
    (0..TIMES).for_each(|_| once());
    start.elapsed().as_secs_f64() * 1e6 / f64::from(TIMES)
}

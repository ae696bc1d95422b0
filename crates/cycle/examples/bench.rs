//! Times of the model on this machine: `cargo run --release -p cycle --example bench`.
#![allow(clippy::disallowed_methods)]

use std::hint::black_box;
use std::time::Instant;

use cycle::{Equalizer, Faults, Metering, Plate, Run, System, Tail, Weather};
use refrigerant::Refrigerant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let weather = Weather::at_sea_level_f(95.0, 80.0, 67.0)?;
    println!(
        "{:8} {:>9} {:>9} {:>9} {:>9} {:>9}",
        "us", "build", "at rest", "faulty", "near", "minute"
    );
    for refrigerant in [Refrigerant::R22, Refrigerant::R410A, Refrigerant::R454B] {
        let plate = Plate::new(refrigerant, 3.0, Metering::Txv(Equalizer::External));
        let system = System::build(&plate)?;
        let faulty = Faults {
            charge: 0.85,
            recirculation: 0.15,
            ..Faults::NONE
        };
        let mut run = Run::at_rest(
            system.clone(),
            weather.clone(),
            faulty,
            2.0,
            Tail::default(),
        )?;
        run.turn_quarters(-4);
        let near = system.steady_near(&weather, &faulty, 2.0, None)?;
        println!(
            "{:8} {:9.1} {:9.1} {:9.1} {:9.1} {:9.1}",
            refrigerant.name(),
            microseconds(10, || System::build(black_box(&plate)).is_ok()),
            microseconds(5, || system
                .steady(black_box(&weather), &Faults::NONE, 1.0)
                .is_ok()),
            microseconds(5, || system
                .steady(black_box(&weather), &faulty, 2.0)
                .is_ok()),
            microseconds(5, || system
                .steady_near(black_box(&weather), &faulty, 2.2, Some(&near))
                .is_ok()),
            microseconds(2, || run.advance(60.0).is_ok()),
        );
    }
    Ok(())
}

/// Time of one call: the best of 300 short batches, since other work on the machine only adds.
fn microseconds(times: u32, mut call: impl FnMut() -> bool) -> f64 {
    (0..300)
        .map(|_| batch(times, &mut call))
        .fold(f64::INFINITY, f64::min)
}

fn batch(times: u32, call: &mut impl FnMut() -> bool) -> f64 {
    let start = Instant::now();
    let good = (0..times).filter(|_| call()).count();
    assert_eq!(good, times as usize, "a call failed");
    start.elapsed().as_secs_f64() * 1e6 / f64::from(times)
}

//! Answers questions about states line by line, so that the generator can check this crate.
//!
//! In: `R-410A liquid 294.15` (kelvin), `R-410A vapour 1000000 5` (pascal, superheat in kelvin) or
//! `R-410A compressed 900000 5 2700000` (suction, superheat, discharge).
//! Out: density, enthalpy, entropy and heat capacity, kg, m, J, K; for a compression without loss
//! its work, J/kg. `outside` where there is no such state.

use std::io::{self, BufRead, Write};

use quantity::{AbsolutePressure, Temperature, TemperatureDifference};
use refrigerant::{OutsideStates, Refrigerant, State};

fn main() -> io::Result<()> {
    let mut out = io::BufWriter::new(io::stdout().lock());
    for line in io::stdin().lock().lines() {
        let line = line?;
        let answer = answer(&line).ok_or_else(|| {
            io::Error::new(
                io::ErrorKind::InvalidData,
                format!("not understood: {line}"),
            )
        })?;
        match answer {
            Ok(numbers) => {
                let words: Vec<String> = numbers.iter().map(|n| format!("{n:e}")).collect();
                writeln!(out, "{}", words.join(" "))?;
            }
            Err(_) => writeln!(out, "outside")?,
        }
    }
    out.flush()
}

/// `None` when the line is not understood.
fn answer(line: &str) -> Option<Result<Vec<f64>, OutsideStates>> {
    let mut words = line.split_whitespace();
    let refrigerant = Refrigerant::from_name(words.next()?)?;
    let what = words.next()?;
    let numbers: Vec<f64> = words.map(|word| word.parse().ok()).collect::<Option<_>>()?;
    let vapour = |pascal, kelvin| {
        refrigerant.vapour(
            AbsolutePressure::from_pa(pascal),
            TemperatureDifference::from_k(kelvin),
        )
    };
    Some(match (what, numbers[..].as_ref()) {
        ("liquid", &[kelvin]) => refrigerant
            .saturated_liquid(Temperature::from_k(kelvin))
            .map(listed),
        ("vapour", &[pascal, kelvin]) => vapour(pascal, kelvin).map(listed),
        ("compressed", &[suction, kelvin, discharge]) => vapour(suction, kelvin).and_then(|from| {
            let discharge = AbsolutePressure::from_pa(discharge);
            let to = refrigerant.vapour_of_entropy(discharge, from.entropy_j_kg_k)?;
            Ok(vec![to.enthalpy_j_kg - from.enthalpy_j_kg])
        }),
        _ => return None,
    })
}

fn listed(state: State) -> Vec<f64> {
    vec![
        state.density_kg_m3,
        state.enthalpy_j_kg,
        state.entropy_j_kg_k,
        state.heat_capacity_j_kg_k,
    ]
}

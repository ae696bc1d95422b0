//! Answers saturation questions line by line, so that the generator can check this crate.
//!
//! In: `R-410A dew T 294.15` (kelvin) or `R-410A bubble P 1000000` (pascal, absolute).
//! Out: the pressure in pascal or the temperature in kelvin, or `outside`.

use std::io::{self, BufRead, Write};

use quantity::{AbsolutePressure, Temperature};
use refrigerant::{Line, Refrigerant};

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
            Some(number) => writeln!(out, "{number:e}")?,
            None => writeln!(out, "outside")?,
        }
    }
    out.flush()
}

/// `None` when the line is not understood, `Some(None)` when it asks outside the table.
fn answer(line: &str) -> Option<Option<f64>> {
    let mut words = line.split_whitespace();
    let refrigerant = Refrigerant::from_name(words.next()?)?;
    let line = words.next()?;
    let line = refrigerant.line(Line::ALL.into_iter().find(|one| one.key() == line)?);
    let what = words.next()?;
    let value: f64 = words.next()?.parse().ok()?;
    match what {
        "T" => Some(
            line.pressure(Temperature::from_k(value))
                .ok()
                .map(AbsolutePressure::pa),
        ),
        "P" => Some(
            line.temperature(AbsolutePressure::from_pa(value))
                .ok()
                .map(Temperature::k),
        ),
        _ => None,
    }
}

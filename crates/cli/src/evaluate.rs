//! Reads lines until there are none; a bad one never stops the others.

use crate::{input, output};
use serde_json::{Value, json};
use std::io::{self, BufRead, Write};

/// Writes one answer for each line that is not blank; gives back how many were bad.
pub fn stream(lines: impl BufRead, out: &mut impl Write) -> io::Result<usize> {
    let mut bad = 0;
    for (index, line) in lines.split(b'\n').enumerate() {
        let line = line?;
        if line.iter().all(u8::is_ascii_whitespace) {
            continue;
        }
        let said = answer(&line).unwrap_or_else(|fault| {
            bad += 1;
            json!({ "error": fault.told(index + 1) })
        });
        writeln!(out, "{said}")?;
    }
    Ok(bad)
}

fn answer(line: &[u8]) -> Result<Value, input::Fault> {
    let given: Value =
        serde_json::from_slice(line).map_err(|error| input::Fault::not_json(&error.to_string()))?;
    let case = input::read(&given)?;
    let said = diagnosis::assess(&case.setup, &case.reading);
    if let Some(refusal) = said.refusals.first() {
        return Err(input::Fault::refused(refusal, &case.setup));
    }
    Ok(output::told(&case, &said))
}

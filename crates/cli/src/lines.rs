//! Reads lines until there are none; a bad one never stops the others.

use crate::fault::Fault;
use serde_json::{Value, json};
use std::io::{self, BufRead, Write};

/// Writes one answer for each line that is not blank; gives back whether all were good.
pub fn stream(
    lines: impl BufRead,
    out: &mut impl Write,
    mut answer: impl FnMut(&Value) -> Result<Value, Fault>,
) -> io::Result<bool> {
    let mut good = true;
    for (index, line) in lines.split(b'\n').enumerate() {
        let line = line?;
        if line.iter().all(u8::is_ascii_whitespace) {
            continue;
        }
        let said = serde_json::from_slice(&line)
            .map_err(|error| Fault::not_json(&error.to_string()))
            .and_then(|given| answer(&given))
            .unwrap_or_else(|fault| {
                good = false;
                json!({ "error": fault.told(index + 1) })
            });
        writeln!(out, "{said}")?;
    }
    Ok(good)
}

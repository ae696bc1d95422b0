//! What one stack of readings means.

use crate::fault::Fault;
use crate::{input, output};
use serde_json::Value;

/// The answer to one line.
pub fn answer(given: &Value) -> Result<Value, Fault> {
    let case = input::read(given)?;
    let said = belief::judge(&case.setup, &case.reading, case.charge_oz);
    if let Some(refusal) = said.assessment.refusals.first() {
        return Err(Fault::refused(refusal, &case.setup));
    }
    Ok(output::told(&case, &said))
}

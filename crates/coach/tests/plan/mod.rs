//! The plan that tests share: a common band and minimum, thermometers of the trade.

use coach::Plan;
use quantity::TemperatureDifference;

/// Band 8 to 12 °F, never under 5; scatter and standing error 0.8.
pub fn plan() -> Plan {
    let f = TemperatureDifference::from_f;
    Plan {
        low: f(8.0),
        high: f(12.0),
        minimum: f(5.0),
        scatter: f(0.8),
        bias: f(0.8),
        head_limit: None,
        opening_end: None,
        closing_end: None,
    }
}

//! The time of day, and how a person reads it.
//!
//! Instants are milliseconds since 1970 in UTC, by the device's own clock. That clock can be set back
//! or forward by a person: whoever compares two instants must allow for it.

use js_sys::{Date, Object, Reflect};
use wasm_bindgen::JsValue;

/// Shown for an instant that no calendar holds.
const UNKNOWN: &str = "time unknown";

/// Farthest instant from 1970 that the browser's calendar holds, ms.
///
/// # Source
/// ECMA-262, section 21.4.1.1: exactly 8.64e15 ms to either side.
const FARTHEST_MS: i64 = 8_640_000_000_000_000;

/// Now, ms since 1970 in UTC.
pub fn now_ms() -> i64 {
    Date::now() as i64
}

/// The local time of day, such as `2:47 pm`.
pub fn local_time(at_ms: i64) -> String {
    let Some(date) = date(at_ms) else {
        return UNKNOWN.to_owned();
    };
    let options = options(&[("hour", "numeric"), ("minute", "2-digit")]);
    String::from(date.to_locale_time_string_with_options("en-US", &options))
        // Browsers differ in the space they put before "PM".
        .replace(['\u{202f}', '\u{a0}'], " ")
        .to_ascii_lowercase()
}

/// The local date with the month in letters, such as `Mar 5, 2026`: no day can be taken for a month.
pub fn local_date(at_ms: i64) -> String {
    let Some(date) = date(at_ms) else {
        return UNKNOWN.to_owned();
    };
    let options = options(&[("day", "numeric"), ("month", "short"), ("year", "numeric")]);
    String::from(date.to_locale_date_string("en-US", &options))
}

/// Local date and time with the offset from UTC, such as `2026-03-05T14:47:05-06:00`, for exports.
///
/// The offset is the one in force at that instant and place. `None` for an instant that no calendar
/// holds.
///
/// # Source
/// ISO 8601, in the profile of RFC 3339 section 5.6.
pub fn iso_with_offset(at_ms: i64) -> Option<String> {
    // Minutes from local time to UTC: positive west of Greenwich.
    let behind = date(at_ms)?.get_timezone_offset() as i64;
    let shifted = String::from(date(at_ms - behind * 60_000)?.to_iso_string());
    let (to_the_second, _) = shifted.split_once('.')?;
    let sign = if behind > 0 { '-' } else { '+' };
    let (hours, minutes) = (behind.abs() / 60, behind.abs() % 60);
    Some(format!("{to_the_second}{sign}{hours:02}:{minutes:02}"))
}

fn date(at_ms: i64) -> Option<Date> {
    (-FARTHEST_MS..=FARTHEST_MS)
        .contains(&at_ms)
        .then(|| Date::new(&JsValue::from_f64(at_ms as f64)))
}

fn options(rows: &[(&str, &str)]) -> JsValue {
    let options = Object::new();
    for (name, value) in rows {
        // A fresh plain object takes every property.
        let _ = Reflect::set(
            &options,
            &JsValue::from_str(name),
            &JsValue::from_str(value),
        );
    }
    options.into()
}

//! The records as they are stored, and as they come back.

use super::StoreError;
use crate::outside::js;
use js_sys::{Array, Object, Reflect};
use wasm_bindgen::{JsCast, JsValue};

/// One entry of the log of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EntryRow {
    /// Identifier of the job.
    pub job: String,
    /// Place in the log of that job.
    pub seq: u32,
    /// When it was entered, ms since 1970 in UTC.
    pub at_ms: i64,
    /// The entry in JSON; this module does not look inside.
    pub body: String,
}

/// What the list of jobs needs to know of one job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeadRow {
    /// Identifier of the job.
    pub job: String,
    /// The head in JSON; this module does not look inside.
    pub body: String,
}

/// One thing remembered for this device.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SettingRow {
    pub(super) name: String,
    pub(super) body: String,
}

/// A record of one object store.
pub(super) trait Row: Sized {
    /// Name of the object store.
    const STORE: &'static str;
    /// Properties and their values, in the order of [`Row::from_js`].
    fn fields(&self) -> Vec<(&'static str, JsValue)>;
    /// The record back; `None` where a property is missing or of another kind.
    fn from_js(record: &JsValue) -> Option<Self>;

    /// The record as the browser stores it.
    fn to_js(&self) -> Result<JsValue, JsValue> {
        let record = Object::new();
        for (name, value) in self.fields() {
            Reflect::set(&record, &JsValue::from_str(name), &value)?;
        }
        Ok(record.into())
    }

    /// All records of an answer, or none of them.
    fn all_from_js(answer: &JsValue) -> Result<Vec<Self>, StoreError> {
        let damaged = StoreError::Damaged(Self::STORE);
        let records: &Array = answer.dyn_ref().ok_or(damaged.clone())?;
        records
            .iter()
            .map(|record| Self::from_js(&record))
            .collect::<Option<Vec<Self>>>()
            .ok_or(damaged)
    }
}

impl Row for EntryRow {
    const STORE: &'static str = "entries";

    fn fields(&self) -> Vec<(&'static str, JsValue)> {
        vec![
            ("job", JsValue::from_str(&self.job)),
            ("seq", JsValue::from(self.seq)),
            ("at", JsValue::from_f64(self.at_ms as f64)),
            ("body", JsValue::from_str(&self.body)),
        ]
    }

    fn from_js(record: &JsValue) -> Option<EntryRow> {
        let seq = whole(record, "seq")?;
        Some(EntryRow {
            job: js::text(record, "job")?,
            seq: u32::try_from(seq).ok()?,
            at_ms: whole(record, "at")?,
            body: js::text(record, "body")?,
        })
    }
}

impl Row for HeadRow {
    const STORE: &'static str = "heads";

    fn fields(&self) -> Vec<(&'static str, JsValue)> {
        vec![
            ("job", JsValue::from_str(&self.job)),
            ("body", JsValue::from_str(&self.body)),
        ]
    }

    fn from_js(record: &JsValue) -> Option<HeadRow> {
        Some(HeadRow {
            job: js::text(record, "job")?,
            body: js::text(record, "body")?,
        })
    }
}

impl Row for SettingRow {
    const STORE: &'static str = "settings";

    fn fields(&self) -> Vec<(&'static str, JsValue)> {
        vec![
            ("name", JsValue::from_str(&self.name)),
            ("body", JsValue::from_str(&self.body)),
        ]
    }

    fn from_js(record: &JsValue) -> Option<SettingRow> {
        Some(SettingRow {
            name: js::text(record, "name")?,
            body: js::text(record, "body")?,
        })
    }
}

/// A whole number that JavaScript holds exactly.
fn whole(record: &JsValue, name: &str) -> Option<i64> {
    /// Number.MAX_SAFE_INTEGER of ECMA-262.
    const LARGEST: f64 = 9_007_199_254_740_991.0;
    let value = js::field(record, name)?.as_f64()?;
    (value.fract() == 0.0 && value.abs() <= LARGEST).then_some(value as i64)
}

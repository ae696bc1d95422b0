//! Typed look-ups in one JSON object. `null` counts as not given.

use crate::fault::Fault;
use diagnosis::{Field, Pedigree, Reading, Target};
use job::PlateField;
use serde_json::{Map, Value, json};

/// The object, and what may be asked of it.
#[derive(Clone, Copy)]
pub struct Keys<'a>(pub &'a Map<String, Value>);

impl<'a> Keys<'a> {
    /// A line as an object.
    pub fn of(given: &'a Value) -> Result<Self, Fault> {
        given
            .as_object()
            .map(Self)
            .ok_or_else(|| Fault::not_json("it holds something else"))
    }

    /// What stands under a key.
    pub fn get(self, key: &str) -> Option<&'a Value> {
        self.0.get(key).filter(|value| !value.is_null())
    }

    /// A number about the job, within the limits of its row.
    pub fn plate(self, field: PlateField) -> Result<Option<f64>, Fault> {
        let row = field.row();
        self.number(row.key, row.range, row.hint)
    }

    /// Every number that was read, each within what its instrument can show.
    pub fn reading(self) -> Result<Reading, Fault> {
        let mut reading = Reading::default();
        for &field in Field::ALL {
            let row = field.row();
            reading.set(field, self.number(row.key, row.hard, row.remedy)?);
        }
        Ok(reading)
    }

    /// A number within a range, ends included.
    pub fn number(self, key: &str, range: (f64, f64), remedy: &str) -> Result<Option<f64>, Fault> {
        let Some(value) = self.get(key) else {
            return Ok(None);
        };
        let fault = |message: String, remedy: &str| {
            Fault::new(Some(key), value, json!([range.0, range.1]), message, remedy)
        };
        let number = value.as_f64().ok_or_else(|| {
            fault(
                format!("{key} {value} is not a number."),
                "Write it without quotes or units.",
            )
        })?;
        if (range.0..=range.1).contains(&number) {
            return Ok(Some(number));
        }
        Err(fault(
            format!("{key} {number} is outside {} to {}.", range.0, range.1),
            remedy,
        ))
    }

    /// One of a list of words.
    pub fn choice<T: Copy>(
        self,
        key: &str,
        all: &[T],
        name: impl Fn(T) -> &'static str,
    ) -> Result<Option<T>, Fault> {
        let Some(value) = self.get(key) else {
            return Ok(None);
        };
        let found = value
            .as_str()
            .and_then(|text| all.iter().find(|&&one| name(one) == text));
        let names: Vec<&str> = all.iter().map(|&one| name(one)).collect();
        found.copied().map(Some).ok_or_else(|| {
            let message = format!("{key} {value} is not one of {}.", names.join(", "));
            Fault::new(
                Some(key),
                value,
                json!(names),
                message,
                "Use one of the listed words.",
            )
        })
    }

    /// True or false.
    pub fn truth(self, key: &str) -> Result<Option<bool>, Fault> {
        let Some(value) = self.get(key) else {
            return Ok(None);
        };
        value.as_bool().map(Some).ok_or_else(|| {
            let message = format!("{key} {value} is neither true nor false.");
            Fault::new(
                Some(key),
                value,
                json!([true, false]),
                message,
                "Write true or false.",
            )
        })
    }

    /// A band, `[low, high]`, within the limits of the rows of its two ends.
    pub fn target(
        self,
        key: &str,
        (low, high): (PlateField, PlateField),
        pedigree: Pedigree,
    ) -> Result<Option<Target>, Fault> {
        let Some(value) = self.get(key) else {
            return Ok(None);
        };
        let least = low.row().range.0;
        let most = high.row().range.1;
        let ends = value.as_array().and_then(|ends| match ends.as_slice() {
            [low, high] => Some((low.as_f64()?, high.as_f64()?)),
            _ => None,
        });
        match ends {
            Some((low, high)) if least <= low && low <= high && high <= most => {
                Ok(Some(Target::from_f(low, high, pedigree)))
            }
            _ => Err(Fault::new(
                Some(key),
                value,
                json!([least, most]),
                format!("{key} {value} is not a band within {least} to {most}."),
                "Write [low, high] in Fahrenheit degrees, low not above high.",
            )),
        }
    }
}

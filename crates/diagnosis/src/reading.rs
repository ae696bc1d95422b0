//! One set of values taken together, as entered.

use crate::field::Field;

/// What happened to suction pressure when the bulb was held in a warm hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BulbTest {
    /// It rose: the valve answers its bulb.
    Rises,
    /// Nothing happened: the valve does not answer.
    Nothing,
}

impl BulbTest {
    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Rises => "rises",
            Self::Nothing => "nothing",
        }
    }
}

/// One set of values taken together at one time, as entered, in the unit of each field's key.
/// Blanks are blanks, not zeros.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    values: [Option<f64>; Field::COUNT],
    /// The bulb held in a warm hand, if that was tried.
    pub bulb_test: Option<BulbTest>,
}

impl Reading {
    /// A reading with these numbers, each in the unit of its field's key.
    pub fn of(entries: &[(Field, f64)]) -> Self {
        let mut reading = Self::default();
        for &(field, number) in entries {
            reading.set(field, Some(number));
        }
        reading
    }
    /// Enters or clears a number, in the unit of the field's key.
    pub fn set(&mut self, field: Field, number: Option<f64>) {
        self.values[field.index()] = number;
    }
    /// What was entered, in the unit of the field's key.
    pub fn get(&self, field: Field) -> Option<f64> {
        self.values[field.index()]
    }
    /// Everything that was entered, in the fields' order.
    pub fn entries(&self) -> impl Iterator<Item = (Field, f64)> + '_ {
        Field::ALL
            .iter()
            .filter_map(|&field| Some((field, self.get(field)?)))
    }
    /// Whether nothing was entered.
    pub fn is_empty(&self) -> bool {
        self.bulb_test.is_none() && self.values.iter().all(Option::is_none)
    }
}

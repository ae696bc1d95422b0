//! Typed readings, before and after they are kept: letter by letter, beside what they mean.

use crate::measure::Measure;
use crate::typed::{EntryFault, Typed};
use diagnosis::{BulbTest, Field, Reading};
use std::collections::BTreeMap;

/// One set of typed values.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Draft {
    /// What was typed, by field. Blanks are not kept.
    pub typed: BTreeMap<Field, Typed>,
    /// The bulb held in a warm hand.
    pub bulb_test: Option<BulbTest>,
}

impl Draft {
    /// Whether nothing was entered.
    pub fn is_empty(&self) -> bool {
        self.typed.is_empty() && self.bulb_test.is_none()
    }

    /// The entries that are numbers, ready for the door of `diagnosis`; texts that are not numbers
    /// stay here and are named by [`Draft::faults`].
    pub fn reading(&self) -> Reading {
        let mut reading = Reading::default();
        reading.bulb_test = self.bulb_test;
        for (&field, typed) in &self.typed {
            reading.set(field, typed.value(Measure::from(field.row().kind)).ok());
        }
        reading
    }

    /// What is wrong with an entry, if anything: not a number, or outside what can be.
    pub fn fault(&self, field: Field) -> Option<EntryFault> {
        let row = field.row();
        self.typed
            .get(&field)?
            .within(Measure::from(row.kind), row.hard)
            .err()
    }

    /// Whether the four that superheat and subcooling need are all usable numbers.
    pub fn has_main_four(&self) -> bool {
        [
            Field::SuctionPressure,
            Field::SuctionLine,
            Field::LiquidPressure,
            Field::LiquidLine,
        ]
        .into_iter()
        .all(|field| self.typed.contains_key(&field) && self.fault(field).is_none())
    }
}

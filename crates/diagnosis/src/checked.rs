//! The door: what may be computed with, and what is turned away with its reason.

use crate::field::{Field, Kind};
use crate::reading::{BulbTest, Reading};
use crate::setup::Setup;
use quantity::{AbsolutePressure, GaugePressure, Temperature};
use refrigerant::SaturationLine;

/// A number that cannot be used, why, and what to do. The number itself stays in the reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Refusal {
    /// Which entry.
    pub field: Field,
    /// What was entered, in the unit of the field's key.
    pub value: f64,
    /// Lowest usable, same unit.
    pub low: f64,
    /// Highest usable, same unit.
    pub high: f64,
    /// True when the limit is the refrigerant's table, false when it is the instrument's.
    pub by_table: bool,
}

/// A reading with only usable numbers in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    values: [Option<f64>; Field::COUNT],
    setup: Setup,
    /// The bulb held in a warm hand, if that was tried.
    pub bulb_test: Option<BulbTest>,
}

/// Sorts a reading into what may be computed with and what is refused.
///
/// A pressure passes when both its instrument limits and the refrigerant's table hold it; the rest
/// when the field's hard limits do. NaN and infinities are refused. Everything usable is kept, so
/// one bad number never hides a good one.
pub fn check(setup: &Setup, reading: &Reading) -> (Checked, Vec<Refusal>) {
    let mut refusals = Vec::new();
    let mut checked = Checked {
        values: [None; Field::COUNT],
        setup: *setup,
        bulb_test: reading.bulb_test,
    };
    for (field, value) in reading.entries() {
        match refuse(setup, field, value) {
            Some(refusal) => refusals.push(refusal),
            None => checked.values[field.index()] = Some(value),
        }
    }
    (checked, refusals)
}

fn refuse(setup: &Setup, field: Field, value: f64) -> Option<Refusal> {
    let row = field.row();
    let (low, high) = row.hard;
    if !(low..=high).contains(&value) {
        return Some(Refusal {
            field,
            value,
            low,
            high,
            by_table: false,
        });
    }
    let line = match row.kind {
        Kind::LowPressure => setup.refrigerant.dew(),
        Kind::HighPressure => setup.refrigerant.bubble(),
        Kind::Temperature | Kind::Percent => return None,
    };
    let (low, high) = table_limits(setup, line, row.kind == Kind::LowPressure);
    (!(low..=high).contains(&value)).then_some(Refusal {
        field,
        value,
        low,
        high,
        by_table: true,
    })
}

/// The refrigerant table's limits as the gauge would show them, in psig.
fn table_limits(setup: &Setup, line: &SaturationLine, low_side: bool) -> (f64, f64) {
    let limits = line.limits();
    let shown = |pressure| setup.gauge.shown(pressure, setup.local_air).psig();
    let loss = if low_side {
        setup.line_loss.psi().max(0.0)
    } else {
        0.0
    };
    (
        shown(limits.lowest_pressure),
        shown(limits.highest_pressure) - loss,
    )
}

impl Checked {
    /// A temperature, if it was entered and is usable.
    pub fn temperature(&self, field: Field) -> Option<Temperature> {
        debug_assert_eq!(field.row().kind, Kind::Temperature);
        self.values[field.index()].map(Temperature::from_f)
    }
    /// The absolute pressure behind a gauge reading, if it was entered and is usable.
    pub fn pressure(&self, field: Field) -> Option<AbsolutePressure> {
        debug_assert!(matches!(
            field.row().kind,
            Kind::LowPressure | Kind::HighPressure
        ));
        let shown = GaugePressure::from_psig(self.values[field.index()]?);
        Some(self.setup.gauge.absolute(shown, self.setup.local_air))
    }
    /// The suction pressure where superheat is wanted: at the bulb the line loss is added.
    pub fn suction_at_point(&self, field: Field) -> Option<AbsolutePressure> {
        let at_gauge = self.pressure(field)?;
        Some(match self.setup.point {
            crate::MeasuringPoint::Bulb => at_gauge + self.setup.line_loss,
            crate::MeasuringPoint::ServiceValve => at_gauge,
        })
    }
    /// A percentage, if it was entered and is usable.
    pub fn percent(&self, field: Field) -> Option<f64> {
        debug_assert_eq!(field.row().kind, Kind::Percent);
        self.values[field.index()]
    }
    /// The setup it was checked against.
    pub fn setup(&self) -> &Setup {
        &self.setup
    }
}

//! Liquid on its way to the compressor: said at once, before anything else.

use crate::derived::Derived;
use crate::setup::{MeasuringPoint, Setup};
use quantity::TemperatureDifference;

/// Superheat that cannot be trusted to keep liquid out of the compressor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Alarm {
    /// At or under the alarm figure of its measuring point, or the error band touches zero:
    /// liquid is possible now.
    LiquidPossible {
        /// Where.
        point: MeasuringPoint,
        /// What the superheat reads.
        superheat: TemperatureDifference,
    },
    /// Under the minimum of the job, still above the alarm figure.
    BelowMinimum {
        /// Where.
        point: MeasuringPoint,
        /// What the superheat reads.
        superheat: TemperatureDifference,
    },
}

/// The worst alarm a reading raises, if any.
pub(crate) fn alarm(setup: &Setup, derived: &Derived) -> Option<Alarm> {
    let mut below_minimum = None;
    for (point, superheat) in derived.superheats(setup.point) {
        let value = superheat.value;
        if value <= point.alarm_superheat() || superheat.lowest() <= TemperatureDifference::ZERO {
            return Some(Alarm::LiquidPossible {
                point,
                superheat: value,
            });
        }
        if value < setup.minimum_superheat {
            below_minimum = Some(Alarm::BelowMinimum {
                point,
                superheat: value,
            });
        }
    }
    below_minimum
}

impl Alarm {
    /// Its name in files and on the command line.
    pub const fn key(&self) -> &'static str {
        match self {
            Self::LiquidPossible { .. } => "liquid-possible",
            Self::BelowMinimum { .. } => "below-minimum",
        }
    }
    /// What to do, by the kind of metering device.
    pub const fn safe_direction(&self, has_stem: bool) -> &'static str {
        if has_stem {
            "Safe direction: clockwise, closing. Liquid harms the compressor: if superheat stays \
             near zero, stop the compressor."
        } else {
            "There is no stem to close. Liquid harms the compressor: if superheat stays near zero, \
             stop the compressor and find the cause."
        }
    }
}

//! Gauges and thermometers: how wrong, how slow and how restless each is.

use crate::dice::Dice;
use diagnosis::{Instruments, PressureLimit, ThermometerLimit};
use quantity::{PressureDifference, TemperatureDifference};
use serde::Serialize;

/// How good the tools of a case are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Grade {
    Fine,
    Usual,
    Coarse,
}

/// What the tools in the bag may be wrong by, as their sheets say.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Kit {
    /// Suction gauge, psi either way.
    pub low_psi: f64,
    /// Liquid gauge, psi either way.
    pub high_psi: f64,
    /// Thermometers, °F either way.
    pub thermometer_f: f64,
}

impl Kit {
    /// Coarse: the loosest the protocol allows (California RA3.2.2.2; the thermometer's share of the
    /// reading is rounded into the fixed part). The others: common practice, no source.
    pub(crate) const fn of(grade: Grade) -> Self {
        let (low_psi, high_psi, thermometer_f) = match grade {
            Grade::Fine => (0.5, 1.0, 0.3),
            Grade::Usual => (1.0, 2.0, 0.5),
            Grade::Coarse => (3.5, 7.0, 1.4),
        };
        Self {
            low_psi,
            high_psi,
            thermometer_f,
        }
    }

    /// As `diagnosis` takes them.
    pub fn instruments(&self) -> Instruments {
        let fixed = |psi| PressureLimit::Fixed(PressureDifference::from_psi(psi));
        Instruments {
            low: fixed(self.low_psi),
            high: fixed(self.high_psi),
            thermometer: ThermometerLimit {
                fixed: TemperatureDifference::from_f(self.thermometer_f),
                percent_of_reading: 0.0,
            },
        }
    }
}

/// A tool with an error of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tool {
    LowGauge,
    HighGauge,
    SuctionProbe,
    LiquidProbe,
    CompressorProbe,
    DischargeProbe,
    CondenserAir,
    OpenAir,
    LeavingAir,
    ReturnDry,
    ReturnWet,
    Supply,
    Clamp,
}

impl Tool {
    /// One standard deviation of its flicker, in psi, °F or percent; and its lag, s: a gauge at once,
    /// a pipe probe inside the 90 s of the protocol (California RA3.2.2.2: settled within 90 s), air
    /// slower. The flicker and the air: common practice, no source.
    const fn manner(self) -> (f64, f64) {
        match self {
            Self::LowGauge => (0.15, 2.0),
            Self::HighGauge => (0.3, 2.0),
            Self::SuctionProbe | Self::LiquidProbe | Self::CompressorProbe => (0.1, 20.0),
            Self::DischargeProbe => (0.3, 25.0),
            Self::CondenserAir
            | Self::OpenAir
            | Self::LeavingAir
            | Self::ReturnDry
            | Self::Supply => (0.15, 40.0),
            Self::ReturnWet => (0.15, 60.0),
            Self::Clamp => (0.4, 1.0),
        }
    }

    pub(crate) const fn lag_s(self) -> f64 {
        self.manner().1
    }

    /// Half of the band its sheet allows, in its own unit. A clamp meter: 2 % (common practice).
    const fn limit(self, kit: &Kit) -> f64 {
        match self {
            Self::LowGauge => kit.low_psi,
            Self::HighGauge => kit.high_psi,
            Self::Clamp => 2.0,
            _ => kit.thermometer_f,
        }
    }

    /// Its standing error: the same at every reading of a case, half its limit at one standard
    /// deviation, never more than the limit.
    pub(crate) fn standing_error(self, kit: &Kit, seed: u64) -> f64 {
        let limit = self.limit(kit);
        let drawn = Dice::of(&[seed, 0x7001, self as u64]).normal() * limit / 2.0;
        drawn.clamp(-limit, limit)
    }

    /// Its flicker at a second: the same whenever that second is asked for.
    pub(crate) fn flicker(self, seed: u64, at_s: u32) -> f64 {
        let dice = &mut Dice::of(&[seed, 0xF11C, self as u64, u64::from(at_s)]);
        self.manner().0 * dice.normal().clamp(-3.0, 3.0)
    }
}

/// Share of the way to the air that a bare probe on a pipe reads: 5 °F on a pipe 35 °F colder.
///
/// # Source
/// "Typically 5 °F" for a probe not kept from the air: a trade article on pipe temperature.
pub(crate) const BARE: f64 = 0.15;

//! What is fitted: one row each, with its prior.

use diagnosis::Metering;

use crate::told::{Measured, Told};

/// What no one can read off a unit, and what was read but may be off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unknown {
    /// Charge over the right one.
    Charge,
    /// The stem as found: superheat that it asks for over the usual setting, °F.
    StemSetting,
    /// Superheat for one turn, °F.
    Gain,
    /// Area of the device over the right size: too small or too large a valve, a dirty screen.
    ValveArea,
    /// What an electronic valve holds, °F.
    Held,
    /// Indoor air over 400 cfm per ton.
    IndoorAir,
    /// Condenser air over its own, and how clean it is.
    CondenserAir,
    /// Share of condenser air that has been through it before.
    Recirculation,
    /// Flow of the compressor over its own.
    Pumping,
    /// Air outdoors, °F: in the open, or what enters the condenser when only that was read.
    Outdoor,
    /// Return air, °F.
    ReturnDry,
    /// Wet bulb of the return air, °F.
    ReturnWet,
}

impl Unknown {
    /// Its name in files; the unit is its end, `share` where there is none.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Charge => "charge_share",
            Self::StemSetting => "stem_setting_f",
            Self::Gain => "gain_f_per_turn",
            Self::ValveArea => "valve_area_share",
            Self::Held => "held_superheat_f",
            Self::IndoorAir => "indoor_air_share",
            Self::CondenserAir => "condenser_air_share",
            Self::Recirculation => "recirculation_share",
            Self::Pumping => "pumping_share",
            Self::Outdoor => "outdoor_air_f",
            Self::ReturnDry => "return_dry_bulb_f",
            Self::ReturnWet => "return_wet_bulb_f",
        }
    }
}

/// An unknown with its prior: a normal one of the value itself or of its logarithm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row {
    pub(crate) unknown: Unknown,
    /// Middle of the prior.
    middle: f64,
    /// Standard deviation, of the logarithm when `by_ratio`.
    sd: f64,
    by_ratio: bool,
    /// What the plant accepts.
    range: (f64, f64),
}

/// Priors that are the same for every job. Engineering defaults without a source, but for the gain:
/// 0.5 to 4 °F a turn in the sheets and manuals of `cycle` (`us_army_tm_txv_adjustment.csv`).
///
/// Recirculation: median 4 %, one in twenty beyond 20 %.
const SHARES: [Row; 5] = [
    by_ratio(Unknown::Charge, 1.0, 0.13, (0.45, 1.55)),
    by_ratio(Unknown::ValveArea, 1.0, 0.22, (0.15, 3.5)),
    by_ratio(Unknown::IndoorAir, 1.0, 0.13, (0.35, 1.5)),
    by_ratio(Unknown::CondenserAir, 1.0, 0.13, (0.25, 1.5)),
    by_ratio(Unknown::Pumping, 1.0, 0.06, (0.35, 1.09)),
];
const RECIRCULATION: Row = by_ratio(Unknown::Recirculation, 0.04, 1.0, (0.0, 0.45));
const GAIN: Row = by_ratio(Unknown::Gain, 2.0, 0.55, (0.2, 8.0));
const STEM: Row = by_sum(Unknown::StemSetting, 0.0, 12.0, (-24.0, 110.0));
/// Of a setpoint, about the middle of the target, °F.
const HELD_SD: f64 = 4.0;
/// Return air that was not read, °F: dry and wet bulb with their standard deviations.
const ROOM: ((f64, f64), (f64, f64)) = ((76.0, 4.0), (63.5, 3.5));
/// A thermometer is never better than this, °F.
const LEAST_SD: f64 = 0.2;

const fn by_ratio(unknown: Unknown, middle: f64, sd: f64, range: (f64, f64)) -> Row {
    Row {
        unknown,
        middle,
        sd,
        by_ratio: true,
        range,
    }
}

const fn by_sum(unknown: Unknown, middle: f64, sd: f64, range: (f64, f64)) -> Row {
    Row {
        unknown,
        middle,
        sd,
        by_ratio: false,
        range,
    }
}

/// Standard deviation of what lies evenly within a limit of error.
///
/// # Source
/// JCGM 100:2008 (GUM), 4.3.7.
pub(crate) fn sd_within(half_width: f64) -> f64 {
    (half_width.abs() / 3.0_f64.sqrt()).max(LEAST_SD)
}

impl Row {
    /// The value at `z` standard deviations from the middle.
    pub(crate) fn value(&self, z: f64) -> f64 {
        let value = if self.by_ratio {
            self.middle * libm::exp(self.sd * z)
        } else {
            self.middle + self.sd * z
        };
        value.clamp(self.range.0, self.range.1)
    }

    /// Standard deviations from the middle at which this value stands.
    pub(crate) fn standing(&self, value: f64) -> f64 {
        if self.by_ratio {
            libm::log(value / self.middle) / self.sd
        } else {
            (value - self.middle) / self.sd
        }
    }
}

/// The rows of this job: those its device has, and those its readings leave open.
pub(crate) fn rows(told: &Told, device: Metering) -> Vec<Row> {
    let mut rows = SHARES.to_vec();
    match device {
        Metering::AdjustableTxv => rows.extend([STEM, GAIN]),
        Metering::FixedTxv => rows.push(STEM),
        Metering::Electronic => {
            let middle = 0.5 * (told.superheat_low_f + told.superheat_high_f);
            rows.push(by_sum(Unknown::Held, middle, HELD_SD, (3.0, 25.0)));
        }
        Metering::FixedOrifice => {}
    }
    let read = |unknown, measured: &Measured, range| {
        by_sum(unknown, measured.f, sd_within(measured.within_f), range)
    };
    let outdoor = (50.0, 130.0);
    match (&told.open_air, &told.condenser_air) {
        (Some(open), _) => rows.extend([read(Unknown::Outdoor, open, outdoor), RECIRCULATION]),
        (None, Some(entering)) => rows.push(read(Unknown::Outdoor, entering, outdoor)),
        (None, None) => {}
    }
    let inside = |unknown, found: Option<Measured>, usual: (f64, f64), range| match found {
        Some(measured) => read(unknown, &measured, range),
        None => by_sum(unknown, usual.0, usual.1, range),
    };
    let (dry, wet) = (told.return_dry_bulb, told.return_wet_bulb);
    rows.push(inside(Unknown::ReturnDry, dry, ROOM.0, (56.0, 109.0)));
    rows.push(inside(Unknown::ReturnWet, wet, ROOM.1, (30.0, 108.0)));
    rows
}

//! Entries that are kept but questioned: what is odd, and the likely mistake.

use crate::checked::Checked;
use crate::derived::{Derived, ON_CHART_PSI};
use crate::field::{Field, Kind};
use crate::reading::Reading;
use quantity::Temperature;
use refrigerant::Refrigerant;

/// Something about a reading that a careful person would question before believing it.
#[derive(Clone, Debug, PartialEq)]
pub enum Doubt {
    /// A number outside what a running system usually shows.
    Unusual {
        /// Which entry.
        field: Field,
        /// What was entered, in the unit of the field's key.
        value: f64,
        /// The usual range, same unit.
        usual: (f64, f64),
    },
    /// Suction pressure at or above liquid pressure.
    HosesSwapped,
    /// Both pressures nearly equal: the compressor is not running.
    NotRunning,
    /// Read as °C, this entry would fit; as °F it does not.
    CelsiusTyped {
        /// Which entry.
        field: Field,
        /// What was entered, in °F.
        value: f64,
    },
    /// Suction line colder than saturation by more than the tools allow.
    SuctionLineUnderSaturation,
    /// Liquid line hotter than saturation by more than the tools allow.
    LiquidLineOverSaturation,
    /// Liquid line colder than the air that cools it.
    LiquidLineUnderAir,
    /// Wet bulb above dry bulb.
    WetOverDry,
    /// Entering air colder than open shade by more than the tools allow.
    EnteringUnderOpen,
    /// Evaporating outside what air conditioning does.
    EvaporatingUnusual,
    /// Condensing outside what the machine is built for.
    CondensingUnusual,
    /// Readings at one point, target for the other.
    PointsMixed,
    /// Standing pressure off the chart of the named refrigerant.
    StandingOffChart {
        /// Refrigerants whose chart it would fit, none if none.
        fits: Vec<Refrigerant>,
    },
    /// The swing's low is above its high.
    SwingReversed,
}

type Rule = fn(&Checked, &Derived) -> Option<Doubt>;

const RULES: &[Rule] = &[
    hoses_swapped,
    not_running,
    under_saturation,
    over_saturation,
    liquid_under_air,
    wet_over_dry,
    entering_under_open,
    evaporating_unusual,
    condensing_unusual,
    points_mixed,
    standing_off_chart,
    swing_reversed,
];

/// Every doubt about a reading.
pub(crate) fn doubts(reading: &Reading, checked: &Checked, derived: &Derived) -> Vec<Doubt> {
    let mut found: Vec<Doubt> = reading.entries().filter_map(unusual).collect();
    found.extend(RULES.iter().filter_map(|rule| rule(checked, derived)));
    found.extend(celsius_typed(reading, checked));
    found
}

fn unusual((field, value): (Field, f64)) -> Option<Doubt> {
    let row = field.row();
    let held = row.hard.0 <= value && value <= row.hard.1;
    let usual = row.usual.0 <= value && value <= row.usual.1;
    (held && !usual).then_some(Doubt::Unusual {
        field,
        value,
        usual: row.usual,
    })
}

fn hoses_swapped(checked: &Checked, _: &Derived) -> Option<Doubt> {
    let suction = checked.pressure(Field::SuctionPressure)?;
    (suction > checked.pressure(Field::LiquidPressure)?).then_some(Doubt::HosesSwapped)
}

fn not_running(_: &Checked, derived: &Derived) -> Option<Doubt> {
    let ratio = derived.compression_ratio?;
    (0.97..1.25)
        .contains(&ratio.value)
        .then_some(Doubt::NotRunning)
}

fn under_saturation(_: &Checked, derived: &Derived) -> Option<Doubt> {
    (derived.superheat?.highest().f() < 0.0).then_some(Doubt::SuctionLineUnderSaturation)
}

fn over_saturation(_: &Checked, derived: &Derived) -> Option<Doubt> {
    (derived.subcooling?.highest().f() < 0.0).then_some(Doubt::LiquidLineOverSaturation)
}

fn liquid_under_air(_: &Checked, derived: &Derived) -> Option<Doubt> {
    (derived.liquid_approach?.highest().f() < 0.0).then_some(Doubt::LiquidLineUnderAir)
}

fn wet_over_dry(checked: &Checked, _: &Derived) -> Option<Doubt> {
    let wet = checked.temperature(Field::ReturnWetBulb)?;
    (wet > checked.temperature(Field::ReturnDryBulb)?).then_some(Doubt::WetOverDry)
}

fn entering_under_open(_: &Checked, derived: &Derived) -> Option<Doubt> {
    (derived.entering_air_rise?.highest().f() < 0.0).then_some(Doubt::EnteringUnderOpen)
}

fn evaporating_unusual(_: &Checked, derived: &Derived) -> Option<Doubt> {
    let at = derived.evaporating?.value.f();
    (!(0.0..=65.0).contains(&at)).then_some(Doubt::EvaporatingUnusual)
}

fn condensing_unusual(_: &Checked, derived: &Derived) -> Option<Doubt> {
    let at = derived.condensing?.value.f();
    (!(60.0..=150.0).contains(&at)).then_some(Doubt::CondensingUnusual)
}

fn points_mixed(checked: &Checked, _: &Derived) -> Option<Doubt> {
    let setup = checked.setup();
    (setup.superheat_target.is_some() && setup.point != setup.target_point)
        .then_some(Doubt::PointsMixed)
}

fn standing_off_chart(checked: &Checked, derived: &Derived) -> Option<Doubt> {
    let standing = derived.standing?;
    if !standing.is_off_chart() {
        return None;
    }
    let pressure = checked.pressure(Field::StandingPressure)?;
    let air = checked.temperature(Field::StandingAir)?;
    let fits = Refrigerant::ALL
        .into_iter()
        .filter(|&other| other != checked.setup().refrigerant)
        .filter(|other| {
            let lines = (other.dew().pressure(air), other.bubble().pressure(air));
            let (Ok(dew), Ok(bubble)) = lines else {
                return false;
            };
            pressure.psia() >= dew.psia() - ON_CHART_PSI
                && pressure.psia() <= bubble.psia() + ON_CHART_PSI
        })
        .collect();
    Some(Doubt::StandingOffChart { fits })
}

fn swing_reversed(checked: &Checked, _: &Derived) -> Option<Doubt> {
    let low = checked.pressure(Field::SuctionLow)?;
    (low > checked.pressure(Field::SuctionHigh)?).then_some(Doubt::SwingReversed)
}

/// Temperatures that are far too cold for their pressure as °F and right as °C.
fn celsius_typed(reading: &Reading, checked: &Checked) -> Vec<Doubt> {
    let setup = checked.setup();
    let near = |field: Field, line: Option<Temperature>, range: (f64, f64)| {
        let (value, saturation) = (reading.get(field)?, line?);
        let as_typed = (Temperature::from_f(value) - saturation).f();
        let as_celsius = (Temperature::from_c(value) - saturation).f();
        let wrong = !(range.0 - 15.0..=range.1 + 15.0).contains(&as_typed);
        let right = (range.0..=range.1).contains(&as_celsius);
        (wrong && right).then_some(Doubt::CelsiusTyped { field, value })
    };
    let dew = checked
        .suction_at_point(Field::SuctionPressure)
        .and_then(|pressure| setup.refrigerant.dew().temperature(pressure).ok());
    let bubble = checked
        .pressure(Field::LiquidPressure)
        .and_then(|pressure| setup.refrigerant.bubble().temperature(pressure).ok());
    let mut found: Vec<Doubt> = [
        near(Field::SuctionLine, dew, (0.0, 40.0)),
        near(Field::LiquidLine, bubble, (-35.0, 0.0)),
    ]
    .into_iter()
    .flatten()
    .collect();
    // Indoor and outdoor air while cooling: under 45 °F is rare, and the same number as °C usual.
    for field in [Field::CondenserAir, Field::OpenAir, Field::ReturnDryBulb] {
        if let Some(value) = reading.get(field)
            && field.row().kind == Kind::Temperature
            && (17.0..45.0).contains(&value)
        {
            found.push(Doubt::CelsiusTyped { field, value });
        }
    }
    found
}

impl Doubt {
    /// Its name in files and on the command line.
    pub const fn key(&self) -> &'static str {
        match self {
            Self::Unusual { .. } => "unusual",
            Self::HosesSwapped => "hoses-swapped",
            Self::NotRunning => "not-running",
            Self::CelsiusTyped { .. } => "celsius-typed",
            Self::SuctionLineUnderSaturation => "suction-line-under-saturation",
            Self::LiquidLineOverSaturation => "liquid-line-over-saturation",
            Self::LiquidLineUnderAir => "liquid-line-under-air",
            Self::WetOverDry => "wet-over-dry",
            Self::EnteringUnderOpen => "entering-under-open",
            Self::EvaporatingUnusual => "evaporating-unusual",
            Self::CondensingUnusual => "condensing-unusual",
            Self::PointsMixed => "points-mixed",
            Self::StandingOffChart { .. } => "standing-off-chart",
            Self::SwingReversed => "swing-reversed",
        }
    }

    /// The entry it is about, where it is about one.
    pub const fn field(&self) -> Option<Field> {
        match self {
            Self::Unusual { field, .. } | Self::CelsiusTyped { field, .. } => Some(*field),
            Self::HosesSwapped | Self::NotRunning => Some(Field::SuctionPressure),
            Self::SuctionLineUnderSaturation => Some(Field::SuctionLine),
            Self::LiquidLineOverSaturation | Self::LiquidLineUnderAir => Some(Field::LiquidLine),
            Self::WetOverDry => Some(Field::ReturnWetBulb),
            Self::EnteringUnderOpen => Some(Field::OpenAir),
            Self::EvaporatingUnusual => Some(Field::SuctionPressure),
            Self::CondensingUnusual => Some(Field::LiquidPressure),
            Self::StandingOffChart { .. } => Some(Field::StandingPressure),
            Self::SwingReversed => Some(Field::SuctionLow),
            Self::PointsMixed => None,
        }
    }

    /// Whether the pressures cannot be believed at all: nothing may be concluded from them.
    pub const fn voids_pressures(&self) -> bool {
        matches!(self, Self::HosesSwapped | Self::NotRunning)
    }

    /// What is odd and what to check, in one or two sentences. Ranges of a single entry are added
    /// by the caller, in the units that the person reads.
    pub fn says(&self) -> String {
        match self {
            Self::Unusual { field, .. } => field.row().remedy.to_owned(),
            Self::HosesSwapped => {
                "Suction reads above liquid. Are the hoses swapped, or is it a heat pump in heating?".to_owned()
            }
            Self::NotRunning => {
                "Both pressures are nearly equal. Is the compressor running? Readings with it off belong under Standing.".to_owned()
            }
            Self::CelsiusTyped { .. } => {
                "Too cold for °F, about right as °C. Was °C typed for °F?".to_owned()
            }
            Self::SuctionLineUnderSaturation => {
                "Suction line colder than saturation: not possible by more than the tools' error. Check probe contact, gauge zero and refrigerant.".to_owned()
            }
            Self::LiquidLineOverSaturation => {
                "Liquid line hotter than saturation: the probe is in sun or on the wrong pipe, the gauge is off, or the refrigerant is not what is named.".to_owned()
            }
            Self::LiquidLineUnderAir => {
                "Liquid line colder than the air that cools it. Is the air sensor in sun or in the hot discharge?".to_owned()
            }
            Self::WetOverDry => "Wet bulb above dry bulb cannot be. Swapped, or one in °C?".to_owned(),
            Self::EnteringUnderOpen => {
                "Air entering the condenser colder than open shade. Is the open-shade sensor in the sun?".to_owned()
            }
            Self::EvaporatingUnusual => {
                "Evaporating outside 0 to 65 °F (-18 to 18 °C) is not usual for air conditioning. Right refrigerant, right port?".to_owned()
            }
            Self::CondensingUnusual => {
                "Condensing outside 60 to 150 °F (16 to 66 °C) is not usual. Right refrigerant, right port? If it is real and high, stop.".to_owned()
            }
            Self::PointsMixed => {
                "The readings and the target belong to different points. A bulb temperature with a compressor pressure has turned a true 7 °F into 15 °F.".to_owned()
            }
            Self::StandingOffChart { fits } if fits.is_empty() => {
                "Standing pressure is off the chart and fits no listed refrigerant: gas, a mixture, or not yet equal.".to_owned()
            }
            Self::StandingOffChart { fits } => {
                let names: Vec<&str> = fits.iter().map(|other| other.name()).collect();
                format!(
                    "Standing pressure is off the chart. Gas, or another refrigerant: it would fit {}. Or both sides are not yet equal.",
                    names.join(", ")
                )
            }
            Self::SwingReversed => "The needle's low is above its high. Swapped?".to_owned(),
        }
    }
}

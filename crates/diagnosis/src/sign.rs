//! Signs: what the derived numbers are against what a sound system shows, as far as the tools can
//! tell.
//!
//! A sign is not forced to be up, normal or down. For each of the three there is a *possibility*:
//! the highest degree of belonging that any value inside the error band reaches. Where the band
//! is wide all three stay possible and the sign carries no weight: what the tools cannot prove is
//! not evidence.

use crate::band::{Banded, Target};
use crate::checked::Checked;
use crate::derived::Derived;
use crate::field::Field;
use crate::reading::BulbTest;
use quantity::{PressureDifference, Temperature, TemperatureDifference, Units, tenth};
use refrigerant::Refrigerant;

/// A sign of the trade's table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sign {
    /// Evaporating temperature against what the return air asks for, or the usual where that is
    /// blank.
    Suction,
    /// Superheat against its target.
    Superheat,
    /// Subcooling against its target.
    Subcooling,
    /// Condensing over the air entering the condenser.
    Head,
    /// Condensing over open-shade air.
    HeadOverOpen,
    /// Air split against what a sound coil gives at 400 cfm per ton and this return air.
    AirSplit,
    /// Compressor amps.
    Amps,
    /// Temperature lost along the liquid line up to the valve inlet.
    LiquidLineDrop,
    /// Temperature lost across the drier.
    DrierDrop,
    /// Discharge line over condensing.
    Discharge,
    /// Air rise through the condenser.
    CondenserAirRise,
    /// Entering air over open-shade air.
    EnteringAirRise,
    /// Standing pressure against the chart.
    Standing,
    /// Compression ratio.
    CompressionRatio,
    /// Return air against a usual house.
    ReturnAir,
    /// Pressure lost between coil and compressor.
    SuctionLineDrop,
    /// The bulb in a warm hand: does suction rise?
    BulbAnswer,
    /// Suction line under saturation, or liquid line over it, by more than the tools allow.
    Impossible,
}

/// How a sign reads, as far as the tools can tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Reads {
    /// Surely under the usual range.
    Below,
    /// Surely inside it.
    Usual,
    /// Surely over it.
    Above,
    /// More than one of the three stays possible.
    CannotTell,
}

impl Reads {
    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Below => "below",
            Self::Usual => "usual",
            Self::Above => "above",
            Self::CannotTell => "cannot-tell",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Below => "low",
            Self::Usual => "normal",
            Self::Above => "high",
            Self::CannotTell => "cannot tell",
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Scale {
    Difference,
    Pressure,
    Ratio,
    Percent,
    YesNo,
}

/// One sign as it was observed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    /// Which sign.
    pub sign: Sign,
    value: f64,
    half_width: f64,
    usual: (f64, f64),
    /// How gradually "usual" becomes "high": half of belonging is lost at the limit, nearly all of
    /// it two widths further.
    width: f64,
    scale: Scale,
}

/// How possible each state is, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Possible {
    pub down: f64,
    pub usual: f64,
    pub up: f64,
}

impl Observation {
    pub(crate) fn possible(&self) -> Possible {
        let (low, high) = (self.value - self.half_width, self.value + self.half_width);
        let rise = |distance: f64| 1.0 / (1.0 + libm::exp(-2.0 * distance / self.width));
        let nearest = ((self.usual.0 + self.usual.1) / 2.0).clamp(low, high);
        Possible {
            down: rise(self.usual.0 - low),
            usual: rise(nearest - self.usual.0).min(rise(self.usual.1 - nearest)),
            up: rise(high - self.usual.1),
        }
    }

    /// How the sign reads: by the band's two ends against the usual range.
    pub fn reads(&self) -> Reads {
        let (low, high) = (self.value - self.half_width, self.value + self.half_width);
        if high < self.usual.0 {
            Reads::Below
        } else if low > self.usual.1 {
            Reads::Above
        } else if low >= self.usual.0 && high <= self.usual.1 {
            Reads::Usual
        } else {
            Reads::CannotTell
        }
    }

    /// The sign in words: name, value with band, usual range.
    pub fn says(&self, units: Units) -> String {
        let name = self.sign.says();
        let number = |value: f64| match self.scale {
            Scale::Difference => tenth(
                units
                    .temperature
                    .show_difference(TemperatureDifference::from_f(value)),
            ),
            Scale::Pressure => units.pressure_digits(
                units
                    .pressure
                    .show_difference(PressureDifference::from_psi(value)),
            ),
            Scale::Ratio | Scale::Percent | Scale::YesNo => tenth(value),
        };
        let unit = match self.scale {
            Scale::Difference => units.temperature.difference_sign(),
            Scale::Pressure => units.pressure.difference_sign(),
            Scale::Percent => "%",
            Scale::Ratio | Scale::YesNo => "",
        };
        match self.scale {
            Scale::YesNo if self.value > 0.0 => format!("{name}: yes"),
            Scale::YesNo => format!("{name}: no"),
            _ => format!(
                "{name} {} ±{} {unit}, usual {} to {}",
                number(self.value),
                number(self.half_width),
                number(self.usual.0),
                number(self.usual.1)
            ),
        }
    }
}

impl Sign {
    /// Its name in files and on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Suction => "suction",
            Self::Superheat => "superheat",
            Self::Subcooling => "subcooling",
            Self::Head => "condensing-over-entering-air",
            Self::HeadOverOpen => "condensing-over-open-air",
            Self::AirSplit => "air-split",
            Self::Amps => "amps",
            Self::LiquidLineDrop => "liquid-line-drop",
            Self::DrierDrop => "drier-drop",
            Self::Discharge => "discharge",
            Self::CondenserAirRise => "condenser-air-rise",
            Self::EnteringAirRise => "entering-air-rise",
            Self::Standing => "standing-pressure",
            Self::CompressionRatio => "compression-ratio",
            Self::ReturnAir => "return-air",
            Self::SuctionLineDrop => "suction-line-drop",
            Self::BulbAnswer => "bulb-answer",
            Self::Impossible => "impossible",
        }
    }
    /// Its name for a person.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Suction => "Evaporating over expected",
            Self::Superheat => "Superheat",
            Self::Subcooling => "Subcooling",
            Self::Head => "Condensing over entering air",
            Self::HeadOverOpen => "Condensing over open-shade air",
            Self::AirSplit => "Air split over expected",
            Self::Amps => "Compressor amps",
            Self::LiquidLineDrop => "Liquid line drop",
            Self::DrierDrop => "Drier drop",
            Self::Discharge => "Discharge over condensing",
            Self::CondenserAirRise => "Air rise through condenser",
            Self::EnteringAirRise => "Entering air over open shade",
            Self::Standing => "Standing pressure off chart",
            Self::CompressionRatio => "Compression ratio",
            Self::ReturnAir => "Return air over a usual room",
            Self::SuctionLineDrop => "Suction line pressure drop",
            Self::BulbAnswer => "Suction rises with the bulb in a warm hand",
            Self::Impossible => "Pipe on the wrong side of saturation",
        }
    }
}

/// Every sign that the reading allows.
pub(crate) fn observe(checked: &Checked, derived: &Derived) -> Vec<Observation> {
    let setup = checked.setup();
    // High is a sign of trouble only when it is more than a miss: sound units differ by a degree or
    // two from plate. Low is not forgiven. Common practice, no source. Verdicts against the target
    // itself use its own edges.
    let target = |target: Target| (target.low.f(), target.high.f() + 2.0);
    let fixed_tool = setup.instruments.thermometer.fixed.f();
    let mut seen: Vec<Option<Observation>> = vec![
        suction(derived),
        derived
            .superheat
            .filter(|_| derived.superheat_target_known)
            .map(|superheat| {
                difference(
                    Sign::Superheat,
                    superheat,
                    target(derived.superheat_target),
                    0.5,
                )
            }),
        derived.subcooling.map(|subcooling| {
            difference(
                Sign::Subcooling,
                subcooling,
                target(derived.subcooling_target),
                0.5,
            )
        }),
        // 15 to 30 °F by age and make of unit; room for load on both sides. Trade rule.
        derived
            .condensing_over_entering
            .map(|head| difference(Sign::Head, head, (13.0, 28.0), 2.0)),
        derived
            .condensing_over_open
            .map(|head| difference(Sign::HeadOverOpen, head, (13.0, 28.0), 2.0)),
        // ±3 °F: California RA3.2.2.7.
        derived
            .air_split_off_sound()
            .map(|off| difference(Sign::AirSplit, off, (-3.0, 3.0), 0.7)),
        checked.percent(Field::Amps).map(|amps| Observation {
            sign: Sign::Amps,
            value: amps,
            half_width: 3.0,
            usual: (60.0, 100.0),
            width: 6.0,
            scale: Scale::Percent,
        }),
        // Up to 3 °F may be the pipe's own heat loss; a block flashes far more. Common practice.
        derived
            .liquid_line_drop
            .map(|drop| difference(Sign::LiquidLineDrop, drop, (-8.0, 3.0), 0.8)),
        // Under 0.5 °F normal, 3 °F blocked: trade rule.
        derived
            .drier_drop
            .map(|drop| difference(Sign::DrierDrop, drop, (-3.0, 1.0), 0.4)),
        derived.discharge_superheat.map(|hot| {
            difference(
                Sign::Discharge,
                hot,
                usual_discharge(setup.refrigerant),
                5.0,
            )
        }),
        // Common practice, no source.
        derived
            .condenser_air_rise
            .map(|rise| difference(Sign::CondenserAirRise, rise, (10.0, 28.0), 2.0)),
        // A few degrees is weather; reasoned from clearances, no source.
        derived
            .entering_air_rise
            .map(|rise| difference(Sign::EnteringAirRise, rise, (-4.0, 3.0), 0.8)),
        // A few psi: common practice.
        derived.standing.map(|standing| Observation {
            sign: Sign::Standing,
            value: standing.off_chart.psi(),
            half_width: standing.half_width.psi(),
            usual: (-standing.allowed().psi(), standing.allowed().psi()),
            width: 0.5,
            scale: Scale::Pressure,
        }),
        // 2.3 to 3.5 for air conditioning, room for mild weather. Trade rule.
        derived.compression_ratio.map(|ratio| Observation {
            sign: Sign::CompressionRatio,
            value: ratio.value,
            half_width: ratio.half_width,
            usual: (1.9, 4.0),
            width: 0.15,
            scale: Scale::Ratio,
        }),
        return_air(checked, fixed_tool),
        derived.suction_line_drop.map(|drop| Observation {
            sign: Sign::SuctionLineDrop,
            value: drop.psi(),
            half_width: Derived::gauge_pair(setup.instruments.low.half_width()),
            usual: (-3.0, 4.0),
            width: 0.8,
            scale: Scale::Pressure,
        }),
        checked.bulb_test.map(|test| Observation {
            sign: Sign::BulbAnswer,
            value: if test == BulbTest::Rises { 1.0 } else { -1.0 },
            half_width: 0.0,
            usual: (0.0, 2.0),
            width: 0.3,
            scale: Scale::YesNo,
        }),
    ];
    seen.push(impossible(derived));
    seen.into_iter().flatten().collect()
}

fn difference(
    sign: Sign,
    banded: Banded<TemperatureDifference>,
    usual: (f64, f64),
    width: f64,
) -> Observation {
    Observation {
        sign,
        value: banded.value.f(),
        half_width: banded.half_width.f(),
        usual,
        width,
        scale: Scale::Difference,
    }
}

/// Evaporating temperature over what is expected, ±7 °F: 35 °F under the return air where that is
/// read, else 42 °F. High means high suction.
///
/// # Source
/// 35 ±5 °F at 400 cfm per ton, 40 ±5 °F at 350: trade rule. 42 °F: common practice, no source.
fn suction(derived: &Derived) -> Option<Observation> {
    let over_expected = match derived.evaporator_split {
        Some(split) => Banded {
            value: TemperatureDifference::from_f(35.0) - split.value,
            half_width: split.half_width,
        },
        None => {
            let evaporating = derived.evaporating?;
            Banded {
                value: evaporating.value - Temperature::from_f(42.0),
                half_width: evaporating.half_width,
            }
        }
    };
    Some(difference(Sign::Suction, over_expected, (-7.0, 7.0), 1.5))
}

/// Wet bulb over a usual room's 58 to 71 °F where read, else dry bulb over 67 to 83 °F; shown from
/// the middle, so that 0 is a usual room. Common practice, no source.
fn return_air(checked: &Checked, half_width: f64) -> Option<Observation> {
    let (value, usual) = match checked.temperature(Field::ReturnWetBulb) {
        Some(wet) => (wet.f() - 64.5, (-6.5, 6.5)),
        None => (
            checked.temperature(Field::ReturnDryBulb)?.f() - 75.0,
            (-8.0, 8.0),
        ),
    };
    Some(Observation {
        sign: Sign::ReturnAir,
        value,
        half_width,
        usual,
        width: 1.5,
        scale: Scale::Difference,
    })
}

/// Discharge line over condensing in a sound system, °F. Smaller molecules run hotter. Common
/// practice, no source: wide on purpose.
fn usual_discharge(refrigerant: Refrigerant) -> (f64, f64) {
    use Refrigerant::*;
    match refrigerant {
        R32 => (40.0, 105.0),
        R454B | R22 => (28.0, 85.0),
        R410A | R407C | R448A | R449A | R427A => (22.0, 78.0),
        R134a | R404A | R507A | R290 | R1234yf | R421A | R422D => (8.0, 60.0),
    }
}

/// How far a pipe is on the wrong side of saturation, the worse of the two.
fn impossible(derived: &Derived) -> Option<Observation> {
    let worst = [derived.superheat, derived.subcooling]
        .into_iter()
        .flatten()
        .min_by(|a, b| a.value.f().total_cmp(&b.value.f()))?;
    let wrong_side = Banded {
        value: -worst.value,
        half_width: worst.half_width,
    };
    Some(difference(Sign::Impossible, wrong_side, (-90.0, 3.0), 0.8))
}

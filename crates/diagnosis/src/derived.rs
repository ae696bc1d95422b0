//! Every number that follows from a reading, each with its error band.

use crate::air_split::expected_air_split;
use crate::band::{Banded, BandedRatio, Pedigree, Target, root_sum_square};
use crate::checked::Checked;
use crate::field::Field;
use crate::orifice::{ORIFICE_TOLERANCE_F, orifice_target};
use crate::setup::{MeasuringPoint, Metering, rule_of_thumb_subcooling, rule_of_thumb_superheat};
use air::MoistAir;
use quantity::{AbsolutePressure, PressureDifference, Temperature, TemperatureDifference};
use refrigerant::SaturationLine;

type Difference = Banded<TemperatureDifference>;

/// The standing pressure against the chart at the air's temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// Above the chart, positive; below, negative; zero between dew and bubble.
    pub off_chart: PressureDifference,
    /// What gauge and thermometer allow it to be.
    pub half_width: PressureDifference,
    /// Measured over expected, absolute.
    pub ratio: f64,
}

/// A standing pressure this near its chart is on it, psi. A few psi: common practice, no source.
pub(crate) const ON_CHART_PSI: f64 = 4.0;
/// Tools no better than this cannot pass a standing test: much gas hides in less.
pub(crate) const GOOD_ENOUGH_PSI: f64 = 10.0;

impl Standing {
    /// How far off the chart is still on it, for tools like these. Tools that are not good enough
    /// earn no more room: with them the sign says nothing.
    pub(crate) fn allowed(&self) -> PressureDifference {
        PressureDifference::from_psi((ON_CHART_PSI + self.half_width.psi()).min(GOOD_ENOUGH_PSI))
    }
    /// Off the chart beyond what a few psi and the tools' error explain.
    pub fn is_off_chart(&self) -> bool {
        self.off_chart.psi().abs() - self.half_width.psi() > self.allowed().psi()
    }
}

/// Every number that follows from a reading. A field is `None` when what it needs was not read or
/// was refused.
#[derive(Clone, Debug, PartialEq)]
pub struct Derived {
    /// Dew temperature at the suction pressure of the measuring point.
    pub suction_saturation: Option<Banded<Temperature>>,
    /// Suction line above dew, at the measuring point.
    pub superheat: Option<Difference>,
    /// Suction line at the compressor above dew at the service valve's own pressure.
    pub compressor_superheat: Option<Difference>,
    /// Bubble temperature at the liquid pressure.
    pub liquid_saturation: Option<Banded<Temperature>>,
    /// Liquid line under bubble.
    pub subcooling: Option<Difference>,
    /// Mid-point condensing over the air entering the condenser.
    pub condensing_over_entering: Option<Difference>,
    /// Mid-point condensing over open-shade air.
    pub condensing_over_open: Option<Difference>,
    /// Mid-point condensing temperature.
    pub condensing: Option<Banded<Temperature>>,
    /// Mid-point evaporating temperature.
    pub evaporating: Option<Banded<Temperature>>,
    /// Return dry bulb over mid-point evaporating.
    pub evaporator_split: Option<Difference>,
    /// Return dry bulb over supply dry bulb.
    pub air_split: Option<Difference>,
    /// What that should be at 400 cfm per ton with the coil saturation that was measured.
    pub expected_air_split: Option<TemperatureDifference>,
    /// What a sound coil gives at 400 cfm per ton and this return air.
    pub sound_air_split: Option<TemperatureDifference>,
    /// Liquid line over the air entering the condenser.
    pub liquid_approach: Option<Difference>,
    /// Liquid over suction, absolute.
    pub compression_ratio: Option<BandedRatio>,
    /// Entering air over open-shade air: hot air drawn round the condenser.
    pub entering_air_rise: Option<Difference>,
    /// Leaving over entering air at the condenser.
    pub condenser_air_rise: Option<Difference>,
    /// Liquid line at the outdoor unit over liquid line at the valve inlet.
    pub liquid_line_drop: Option<Difference>,
    /// Drier inlet over drier outlet.
    pub drier_drop: Option<Difference>,
    /// Discharge line over mid-point condensing.
    pub discharge_superheat: Option<Difference>,
    /// Pressure at the coil over pressure at the suction gauge.
    pub suction_line_drop: Option<PressureDifference>,
    /// Superheat at the needle's high and low: the higher the pressure the less the superheat.
    pub superheat_swing: Option<(TemperatureDifference, TemperatureDifference)>,
    /// The standing pressure against the chart.
    pub standing: Option<Standing>,
    /// The band superheat is judged against, and where it came from.
    pub superheat_target: Target,
    /// The band subcooling is judged against, and where it came from.
    pub subcooling_target: Target,
    /// False for a fixed orifice whose weather leaves no target to charge by.
    pub superheat_target_known: bool,
}

/// Derives everything that the usable numbers allow.
///
/// Superheat is taken from the dew line, subcooling from the bubble line, never the other; splits
/// at the coils from the mid-point of the two.
///
/// # Source
/// `SH = T_suction - T_evaporator,sat`: California RA3.2.2.6. Dew and bubble for blends: ASHRAE 34
/// definitions; common practice.
pub fn derive(checked: &Checked) -> Derived {
    let setup = checked.setup();
    let refrigerant = setup.refrigerant;
    let (low, high) = (
        setup.instruments.low.half_width(),
        setup.instruments.high.half_width(),
    );
    let line_at = |field| {
        let value = checked.temperature(field)?;
        Some(Banded {
            value,
            half_width: setup.instruments.thermometer.half_width(value),
        })
    };
    let over = |a: Option<Banded<Temperature>>, b: Option<Banded<Temperature>>| Some(a?.above(b?));
    let mid = |pressure: Option<AbsolutePressure>, half_width| {
        let pressure = pressure?;
        let value = refrigerant.midpoint_temperature(pressure).ok()?;
        let half_width = refrigerant
            .dew()
            .temperature_band(pressure, half_width)
            .ok()?;
        Some(Banded { value, half_width })
    };

    let suction = checked.suction_at_point(Field::SuctionPressure);
    let at_compressor = checked.pressure(Field::SuctionPressure);
    let liquid = checked.pressure(Field::LiquidPressure);
    let suction_saturation = saturation(refrigerant.dew(), suction, low);
    let liquid_saturation = saturation(refrigerant.bubble(), liquid, high);
    let evaporating = mid(suction, low);
    let condensing = mid(liquid, high);
    let entering = line_at(Field::CondenserAir);
    let open = line_at(Field::OpenAir);
    let return_air = line_at(Field::ReturnDryBulb);
    let superheat = over(line_at(Field::SuctionLine), suction_saturation);
    let orifice = orifice_by_weather(checked);

    Derived {
        suction_saturation,
        superheat,
        compressor_superheat: over(
            line_at(Field::CompressorSuction),
            saturation(refrigerant.dew(), at_compressor, low),
        ),
        liquid_saturation,
        subcooling: over(liquid_saturation, line_at(Field::LiquidLine)),
        condensing_over_entering: over(condensing, entering),
        condensing_over_open: over(condensing, open),
        condensing,
        evaporating,
        evaporator_split: over(return_air, evaporating),
        air_split: over(return_air, line_at(Field::SupplyDryBulb)),
        expected_air_split: expected_split(checked, evaporating.map(|at| at.value)),
        sound_air_split: expected_split(checked, sound_coil(checked)),
        liquid_approach: over(line_at(Field::LiquidLine), entering),
        compression_ratio: ratio(liquid, high, at_compressor, low),
        entering_air_rise: over(entering, open),
        condenser_air_rise: over(line_at(Field::CondenserLeavingAir), entering),
        liquid_line_drop: over(line_at(Field::LiquidLine), line_at(Field::LiquidLineEnd)),
        drier_drop: over(line_at(Field::DrierIn), line_at(Field::DrierOut)),
        discharge_superheat: over(line_at(Field::DischargeLine), condensing),
        suction_line_drop: checked
            .pressure(Field::CoilPressure)
            .zip(at_compressor)
            .map(|(coil, compressor)| coil - compressor),
        superheat_swing: swing(checked),
        standing: standing(checked),
        superheat_target: setup
            .superheat_target
            .or(orifice)
            .unwrap_or(rule_of_thumb_superheat(setup.point)),
        subcooling_target: setup
            .subcooling_target
            .unwrap_or(rule_of_thumb_subcooling(setup.metering)),
        superheat_target_known: setup.metering != Metering::FixedOrifice
            || setup.superheat_target.is_some()
            || orifice.is_some(),
    }
}

fn saturation(
    line: &SaturationLine,
    pressure: Option<AbsolutePressure>,
    half_width: PressureDifference,
) -> Option<Banded<Temperature>> {
    let pressure = pressure?;
    Some(Banded {
        value: line.temperature(pressure).ok()?,
        half_width: line.temperature_band(pressure, half_width).ok()?,
    })
}

fn expected_split(checked: &Checked, coil: Option<Temperature>) -> Option<TemperatureDifference> {
    let pressure = checked.setup().local_air;
    let return_air = MoistAir::from_dry_and_wet_bulb(
        checked.temperature(Field::ReturnDryBulb)?,
        checked.temperature(Field::ReturnWetBulb)?,
        pressure,
    );
    expected_air_split(&return_air.ok()?, coil?, pressure)
}

/// Coil saturation of a sound system: 45 °F at 67 °F return wet bulb (AHRI 210/240 condition A and
/// the usual design), following the wet bulb by 0.6 (common practice, no source).
fn sound_coil(checked: &Checked) -> Option<Temperature> {
    let wet_bulb = checked.temperature(Field::ReturnWetBulb)?;
    let over_rating = wet_bulb - Temperature::from_f(67.0);
    Some(Temperature::from_f(45.0) + over_rating * 0.6)
}

fn ratio(
    liquid: Option<AbsolutePressure>,
    high: PressureDifference,
    suction: Option<AbsolutePressure>,
    low: PressureDifference,
) -> Option<BandedRatio> {
    let (liquid, suction) = (liquid?, suction?);
    let value = liquid / suction;
    let relative = |limit: PressureDifference, at: AbsolutePressure| limit.pa() / at.pa();
    let (a, b) = (relative(high, liquid), relative(low, suction));
    value.is_finite().then(|| BandedRatio {
        value,
        half_width: value * (a * a + b * b).sqrt(),
    })
}

fn swing(checked: &Checked) -> Option<(TemperatureDifference, TemperatureDifference)> {
    let line = checked.temperature(Field::SuctionLine)?;
    let dew = checked.setup().refrigerant.dew();
    let at = |field| Some(line - dew.temperature(checked.suction_at_point(field)?).ok()?);
    Some((at(Field::SuctionHigh)?, at(Field::SuctionLow)?))
}

fn standing(checked: &Checked) -> Option<Standing> {
    let setup = checked.setup();
    let (pressure, air) = (
        checked.pressure(Field::StandingPressure)?,
        checked.temperature(Field::StandingAir)?,
    );
    let (dew, bubble) = (setup.refrigerant.dew(), setup.refrigerant.bubble());
    let (dew_pressure, bubble_pressure) = (dew.pressure(air).ok()?, bubble.pressure(air).ok()?);
    let nearest = if pressure > bubble_pressure {
        bubble_pressure
    } else if pressure < dew_pressure {
        dew_pressure
    } else {
        pressure
    };
    let gauge = setup.instruments.low.half_width().pa();
    // What the thermometer may be wrong by, as a pressure on this refrigerant's chart.
    let probe = PressureDifference::from_kpa(1.0);
    let kelvin_per_pascal = bubble.temperature_band(bubble_pressure, probe).ok()?.k() / probe.pa();
    let thermometer = setup.instruments.thermometer.half_width(air).k() / kelvin_per_pascal;
    let half_width = (gauge * gauge + thermometer * thermometer).sqrt();
    Some(Standing {
        off_chart: pressure - nearest,
        half_width: PressureDifference::from_pa(half_width),
        ratio: pressure / bubble_pressure,
    })
}

fn orifice_by_weather(checked: &Checked) -> Option<Target> {
    if checked.setup().metering != Metering::FixedOrifice {
        return None;
    }
    let middle = orifice_target(
        checked.temperature(Field::ReturnWetBulb)?,
        checked.temperature(Field::CondenserAir)?,
    )?;
    let tolerance = TemperatureDifference::from_f(ORIFICE_TOLERANCE_F);
    Some(Target {
        low: middle - tolerance,
        high: middle + tolerance,
        pedigree: Pedigree::RuleOfThumb,
    })
}

impl Derived {
    /// Superheat where floodback is judged: the measuring point's own, and the compressor's when
    /// it was read too.
    pub fn superheats(
        &self,
        point: MeasuringPoint,
    ) -> impl Iterator<Item = (MeasuringPoint, Difference)> {
        [
            self.superheat.map(|superheat| (point, superheat)),
            self.compressor_superheat
                .map(|superheat| (MeasuringPoint::ServiceValve, superheat)),
        ]
        .into_iter()
        .flatten()
    }
    /// Air split over what this coil saturation should give, with the band of the measured one.
    pub fn air_split_off(&self) -> Option<Difference> {
        self.air_split_over(self.expected_air_split?)
    }
    /// Air split over what a sound coil gives, with the band of the measured one.
    pub fn air_split_off_sound(&self) -> Option<Difference> {
        self.air_split_over(self.sound_air_split?)
    }
    fn air_split_over(&self, expected: TemperatureDifference) -> Option<Difference> {
        let measured = self.air_split?;
        Some(Banded {
            value: measured.value - expected,
            half_width: measured.half_width,
        })
    }
    /// The band of two suction-gauge readings taken against each other.
    pub(crate) fn gauge_pair(half_width: PressureDifference) -> f64 {
        let one = TemperatureDifference::from_k(half_width.psi());
        root_sum_square(one, one).k()
    }
}

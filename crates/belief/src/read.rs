//! From a checked reading to the rows of the model, and what is known before them.

use diagnosis::{Checked, Derived, Field, MeasuringPoint, Metering, Pedigree, Setup, Target};
use quantity::{AbsolutePressure, PressureDifference, Temperature};
use refrigerant::SaturationLine;

use crate::row::{GIVENS, Row};
use crate::weigh::{Givens, Number};

/// Limits of error are taken for two standard deviations, as in the trade's table. Judgement, no
/// source.
const LIMIT_IN_SDS: f64 = 2.0;
/// A gauge said to be at the coil may stand a little off it, K. Judgement, no source.
const AT_THE_COIL_K: f64 = 0.3;
/// Limit of error of the amps, percent of the plate's; as in the trade's table.
const AMPS_LIMIT: f64 = 3.0;

/// Every row that was read.
///
/// - `believe_pressures`: false where hoses are swapped or the compressor is off.
pub(crate) fn numbers(checked: &Checked, believe_pressures: bool) -> Vec<Number> {
    let setup = checked.setup();
    let mut found = Vec::with_capacity(Row::ALL.len());
    let mut add = |row: Row, value: f64, limit: f64| {
        let sd = limit / LIMIT_IN_SDS;
        found.push(Number { row, value, sd });
    };
    if believe_pressures {
        pressures(checked, &mut add);
    }
    let at_compressor = match setup.point {
        MeasuringPoint::Bulb => [
            (Row::BulbLine, Field::SuctionLine),
            (Row::PortLine, Field::CompressorSuction),
        ],
        // The port is the compressor's end: one row, the reading at the measuring point.
        MeasuringPoint::ServiceValve => [(Row::PortLine, Field::SuctionLine); 2],
    };
    let rest = [
        (Row::LiquidLine, Field::LiquidLine),
        (Row::EnteringAir, Field::CondenserAir),
        (Row::OpenAir, Field::OpenAir),
        (Row::ReturnDry, Field::ReturnDryBulb),
        (Row::ReturnWet, Field::ReturnWetBulb),
        (Row::Supply, Field::SupplyDryBulb),
        (Row::LeavingAir, Field::CondenserLeavingAir),
        (Row::LineEnd, Field::LiquidLineEnd),
        (Row::Discharge, Field::DischargeLine),
    ];
    let lines = match setup.point {
        MeasuringPoint::Bulb => &at_compressor[..],
        MeasuringPoint::ServiceValve => &at_compressor[..1],
    };
    for &(row, field) in lines.iter().chain(&rest) {
        if let Some(at) = checked.temperature(field) {
            let limit = setup.instruments.thermometer.half_width(at);
            add(row, at.k(), limit.k());
        }
    }
    if let Some(percent) = checked.percent(Field::Amps) {
        add(Row::Amps, percent, AMPS_LIMIT);
    }
    found
}

/// Gauge readings as saturation temperatures. A gauge at the port tells of the port, whatever line
/// loss is assumed; at the bulb without a loss it stands at the coil.
fn pressures(checked: &Checked, add: &mut impl FnMut(Row, f64, f64)) {
    let setup = checked.setup();
    let (dew, bubble) = (setup.refrigerant.dew(), setup.refrigerant.bubble());
    let (low, high) = (
        setup.instruments.low.half_width(),
        setup.instruments.high.half_width(),
    );
    let mut saturation = |row, line: &SaturationLine, p: Option<AbsolutePressure>, limit, more| {
        let Some((at, limit)) = p.and_then(|p| saturated(line, p, limit)) else {
            return;
        };
        add(row, at.k(), limit + more);
    };
    let coil = checked.pressure(Field::CoilPressure);
    let suction = checked.pressure(Field::SuctionPressure);
    let is_at_port = setup.point == MeasuringPoint::ServiceValve
        || setup.line_loss.pa() != 0.0
        || coil.is_some();
    if is_at_port {
        saturation(Row::PortDew, dew, suction, low, 0.0);
        saturation(Row::CoilDew, dew, coil, low, 0.0);
    } else {
        saturation(Row::CoilDew, dew, suction, low, AT_THE_COIL_K);
    }
    let liquid = checked.pressure(Field::LiquidPressure);
    saturation(Row::LiquidSaturation, bubble, liquid, high, 0.0);
}

fn saturated(
    line: &SaturationLine,
    p: AbsolutePressure,
    limit: PressureDifference,
) -> Option<(Temperature, f64)> {
    let at = line.temperature(p).ok()?;
    let limit = line.temperature_band(p, limit).ok()?;
    Some((at, limit.k()))
}

/// The air of a kind of call: means and standard deviations of outdoor air, return dry and wet
/// bulb, °F. Common practice, no source; the usual room is that of the trade's table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Air {
    /// A room that is cooled.
    Sound,
    /// A room with a fault in its cooling: often too warm.
    Faulty,
    /// Cold return air.
    Low,
    /// Hot or humid return air.
    High,
}

impl Air {
    pub(crate) const ALL: [Self; 4] = [Self::Sound, Self::Faulty, Self::Low, Self::High];

    const fn row(self) -> [(f64, f64); 3] {
        match self {
            Self::Sound => [(88.0, 13.0), (75.0, 5.0), (63.0, 4.5)],
            Self::Faulty => [(88.0, 13.0), (77.0, 6.0), (64.5, 5.0)],
            Self::Low => [(88.0, 13.0), (63.0, 3.5), (52.5, 3.5)],
            Self::High => [(88.0, 13.0), (88.5, 4.0), (75.0, 4.5)],
        }
    }
}

/// How closely wet bulb follows dry bulb from room to room. Judgement, no source.
const WET_FOLLOWS_DRY: f64 = 0.7;
/// What a unit's own setting may be from a target, K: on the plate, by a rule of thumb.
const ON_PLATE_K: f64 = 0.3;
const BY_RULE_K: f64 = 1.6;
/// Bulb superheat under superheat at the port, K, and how sure; for a target that is meant there.
/// Engineering defaults of the plant's model.
const ALONG_THE_LINE_K: (f64, f64) = (1.4, 0.7);

/// What is known of the givens in this air with these targets.
pub(crate) fn givens(setup: &Setup, derived: &Derived, air: Air) -> Givens {
    let mut mean = [0.0; GIVENS];
    let mut cov = [[0.0; GIVENS]; GIVENS];
    for (i, (middle, sd)) in air.row().into_iter().enumerate() {
        mean[i] = Temperature::from_f(middle).k();
        let sd = sd * 5.0 / 9.0;
        cov[i][i] = sd * sd;
    }
    let along = WET_FOLLOWS_DRY * (cov[1][1] * cov[2][2]).sqrt();
    (cov[1][2], cov[2][1]) = (along, along);

    let known = |target: &Target, given: bool| {
        let by_rule = !given || target.pedigree == Pedigree::RuleOfThumb;
        (
            target.middle().k(),
            if by_rule { BY_RULE_K } else { ON_PLATE_K },
        )
    };
    let (mut superheat, mut sd) = match setup.metering {
        // Its superheat follows from charge and weather; the device is sized for some 10 °F.
        Metering::FixedOrifice => (10.5 * 5.0 / 9.0, 0.8),
        _ => known(&derived.superheat_target, setup.superheat_target.is_some()),
    };
    if setup.metering.holds_superheat() && setup.target_point == MeasuringPoint::ServiceValve {
        superheat -= ALONG_THE_LINE_K.0;
        sd = (sd * sd + ALONG_THE_LINE_K.1 * ALONG_THE_LINE_K.1).sqrt();
    }
    (mean[3], cov[3][3]) = (superheat, sd * sd);
    let (subcooling, sd) = match (setup.metering, setup.subcooling_target.is_some()) {
        (Metering::FixedOrifice, false) => (10.0 * 5.0 / 9.0, BY_RULE_K),
        (_, given) => known(&derived.subcooling_target, given),
    };
    (mean[4], cov[4][4]) = (subcooling, sd * sd);
    Givens { mean, cov }
}

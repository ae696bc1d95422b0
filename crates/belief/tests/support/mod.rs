//! Calls as a technician reads them.
#![allow(dead_code, reason = "each test file uses its own part")]

use belief::{Class, Row};
use cycle::Faults;
use diagnosis::{
    BulbTest, Field, Gate, Instruments, MeasuringPoint, Metering, Pedigree, PressureLimit, Reading,
    Setup, Target, ThermometerLimit,
};
use quantity::{AbsolutePressure, PressureDifference, Temperature, TemperatureDifference};
use refrigerant::{Refrigerant, SaturationLine};

pub mod units;
use units::{Build, Call, Dice, Unit};

/// How much is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// Gauges and pipes, open-shade air, air at the indoor coil.
    Basic,
    /// Everything the screen offers.
    Full,
}

/// Limits of error, psi, psi, °F: the loosest that the protocol allows, and a good digital set.
const TOOLS: [(f64, f64, f64); 2] = [(3.5, 7.0, 1.3), (1.0, 2.0, 0.6)];
/// Gas at a standstill over gas in a running condenser: half of the condenser's volume against all
/// of the circuit that liquid leaves free. Volumes of crate `cycle`, liters for each ton: 1.1 of
/// 4.
const STANDING_GAS: f64 = 0.27;

/// A call with its setup and what was read on it.
pub struct Visit {
    pub unit: Unit,
    pub call: Call,
    pub setup: Setup,
    pub reading: Reading,
}

/// Draws a visit; none where the model has no answer. `noise` multiplies the tools' errors beyond
/// what the setup says of them.
pub fn visit(
    dice: &mut Dice,
    refrigerant: Refrigerant,
    metering: Metering,
    class: Class,
    share: f64,
    depth: Depth,
    (build, noise): (Build, f64),
) -> Option<Visit> {
    let unit = Unit::draw(dice, refrigerant, metering, build)?;
    let call = unit.call(dice, class, share)?;
    let setup = setup(dice, &unit, &call);
    let reading = reading(dice, &unit, &call, &setup, depth, noise);
    Some(Visit {
        unit,
        call,
        setup,
        reading,
    })
}

fn band(middle: TemperatureDifference, half_f: f64) -> Target {
    let half = TemperatureDifference::from_f(half_f);
    Target {
        low: middle - half,
        high: middle + half,
        pedigree: Pedigree::DataPlate,
    }
}

pub fn setup(dice: &mut Dice, unit: &Unit, call: &Call) -> Setup {
    let (low, high, thermometer) = dice.pick(&TOOLS);
    let fixed = |psi| PressureLimit::Fixed(PressureDifference::from_psi(psi));
    let valve = unit.metering != Metering::FixedOrifice;
    let plate = valve || dice.unit() < 0.5;
    // Gauge at the coil's port, or at the service valve with the usual loss added.
    let line_loss = PressureDifference::from_psi(dice.pick(&[0.0, 2.0]));
    let point = dice.pick(&[
        MeasuringPoint::Bulb,
        MeasuringPoint::Bulb,
        MeasuringPoint::ServiceValve,
    ]);
    // An orifice's superheat by a maker's chart, where there is one and it can be charged by.
    let charted = (!valve && dice.unit() < 0.7)
        .then(|| unit.charted(call))
        .flatten()
        .filter(|superheat| superheat.f() > 5.0);
    Setup {
        superheat_target: if valve {
            Some(band(unit.superheat, 2.0))
        } else {
            charted.map(|superheat| band(superheat, 5.0))
        },
        subcooling_target: plate.then(|| band(unit.subcooling, 3.0)),
        instruments: Instruments {
            low: fixed(low),
            high: fixed(high),
            thermometer: ThermometerLimit {
                fixed: TemperatureDifference::from_f(thermometer),
                percent_of_reading: 0.0,
            },
        },
        point,
        target_point: point,
        line_loss: if point == MeasuringPoint::Bulb {
            line_loss
        } else {
            PressureDifference::ZERO
        },
        gate: Gate {
            held: true,
            bulb_seen_right: false,
        },
        nominal_tons: Some(unit.tons),
        ..Setup::new(unit.refrigerant, unit.metering)
    }
}

/// What is read: each number with its instrument's own error, drawn at half its limit.
pub fn reading(
    dice: &mut Dice,
    unit: &Unit,
    call: &Call,
    setup: &Setup,
    depth: Depth,
    noise: f64,
) -> Reading {
    let of = |row: Row| call.rows[row.index()];
    let (dew, bubble) = (unit.refrigerant.dew(), unit.refrigerant.bubble());
    let gauge = |line: &SaturationLine, k: f64| -> f64 {
        let p = line.pressure(Temperature::from_k(k)).expect("in the table");
        (p - AbsolutePressure::STANDARD_ATMOSPHERE).psi()
    };
    let (low, high) = (
        setup.instruments.low.half_width().psi(),
        setup.instruments.high.half_width().psi(),
    );
    let fixed = setup.instruments.thermometer.fixed.f();
    let mut reading = Reading::default();
    let mut put = |field: Field, value: f64, limit: f64| {
        let read = value + noise * limit / 2.0 * dice.normal();
        reading.set(field, Some(libm::round(read * 100.0) / 100.0));
    };
    let fahrenheit = |row: Row| Temperature::from_k(of(row)).f();
    let at_coil = setup.point == MeasuringPoint::Bulb && setup.line_loss.psi() == 0.0;
    let suction = if at_coil { Row::CoilDew } else { Row::PortDew };
    let line = match setup.point {
        MeasuringPoint::Bulb => Row::BulbLine,
        MeasuringPoint::ServiceValve => Row::PortLine,
    };
    put(Field::SuctionPressure, gauge(dew, of(suction)), low);
    put(Field::SuctionLine, fahrenheit(line), fixed);
    let liquid = gauge(bubble, of(Row::LiquidSaturation));
    put(Field::LiquidPressure, liquid, high);
    let basic = [
        (Field::LiquidLine, Row::LiquidLine),
        (Field::OpenAir, Row::OpenAir),
        (Field::ReturnDryBulb, Row::ReturnDry),
        (Field::ReturnWetBulb, Row::ReturnWet),
        (Field::SupplyDryBulb, Row::Supply),
    ];
    let full = [
        (Field::CondenserAir, Row::EnteringAir),
        (Field::CondenserLeavingAir, Row::LeavingAir),
        (Field::LiquidLineEnd, Row::LineEnd),
        (Field::DischargeLine, Row::Discharge),
    ];
    for (field, row) in basic {
        put(field, fahrenheit(row), fixed);
    }
    if depth == Depth::Basic {
        return reading;
    }
    for (field, row) in full {
        put(field, fahrenheit(row), fixed);
    }
    put(Field::Amps, of(Row::Amps), 3.0);
    if !at_coil {
        put(Field::CoilPressure, gauge(dew, of(Row::CoilDew)), low);
    }
    let air = fahrenheit(Row::OpenAir);
    let middle = (gauge(dew, of(Row::OpenAir)) + gauge(bubble, of(Row::OpenAir))) / 2.0;
    let gas = STANDING_GAS * call.faults.non_condensables.psi();
    put(Field::StandingPressure, middle + gas, low + 1.0);
    put(Field::StandingAir, air, fixed);
    if unit.metering.has_bulb() {
        let Faults {
            stuck_at,
            bulb_charge_lost,
            ..
        } = call.faults;
        let dead = stuck_at.is_some() || bulb_charge_lost > 0.2;
        reading.bulb_test = Some(if dead {
            BulbTest::Nothing
        } else {
            BulbTest::Rises
        });
    }
    reading
}

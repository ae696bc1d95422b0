//! Systems whose truth is known, and what a technician would read of them.

#![allow(dead_code)] // Each test file uses its own part.

use cycle::{Equalizer, Faults, LineSet, Metering, Plate, Point, System, Traits, Weather};
use likeness::{Answered, Measured, Told};
use quantity::{AbsolutePressure, Temperature, TemperatureDifference};
use refrigerant::Refrigerant;

/// Limits of error of a technician's tools, °F: thermometers by the protocol; gauges of 3.5 and 7 psi
/// are worth about this on the charts of R-410A and R-22.
pub const THERMOMETER_F: f64 = 1.4;
pub const SUCTION_F: f64 = 1.6;
pub const LIQUID_F: f64 = 1.5;

/// NIST SP 811 (2008), B.8.
pub const OUNCES_IN_KG: f64 = 35.273_96;

/// A system as it truly is.
#[derive(Clone, Debug)]
pub struct Truth {
    pub refrigerant: Refrigerant,
    pub system: System,
    pub faults: Faults,
    /// From the usual setting, clockwise.
    pub turns: f64,
    /// °F: open air, return dry and wet bulb.
    pub air: (f64, f64, f64),
    pub indoor_share: f64,
    pub at_service_valve: bool,
    /// No unit is quite the model: how far its temperatures are from it, °F.
    pub off: Off,
}

/// °F.
#[derive(Clone, Copy, Debug, Default)]
pub struct Off {
    pub dew: f64,
    pub suction_line: f64,
    pub bubble: f64,
    pub liquid_line: f64,
    pub condenser_air: f64,
    pub supply: f64,
}

/// A change to a true system.
#[derive(Clone, Copy, Debug)]
pub struct To {
    pub turns: f64,
    pub charge: f64,
    pub indoor_air: f64,
    pub warmer_f: f64,
    pub open_air: bool,
}

pub const AS_IT_IS: To = To {
    turns: 0.0,
    charge: 1.0,
    indoor_air: 1.0,
    warmer_f: 0.0,
    open_air: false,
};

impl Truth {
    pub fn point(&self, to: &To) -> Option<Point> {
        let mut faults = self.faults;
        faults.charge *= to.charge;
        faults.indoor_air *= to.indoor_air;
        if to.open_air {
            faults.recirculation = 0.0;
        }
        let (outdoor, dry, wet) = self.air;
        let weather = Weather::at_sea_level_f(outdoor + to.warmer_f, dry, wet).ok()?;
        self.system
            .steady(&weather, &faults, self.turns + to.turns)
            .ok()
    }

    pub fn superheat_f(&self, point: &Point) -> f64 {
        let off = self.off.suction_line - self.off.dew;
        let model = if self.at_service_valve {
            point.superheat_at_port().f()
        } else {
            point.superheat().f()
        };
        // Flooded is flooded, whatever the unit.
        if model < 1.0 {
            model
        } else {
            (model + off).max(0.0)
        }
    }

    pub fn subcooling_f(&self, point: &Point) -> f64 {
        let model = point.subcooling().f();
        // No liquid is no liquid.
        if model < 1.0 {
            model
        } else {
            model + self.off.bubble - self.off.liquid_line
        }
    }

    pub fn head_psig(&self, point: &Point) -> f64 {
        let bubble = point.liquid_saturation + TemperatureDifference::from_f(self.off.bubble);
        let pressure = self.refrigerant.bubble().pressure(bubble);
        psig(pressure.expect("inside the table"))
    }

    pub fn gain_f(&self) -> f64 {
        self.system.traits().superheat_per_turn.f()
    }
}

/// Random numbers that are the same everywhere: splitmix64 of Steele, Lea and Flood (2014).
pub struct Dice(pub u64);

impl Dice {
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        low + (high - low) * ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn chance(&mut self, share: f64) -> bool {
        self.between(0.0, 1.0) < share
    }

    pub fn of<T: Copy>(&mut self, all: &[T]) -> T {
        let place = self.between(0.0, all.len() as f64) as usize;
        all[place.min(all.len() - 1)]
    }

    /// About normal: the sum of three even throws.
    pub fn about(&mut self, middle: f64, sd: f64) -> f64 {
        let sum: f64 = (0..3).map(|_| self.between(-1.0, 1.0)).sum();
        middle + sd * sum
    }
}

pub const FOUR: [Refrigerant; 4] = [
    Refrigerant::R22,
    Refrigerant::R410A,
    Refrigerant::R32,
    Refrigerant::R454B,
];

/// A system with an adjustable valve in usual weather, with several things a little or more off: made
/// otherwise than the fitted ones are (bulb, stroke, lines, sizes, design superheat).
pub fn drawn(dice: &mut Dice) -> Truth {
    loop {
        let refrigerant = dice.of(&FOUR);
        let plate = Plate {
            lines: LineSet {
                length_m: dice.between(6.0, 25.0),
                liquid_inner_mm: dice.between(7.0, 9.0),
                suction_inner_mm: dice.between(17.0, 23.0),
            },
            superheat: TemperatureDifference::from_f(dice.between(8.0, 12.0)),
            subcooling: TemperatureDifference::from_f(dice.between(8.0, 12.0)),
            ..Plate::new(
                refrigerant,
                dice.between(1.5, 5.0),
                Metering::Txv(Equalizer::External),
            )
        };
        let airflow = dice.about(400.0, 25.0).max(260.0);
        let gain = dice.about(0.0, 0.45);
        let traits = Traits {
            superheat_per_turn: TemperatureDifference::from_f(2.0 * libm::exp(gain)),
            stem_turns_out: 40.0,
            stem_turns_in: 40.0,
            valve_size: dice.about(1.05, 0.15).max(0.6),
            bulb_slope: dice.between(0.75, 1.0),
            stroke: TemperatureDifference::from_k(dice.between(3.0, 5.0)),
            airflow_m3_s_ton: airflow * 4.719_474e-4,
            ..Traits::default()
        };
        let setting_f = dice.about(3.0, 7.0);
        let indoor_air = dice.about(0.97, 0.1);
        let faults = Faults {
            charge: dice.about(1.0, 0.09),
            valve_area: 1.0,
            indoor_air,
            condenser_air: dice.about(0.97, 0.09),
            recirculation: if dice.chance(0.5) {
                dice.between(0.0, 0.2)
            } else {
                0.0
            },
            pumping: dice.about(0.98, 0.04).min(1.08),
            ..Faults::NONE
        };
        let dry = dice.between(71.0, 82.0);
        let air = (
            dice.between(75.0, 105.0),
            dry,
            dice.between(58.0, 70.0).min(dry - 3.0),
        );
        let Ok(system) = System::build_with(&plate, &traits) else {
            continue;
        };
        let truth = Truth {
            refrigerant,
            system,
            faults,
            turns: setting_f / traits.superheat_per_turn.f(),
            air,
            indoor_share: indoor_air * airflow / 400.0,
            at_service_valve: dice.chance(0.4),
            off: Off {
                dew: dice.about(0.0, 1.0),
                suction_line: dice.about(0.0, 0.8),
                bubble: dice.about(0.0, 1.0),
                liquid_line: dice.about(0.0, 0.8),
                condenser_air: dice.about(0.0, 0.7),
                supply: dice.about(0.0, 1.5),
            },
        };
        // What a technician meets: not flooded, not beyond the model, some liquid at the port.
        let met = truth.point(&AS_IT_IS).is_some_and(|point| {
            point.superheat().f() > 2.0
                && point.superheat().f() < 45.0
                && point.subcooling().f() > 1.0
        });
        if met {
            return truth;
        }
    }
}

/// What is read of it with tools that are off anywhere within their limits.
pub fn read(truth: &Truth, dice: &mut Dice) -> Told {
    let point = truth.point(&AS_IT_IS).expect("an operating point");
    let mut within = |value: Temperature, off: f64, limit: f64| Measured {
        f: value.f() + off + dice.between(-limit, limit),
        within_f: limit,
    };
    let units = truth.off;
    let (outdoor, dry, wet) = truth.air;
    let (dew, line) = if truth.at_service_valve {
        (point.suction_dew, point.compressor_inlet.temperature)
    } else {
        (point.evaporating, point.coil_outlet.temperature)
    };
    let plate = truth.system.plate();
    let [superheat, subcooling] = [plate.superheat.f(), plate.subcooling.f()];
    let off = if truth.at_service_valve { 2.0 } else { 0.0 };
    let mut told = Told {
        refrigerant: truth.refrigerant.name().to_owned(),
        metering: "txv".to_owned(),
        nominal_tons: Some(plate.tons),
        plate_charge_oz: Some(truth.system.charge_kg() * OUNCES_IN_KG),
        line_length_ft: Some(plate.lines.length_m / 0.3048),
        liquid_line_in: None,
        suction_line_in: None,
        superheat_low_f: superheat + off - 2.0,
        superheat_high_f: superheat + off + 2.0,
        subcooling_low_f: subcooling - 3.0,
        subcooling_high_f: subcooling + 3.0,
        minimum_superheat_f: 5.0,
        at_service_valve: truth.at_service_valve,
        local_air_psia: 14.696,
        gauge_zero_psia: 14.696,
        suction_dew: within(dew, units.dew, SUCTION_F),
        suction_line: within(line, units.suction_line, THERMOMETER_F),
        liquid_bubble: within(point.liquid_saturation, units.bubble, LIQUID_F),
        liquid_line: within(
            point.liquid_port.temperature,
            units.liquid_line,
            THERMOMETER_F,
        ),
        compressor_suction: None,
        liquid_line_end: None,
        condenser_air: Some(within(
            point.condenser_air,
            units.condenser_air,
            THERMOMETER_F,
        )),
        open_air: Some(within(Temperature::from_f(outdoor), 0.0, THERMOMETER_F)),
        condenser_leaving_air: None,
        return_dry_bulb: Some(within(Temperature::from_f(dry), 0.0, THERMOMETER_F)),
        return_wet_bulb: Some(within(Temperature::from_f(wet), 0.0, THERMOMETER_F)),
        supply_dry_bulb: Some(within(point.supply_air, units.supply, THERMOMETER_F)),
        is_off_chart: false,
        stem_turns: 0.0,
        answered: Vec::new(),
    };
    // Not everyone reads everything.
    match dice.between(0.0, 3.0) as u32 {
        0 => told.condenser_air = None,
        1 => told.open_air = None,
        _ => {}
    }
    if dice.chance(0.5) {
        told.supply_dry_bulb = None;
    }
    if dice.chance(0.3) {
        told.return_wet_bulb = None;
    }
    if dice.chance(0.2) {
        told.return_dry_bulb = None;
    }
    if dice.chance(0.5) {
        told.line_length_ft = None;
    }
    told
}

/// The same after the stem was turned `turns` before this reading, with the superheat that had
/// settled there.
pub fn with_log(truth: &Truth, told: &Told, turns: f64, dice: &mut Dice) -> Option<Told> {
    let before = truth.point(&To {
        turns: -turns,
        ..AS_IT_IS
    })?;
    Some(Told {
        stem_turns: turns,
        answered: vec![Answered {
            stem_turns: 0.0,
            superheat_f: truth.superheat_f(&before) + dice.between(-1.5, 1.5),
            within_f: 1.5,
        }],
        ..told.clone()
    })
}

pub fn psig(pressure: AbsolutePressure) -> f64 {
    pressure.psia() - 14.696
}

/// The value below which this share of them lies.
pub fn share_of(values: &mut [f64], share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let place = (share * (values.len() - 1) as f64).round() as usize;
    values.get(place).copied().unwrap_or(f64::NAN)
}

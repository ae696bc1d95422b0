//! What a technician can give, and what no one can see (with a prior for each).

use quantity::{AbsolutePressure, TemperatureDifference};
use refrigerant::Refrigerant;

use crate::compressor::Coefficients;
use crate::error::OutOfRange;

/// What doses the refrigerant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Metering {
    /// Expansion valve with a stem.
    Txv(Equalizer),
    /// Expansion valve without a stem.
    TxvFixed(Equalizer),
    /// Electronic valve, holding superheat by a motor.
    Eev,
    /// Fixed orifice or short tube.
    Orifice,
}

/// Where the valve feels the coil's pressure.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Equalizer {
    /// At the coil's outlet, through its own tube.
    #[default]
    External,
    /// Inside the valve, before distributor and coil. Also an external one whose tube is blocked.
    Internal,
}

/// The two lines between the units. Inner diameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineSet {
    /// One way, m.
    pub length_m: f64,
    /// Liquid line, mm.
    pub liquid_inner_mm: f64,
    /// Suction line, mm.
    pub suction_inner_mm: f64,
}

impl Default for LineSet {
    /// 12 m of 8.0 and 20 mm: engineering default, no source.
    fn default() -> Self {
        Self {
            length_m: 12.0,
            liquid_inner_mm: 8.0,
            suction_inner_mm: 20.0,
        }
    }
}

/// What a technician can say of a system.
///
/// Everything else follows from the design point: 95 °F outdoors, return air 80 °F with 67 °F wet
/// bulb (AHRI 210/240 condition A, `ahri_210_240_rating_conditions.csv`), evaporating 45 °F,
/// condensing 115 °F (common practice, no source), superheat and subcooling as given.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// What is in it.
    pub refrigerant: Refrigerant,
    /// Nominal capacity, tons of 12 000 Btu/h.
    pub tons: f64,
    /// What doses it.
    pub metering: Metering,
    /// The lines.
    pub lines: LineSet,
    /// Superheat at the bulb for which the device is set at the design point.
    pub superheat: TemperatureDifference,
    /// Subcooling of the design point: the plate's target.
    pub subcooling: TemperatureDifference,
    /// Charge by the plate with its line allowance, kg, when known. The model works with the share
    /// of the right charge; this turns ounces into that share.
    pub charge_kg: Option<f64>,
    /// A maker's ten coefficients, when typed in; otherwise efficiencies.
    pub compressor: Option<Coefficients>,
}

impl Plate {
    /// A plate with defaults for all that is seldom known: superheat and subcooling 10 °F.
    pub fn new(refrigerant: Refrigerant, tons: f64, metering: Metering) -> Self {
        Self {
            refrigerant,
            tons,
            metering,
            lines: LineSet::default(),
            superheat: TemperatureDifference::from_f(10.0),
            subcooling: TemperatureDifference::from_f(10.0),
            charge_kg: None,
            compressor: None,
        }
    }

    pub(crate) fn check(&self) -> Result<(), OutOfRange> {
        let LineSet {
            length_m,
            liquid_inner_mm,
            suction_inner_mm,
        } = self.lines;
        OutOfRange::check(&[
            ("nominal capacity, tons", self.tons, 0.5, 25.0),
            ("line length, m", length_m, 0.5, 80.0),
            ("liquid line, mm", liquid_inner_mm, 3.0, 30.0),
            ("suction line, mm", suction_inner_mm, 6.0, 70.0),
            ("design superheat, °F", self.superheat.f(), 3.0, 25.0),
            ("design subcooling, °F", self.subcooling.f(), 3.0, 18.0),
            (
                "plate charge, kg",
                self.charge_kg.unwrap_or(1.0),
                0.1,
                100.0,
            ),
        ])
    }
}

/// What no one can read off a unit. Each has a usual value, and a range to fit or to draw from.
///
/// # Source
/// Engineering defaults without a source unless a line says otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Traits {
    /// Superheat that one turn of the stem is worth while the valve modulates. 3 °F by a valve
    /// maker's sheet (3 to 4 °F); 0.5 to 2 °F in `us_army_tm_txv_adjustment.csv`.
    pub superheat_per_turn: TemperatureDifference,
    /// Turns counter-clockwise from the design setting to the stem's end.
    pub stem_turns_out: f64,
    /// Turns clockwise from the design setting to the stem's end.
    pub stem_turns_in: f64,
    /// Area of the valve over the right size.
    pub valve_size: f64,
    /// Lag of the bulb, s. 90 and 100 s in `txv_model_parameters.csv`; 15 to 40 is fast.
    pub bulb_lag_s: f64,
    /// Slope of the bulb's charge over that of the refrigerant: 1 parallel, 0.7 to 0.9 cross.
    pub bulb_slope: f64,
    /// Change at the bulb from closed to fully open. 6 and 8 K above static in
    /// `txv_model_parameters.csv`.
    pub stroke: TemperatureDifference,
    /// Area that stays open when the valve is shut, share.
    pub bleed: f64,
    /// Half of the friction band, share of full lift; worn 0.05, sticky 0.08 to 0.14.
    pub friction: f64,
    /// Highest pressure of a bulb whose liquid runs out (maximum operating pressure), if it is one.
    pub bulb_limit: Option<AbsolutePressure>,
    /// Indoor air by volume, m3/s for each ton; 400 cfm.
    pub airflow_m3_s_ton: f64,
}

/// m3/s in one cubic foot per minute. NIST SP 811 (2008), B.8.
const CFM: f64 = 4.719_474e-4;

impl Default for Traits {
    fn default() -> Self {
        Self {
            superheat_per_turn: TemperatureDifference::from_k(1.7),
            stem_turns_out: 8.0,
            stem_turns_in: 12.0,
            valve_size: 1.0,
            bulb_lag_s: 60.0,
            bulb_slope: 0.85,
            stroke: TemperatureDifference::from_k(4.0),
            bleed: 0.02,
            friction: 0.02,
            bulb_limit: None,
            airflow_m3_s_ton: 400.0 * CFM,
        }
    }
}

impl Traits {
    pub(crate) fn check(&self) -> Result<(), OutOfRange> {
        let limit = self.bulb_limit.map_or(500.0, AbsolutePressure::kpa);
        OutOfRange::check(&[
            (
                "superheat per turn, °F",
                self.superheat_per_turn.f(),
                0.2,
                6.0,
            ),
            ("stem turns out", self.stem_turns_out, 0.0, 40.0),
            ("stem turns in", self.stem_turns_in, 0.0, 40.0),
            ("valve size, share", self.valve_size, 0.3, 5.0),
            ("bulb lag, s", self.bulb_lag_s, 5.0, 400.0),
            ("bulb slope, share", self.bulb_slope, 0.5, 1.0),
            ("valve stroke, K", self.stroke.k(), 1.0, 12.0),
            ("bleed, share", self.bleed, 0.0, 0.3),
            ("friction, share", self.friction, 0.0, 0.3),
            ("bulb limit, kPa", limit, 100.0, 3000.0),
            (
                "indoor air, cfm/ton",
                self.airflow_m3_s_ton / CFM,
                250.0,
                600.0,
            ),
        ])
    }
}

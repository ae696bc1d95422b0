//! A scenario in, the plant's readings over time out. No rule and no equation of its own.

use crate::scenario::{Conditions, Device, Event, Given, Place, Scenario, Tube};
use air::{Altitude, standard_atmosphere};
use cycle::{
    BuildError, Coefficients, Equalizer, Faults, Metering, NoSolution, OutOfRange, Plate, Point,
    Run, System, Tail, Traits, Weather, WeatherError,
};
use quantity::{AbsolutePressure, PressureDifference, Temperature, TemperatureDifference};
use refrigerant::Refrigerant;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fmt::Display;
use std::io::{self, Read, Write};

/// Shortest step between two lines, s, and longest scenario.
const INTERVAL_S: (f64, f64) = (1.0, 3600.0);
const LONGEST_S: f64 = 86_400.0;
/// kg in a pound and in an ounce; m in a foot; mm in an inch. NIST SP 811 (2008), B.8.
const POUND: f64 = 0.453_592_37;
const OUNCE: f64 = POUND / 16.0;
const FOOT: f64 = 0.3048;
const INCH: f64 = 25.4;

/// One cause or part of it: its name, its largest size, and what it does to a sound system.
type Row = (&'static str, f64, fn(&mut Faults, f64));

/// Sizes: 0 is sound. Causes without a row have no model, or are weather.
const FAULTS: [Row; 15] = [
    ("low-charge", 0.6, |faults, size| faults.charge -= size),
    ("overcharge", 0.6, |faults, size| faults.charge += size),
    ("valve-underfeeding", 0.9, |faults, size| {
        faults.valve_area *= 1.0 - size
    }),
    ("valve-overfeeding", 3.0, |faults, size| {
        faults.valve_area *= 1.0 + size
    }),
    ("needle-stuck", 1.0, |faults, size| {
        faults.stuck_at = Some(size)
    }),
    ("bulb-charge-lost", 1.0, |faults, size| {
        faults.bulb_charge_lost = size
    }),
    ("screen-blocked", 300.0, |faults, size| faults.screen = size),
    ("bulb-contact", 1.0, |faults, size| {
        faults.bulb_contact = 1.0 - size
    }),
    ("liquid-restriction", 299.0, |faults, size| {
        faults.liquid_restriction = 1.0 + size
    }),
    ("suction-restriction", 59.0, |faults, size| {
        faults.suction_restriction = 1.0 + size
    }),
    ("low-airflow", 0.7, |faults, size| {
        faults.indoor_air = 1.0 - size
    }),
    ("condenser-fouled", 0.8, |faults, size| {
        faults.condenser_air = 1.0 - size
    }),
    ("hot-air-recirculation", 0.5, |faults, size| {
        faults.recirculation = size
    }),
    ("non-condensables", 80.0, |faults, size| {
        faults.non_condensables = PressureDifference::from_psi(size);
    }),
    ("weak-compressor", 0.7, |faults, size| {
        faults.pumping = 1.0 - size
    }),
];

/// Why there is nothing, or nothing more, to write.
enum Stop {
    /// Said as JSON.
    Told(Value),
    /// Whoever reads has gone, or the disk is full.
    Output(io::Error),
}

impl From<io::Error> for Stop {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

impl From<OutOfRange> for Stop {
    fn from(error: OutOfRange) -> Self {
        let OutOfRange {
            quantity,
            value,
            low,
            high,
        } = error;
        refused(quantity, json!(value), json!([low, high]), error)
    }
}

impl From<BuildError> for Stop {
    fn from(error: BuildError) -> Self {
        match error {
            BuildError::OutOfRange(error) => error.into(),
            other => refused("system", Value::Null, Value::Null, other),
        }
    }
}

impl From<WeatherError> for Stop {
    fn from(error: WeatherError) -> Self {
        match error {
            WeatherError::OutOfRange(error) => error.into(),
            WeatherError::Air(error) => refused("conditions", Value::Null, Value::Null, error),
        }
    }
}

impl From<NoSolution> for Stop {
    fn from(error: NoSolution) -> Self {
        match error {
            NoSolution::OutOfRange(error) => error.into(),
            other => refused("state", Value::Null, Value::Null, other),
        }
    }
}

fn refused(field: &str, value: Value, range: Value, message: impl Display) -> Stop {
    Stop::Told(json!({
        "field": field, "value": value, "range": range, "message": message.to_string(),
    }))
}

/// Writes the readings of one scenario; gives back whether it came to its end.
pub fn stream(mut given: impl Read, out: &mut impl Write) -> io::Result<bool> {
    let mut text = String::new();
    given.read_to_string(&mut text)?;
    match simulate(&text, out) {
        Ok(()) => Ok(true),
        Err(Stop::Told(error)) => {
            writeln!(out, "{}", json!({ "error": error }))?;
            Ok(false)
        }
        Err(Stop::Output(error)) => Err(error),
    }
}

/// Everything that an event may change.
struct Now {
    conditions: Conditions,
    faults: BTreeMap<String, f64>,
    added_kg: f64,
}

fn simulate(text: &str, out: &mut impl Write) -> Result<(), Stop> {
    let scenario: Scenario = serde_json::from_str(text)
        .map_err(|error| refused("scenario", Value::Null, Value::Null, error))?;
    within("duration_s", scenario.duration_s, (0.0, LONGEST_S))?;
    within("interval_s", scenario.interval_s, INTERVAL_S)?;
    let mut events = scenario.events;
    for event in &events {
        within("t_s", event.t_s, (0.0, scenario.duration_s))?;
    }
    events.sort_by(|one, other| one.t_s.total_cmp(&other.t_s));
    let mut now = Now {
        conditions: scenario.conditions,
        faults: scenario.faults,
        added_kg: 0.0,
    };
    let system = system(&scenario.system)?;
    let usual = Tail::default();
    let tail = Tail {
        share: scenario.late_share.unwrap_or(usual.share),
        seconds: scenario
            .late_minutes
            .map_or(usual.seconds, |minutes| minutes * 60.0),
    };
    let (weather, faults) = (now.weather()?, now.wrong(&system)?);
    let mut run = Run::at_rest(system, weather, faults, scenario.stem_turns, tail)?;
    let mut events = events.into_iter().peekable();
    let lines = (scenario.duration_s / scenario.interval_s + 1e-9).floor();
    for line in 0..=lines as u32 {
        let at = f64::from(line) * scenario.interval_s;
        while let Some(event) = events.next_if(|event| event.t_s < at) {
            reach(&mut run, event.t_s)?;
            now.change(&mut run, event)?;
        }
        reach(&mut run, at)?;
        let air = now.local_air()?;
        writeln!(
            out,
            "{}",
            told(at, &run.point(), scenario.measuring_point, air)
        )?;
    }
    Ok(())
}

fn within(field: &str, value: f64, (low, high): (f64, f64)) -> Result<(), Stop> {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    let message = format!("{field} {value} is outside {low} to {high}.");
    Err(refused(field, json!(value), json!([low, high]), message))
}

/// Lets time pass up to a moment.
fn reach(run: &mut Run, at: f64) -> Result<(), Stop> {
    let left = at - run.seconds();
    if left > 1e-6 {
        run.advance(left)?;
    }
    Ok(())
}

impl Now {
    fn local_air(&self) -> Result<AbsolutePressure, Stop> {
        let altitude = Altitude::from_ft(self.conditions.altitude_ft.unwrap_or(0.0));
        standard_atmosphere(altitude)
            .map_err(|error| refused("altitude_ft", json!(altitude.ft()), Value::Null, error))
    }

    fn weather(&self) -> Result<Weather, Stop> {
        let Conditions {
            outdoor_f,
            return_dry_bulb_f,
            return_wet_bulb_f,
            ..
        } = self.conditions;
        let given = |value: Option<f64>, usual| Temperature::from_f(value.unwrap_or(usual));
        Ok(Weather::new(
            given(outdoor_f, 95.0),
            given(return_dry_bulb_f, 80.0),
            given(return_wet_bulb_f, 67.0),
            self.local_air()?,
        )?)
    }

    fn wrong(&self, system: &System) -> Result<Faults, Stop> {
        let mut faults = Faults::NONE;
        for (name, size) in &self.faults {
            let names = || json!(FAULTS.map(|row| row.0));
            let Some((_, most, apply)) = FAULTS.iter().find(|row| row.0 == name) else {
                let message = format!("{name} is no fault of the model; weather is in conditions.");
                return Err(refused(name, json!(size), names(), message));
            };
            within(name, *size, (0.0, *most))?;
            apply(&mut faults, *size);
        }
        faults.charge += self.added_kg / system.charge_kg();
        Ok(faults)
    }

    fn change(&mut self, run: &mut Run, event: Event) -> Result<(), Stop> {
        let (was, new) = (self.conditions, event.conditions);
        self.conditions = Conditions {
            outdoor_f: new.outdoor_f.or(was.outdoor_f),
            return_dry_bulb_f: new.return_dry_bulb_f.or(was.return_dry_bulb_f),
            return_wet_bulb_f: new.return_wet_bulb_f.or(was.return_wet_bulb_f),
            altitude_ft: new.altitude_ft.or(was.altitude_ft),
        };
        self.faults.extend(event.faults);
        self.added_kg += event.charge_oz.unwrap_or(0.0) * OUNCE;
        run.set_weather(self.weather()?);
        run.set_faults(self.wrong(run.system())?)?;
        if let Some(turn) = event.turn {
            within("turn", turn, (-20.0, 20.0))?;
            let quarters = (turn * 4.0).round();
            if (turn * 4.0 - quarters).abs() > 1e-9 {
                let message = "A turn goes by quarters, clockwise positive.";
                return Err(refused("turn", json!(turn), json!(0.25), message));
            }
            run.turn_quarters(quarters as i32);
        }
        Ok(())
    }
}

fn system(given: &Given) -> Result<System, Stop> {
    let refrigerant = Refrigerant::from_name(&given.refrigerant).ok_or_else(|| {
        let names = json!(Refrigerant::ALL.map(Refrigerant::name));
        let message = format!("{} is no refrigerant of this program.", given.refrigerant);
        refused("refrigerant", json!(given.refrigerant), names, message)
    })?;
    let equalizer = match given.equalizer {
        Tube::External => Equalizer::External,
        Tube::Internal => Equalizer::Internal,
    };
    let metering = match given.metering {
        Device::Txv => Metering::Txv(equalizer),
        Device::TxvFixed => Metering::TxvFixed(equalizer),
        Device::Eev => Metering::Eev,
        Device::Orifice => Metering::Orifice,
    };
    let mut plate = Plate::new(refrigerant, given.nominal_tons, metering);
    let set = |place: &mut f64, value: Option<f64>, unit: f64| {
        if let Some(value) = value {
            *place = value * unit;
        }
    };
    set(&mut plate.lines.length_m, given.line_length_ft, FOOT);
    set(
        &mut plate.lines.liquid_inner_mm,
        given.liquid_line_inner_in,
        INCH,
    );
    set(
        &mut plate.lines.suction_inner_mm,
        given.suction_line_inner_in,
        INCH,
    );
    let difference = TemperatureDifference::from_f;
    plate.superheat = given.design_superheat_f.map_or(plate.superheat, difference);
    plate.subcooling = given
        .design_subcooling_f
        .map_or(plate.subcooling, difference);
    plate.charge_kg = given.plate_charge_lb.map(|pounds| pounds * POUND);
    plate.compressor = given.compressor.as_ref().map(|map| Coefficients {
        flow_lb_h: map.flow_lb_h,
        power_w: map.power_w,
    });
    let mut traits = Traits::default();
    traits.superheat_per_turn = given
        .superheat_per_turn_f
        .map_or(traits.superheat_per_turn, difference);
    set(&mut traits.stem_turns_out, given.stem_turns_out, 1.0);
    set(&mut traits.stem_turns_in, given.stem_turns_in, 1.0);
    set(&mut traits.bulb_lag_s, given.bulb_lag_s, 1.0);
    set(&mut traits.friction, given.friction_share, 1.0);
    set(&mut traits.valve_size, given.valve_size_share, 1.0);
    traits.bulb_limit = given.bulb_limit_psia.map(AbsolutePressure::from_psia);
    Ok(System::build_with(&plate, &traits)?)
}

/// One line. Suction pressure, line and superheat belong to one place, so that they agree.
fn told(at: f64, point: &Point, place: Place, air: AbsolutePressure) -> Value {
    let psig = |pressure: AbsolutePressure| round((pressure - air).psi(), 100.0);
    let (suction, superheat) = match place {
        Place::Bulb => (point.coil_outlet, point.superheat()),
        Place::ServiceValve => (point.compressor_inlet, point.superheat_at_port()),
    };
    let hundredth = |number: f64| round(number, 100.0);
    json!({
        "t_s": hundredth(at),
        "suction_pressure_psig": psig(suction.pressure),
        "superheat_f": hundredth(superheat.f()),
        "subcooling_f": hundredth(point.subcooling().f()),
        "liquid_pressure_psig": psig(point.liquid_port.pressure),
        "liquid_line_temp_f": hundredth(point.liquid_port.temperature.f()),
        "suction_line_temp_f": hundredth(suction.temperature.f()),
        "mass_flow_lb_h": hundredth(point.mass_flow_lb_h()),
        "capacity_btu_h": round(point.capacity_btu_h(), 1.0),
        "power_w": round(point.power_w, 1.0),
        "stem_turns": hundredth(point.stem_turns),
        "supply_dry_bulb_f": hundredth(point.supply_air.f()),
        "condenser_air_f": hundredth(point.condenser_air.f()),
        "condenser_leaving_air_f": hundredth(point.condenser_leaving_air.f()),
        "liquid_line_end_f": hundredth(point.line_end.temperature.f()),
        "discharge_temp_f": hundredth(point.discharge.temperature.f()),
        "lift_share": round(point.lift, 1000.0),
    })
}

fn round(number: f64, parts: f64) -> f64 {
    (number * parts).round() / parts
}

//! A job's log in, what the coach says after each line out.

use crate::fault::Fault;
use crate::input::{self, is_reading_key, is_setup_key};
use crate::keys::Keys;
use crate::output::round;
use coach::{Advice, Entry, Estimate, Minutes, Quarters, Why};
use diagnosis::{
    Alarm, Banded, Field, Kind, MeasuringPoint, Metering, Reading, Setup, check, derive,
};
use job::{CoachLog, PlateField, Refused, STEM_ENDS, SuperheatRead, stem_end_key};
use quantity::{GaugePressure, TemperatureDifference, TemperatureUnit};
use refrigerant::Refrigerant;
use serde_json::{Map, Value, json};

/// Minutes since the log began: a week, so that a second visit still fits.
const T_MIN: (f64, f64) = (0.0, 10_080.0);
/// °F: what gauges and pipes can come to, slips of the finger left out. Reasoned, no source.
const SUPERHEAT_F: (f64, f64) = (-40.0, 150.0);
/// °F: as wide as a thermometer's own limit may be typed.
const SUPERHEAT_BAND_F: (f64, f64) = (0.0, 20.0);
/// Turns in one line: more than the whole travel of a stem of the trade (10, a unit maker's sheet).
const TURN: (f64, f64) = (-20.0, 20.0);
/// What a line may hold besides a reading; one of them, and then nothing read.
const EVENTS: [&str; 3] = ["turn", "stem_end", "disturbed"];
const JOB: &str = "job";
/// Stands in while none is named: only the tools' error on a stated superheat rests on it.
const UNNAMED: Refrigerant = Refrigerant::R410A;

/// A log as far as it was read.
#[derive(Default)]
pub struct Visit {
    /// Keys about the job, as last given.
    job: Map<String, Value>,
    steps: Vec<(Minutes, Step)>,
}

#[derive(Clone, Copy)]
enum Step {
    Read(SuperheatRead),
    Other(Entry),
}

impl Visit {
    /// The answer to one line. A bad line changes nothing.
    pub fn answer(&mut self, given: &Value) -> Result<Value, Fault> {
        let keys = Keys::of(given)?;
        match keys.get(JOB) {
            Some(about) => self.begin(keys, about),
            None => self.step(keys),
        }
    }

    /// The line that says what the job is.
    fn begin(&mut self, line: Keys, about: &Value) -> Result<Value, Fault> {
        if !self.job.is_empty() || !self.steps.is_empty() {
            return Err(Fault::new(
                Some(JOB),
                about,
                json!("the first line"),
                "job stands after other lines.".to_owned(),
                "Write it first; run another job's log on its own.",
            ));
        }
        let Some(about) = about.as_object() else {
            return Err(Fault::new(
                Some(JOB),
                about,
                json!("an object"),
                "job is an object of keys about the job.".to_owned(),
                "For example {\"job\": {\"refrigerant\": \"R-410A\", \"superheat_target_f\": [8, 12]}}.",
            ));
        };
        let mut ignored = input::ignored(about, is_job_key);
        ignored.extend(input::ignored(line.0, |key| key == JOB));
        let job = job_keys(about);
        let setup = setup(Keys(&job))?;
        self.job = job;
        self.told(None, &setup, &ignored)
    }

    /// A line of the log.
    fn step(&mut self, line: Keys) -> Result<Value, Fault> {
        let Some(t_min) = line.number("t_min", T_MIN, "Minutes since the log began.")? else {
            let remedy = "Give every line the minutes since the log began.";
            return Err(Fault::missing("t_min", json!([T_MIN.0, T_MIN.1]), remedy));
        };
        let at = Minutes::new(t_min);
        let mut job = self.job.clone();
        job.extend(job_keys(line.0));
        let setup = setup(Keys(&job))?;
        let known = |key: &str| {
            let own = ["t_min", "superheat_f", "superheat_band_f"];
            own.contains(&key) || EVENTS.contains(&key) || is_reading_key(key) || is_job_key(key)
        };
        let mut ignored = input::ignored(line.0, known);
        let step = match event(line)? {
            Some(key) => Step::Other(happened(line, key, at, setup.metering)?),
            None => {
                let (read, unused) = read(line, Keys(&job), &setup)?;
                ignored.extend(unused);
                Step::Read(read)
            }
        };
        self.job = job;
        self.steps.push((at, step));
        self.told(Some(t_min), &setup, &ignored)
    }

    /// What the coach says of the log so far, at its newest time.
    fn told(&self, t_min: Option<f64>, setup: &Setup, ignored: &[String]) -> Result<Value, Fault> {
        let head_limit = Keys(&self.job).plate(PlateField::HeadLimit)?;
        let mut log = CoachLog::new(setup, head_limit.map(GaugePressure::from_psig));
        let mut now = Minutes::default();
        for (at, step) in &self.steps {
            if *at > now {
                now = *at;
            }
            match step {
                Step::Read(read) => log.read(*at, *read),
                Step::Other(entry) => log.add(*entry),
            }
        }
        let mut out = told(t_min, &log.advise(now), setup.metering);
        if !ignored.is_empty() {
            out["ignored_fields"] = json!(ignored);
        }
        Ok(out)
    }
}

fn is_job_key(key: &str) -> bool {
    is_setup_key(key) || key == PlateField::HeadLimit.row().key
}

fn job_keys(object: &Map<String, Value>) -> Map<String, Value> {
    let about = object.iter().filter(|(key, _)| is_job_key(key));
    about
        .map(|(key, value)| (key.clone(), value.clone()))
        .collect()
}

fn setup(job: Keys) -> Result<Setup, Fault> {
    job.plate(PlateField::HeadLimit)?;
    input::setup(job, input::refrigerant(job)?.unwrap_or(UNNAMED))
}

/// Which event a line holds, if it is no reading.
fn event(line: Keys) -> Result<Option<&'static str>, Fault> {
    let mut held = EVENTS
        .into_iter()
        .filter_map(|key| Some((key, line.get(key)?)));
    let Some((key, value)) = held.next() else {
        return Ok(None);
    };
    let read =
        |key: &String| line.get(key).is_some() && (key == "superheat_f" || is_reading_key(key));
    if held.next().is_none() && !line.0.keys().any(read) {
        return Ok(Some(key));
    }
    Err(Fault::new(
        Some(key),
        value,
        json!(EVENTS),
        format!("{key} stands beside a reading or another event."),
        "Give each a line of its own, with its own t_min.",
    ))
}

/// What was done.
fn happened(line: Keys, key: &str, at: Minutes, metering: Metering) -> Result<Entry, Fault> {
    let value = line.get(key).unwrap_or(&Value::Null);
    if key != "disturbed" && metering != Metering::AdjustableTxv {
        return Err(Fault::new(
            Some(key),
            value,
            json!([Metering::AdjustableTxv.key()]),
            format!("{key}: {}", Refused::NoStem.says()),
            "Check metering, or leave the line out.",
        ));
    }
    let ends = line.choice("stem_end", &STEM_ENDS, stem_end_key)?;
    if let Some(end) = ends {
        return Ok(Entry::StemEnd { at, end });
    }
    let remedy = "Quarter turns, clockwise positive: 0.25, -0.5, 1 and so on.";
    let Some(turns) = line.number("turn", TURN, remedy)? else {
        return match line.truth("disturbed")? {
            Some(true) => Ok(Entry::Disturbed { at }),
            _ => Err(Fault::new(
                Some("disturbed"),
                value,
                json!([true]),
                "disturbed can only be true.".to_owned(),
                "Leave the line out when nothing was changed.",
            )),
        };
    };
    let quarters = (turns * 4.0).round();
    if (turns * 4.0 - quarters).abs() > 1e-9 || quarters == 0.0 {
        return Err(Fault::new(
            Some("turn"),
            value,
            json!([TURN.0, TURN.1]),
            format!(
                "turn {turns} is no count of quarter turns from {} to {}.",
                TURN.0, TURN.1
            ),
            remedy,
        ));
    }
    let by = Quarters::new(quarters as i32);
    Ok(Entry::Turn { at, by })
}

/// What was read, and which keys could not be used.
fn read(line: Keys, job: Keys, setup: &Setup) -> Result<(SuperheatRead, Vec<String>), Fault> {
    let remedy = "Suction line less saturation (dew), in Fahrenheit degrees.";
    let stated = line.number("superheat_f", SUPERHEAT_F, remedy)?;
    let mut reading = line.reading()?;
    let mut unused = Vec::new();
    match stated {
        None => {
            let main = [Field::SuctionPressure, Field::SuctionLine];
            if main.iter().all(|field| reading.get(*field).is_none()) {
                return Err(Fault::missing(
                    "superheat_f",
                    json!([SUPERHEAT_F.0, SUPERHEAT_F.1]),
                    "Give it, or suction_pressure_psig and suction_line_temp_f, or an event.",
                ));
            }
            input::full_setup(job)?;
            input::require(&reading, &main)?;
        }
        Some(_) if input::refrigerant(job)?.is_none() => {
            unused = pressures(&reading);
            reading = Reading::default();
        }
        Some(_) => {}
    }
    let (checked, refusals) = check(setup, &reading);
    if let Some(refusal) = refusals.first() {
        return Err(Fault::refused(refusal, setup));
    }
    let read = match stated {
        None => SuperheatRead::of(&derive(&checked)),
        Some(f) => SuperheatRead::stated(setup, TemperatureDifference::from_f(f), &reading),
    };
    let Some(mut read) = read else {
        return Err(Fault::new(
            Some("superheat_f"),
            &json!(stated),
            json!([SUPERHEAT_F.0, SUPERHEAT_F.1]),
            "superheat_f does not go with the suction pressure beside it.".to_owned(),
            "Check both, and the refrigerant.",
        ));
    };
    let remedy = "Half of the width of its error band, in Fahrenheit degrees.";
    if let Some(half) = line.number("superheat_band_f", SUPERHEAT_BAND_F, remedy)? {
        read.superheat = Banded {
            half_width: TemperatureDifference::from_f(half),
            ..read.superheat
        };
    }
    Ok((read, unused))
}

/// The pressures that were read: without a refrigerant they are no temperatures.
fn pressures(reading: &Reading) -> Vec<String> {
    let rows = reading.entries().map(|(field, _)| field.row());
    rows.filter(|row| matches!(row.kind, Kind::LowPressure | Kind::HighPressure))
        .map(|row| row.key.to_owned())
        .collect()
}

/// One advice as one object.
fn told(t_min: Option<f64>, advice: &Advice, metering: Metering) -> Value {
    let has_stem = metering == Metering::AdjustableTxv;
    let value = |of: Option<Estimate>| of.map(|of| round(of.value.f()));
    let band = |of: Option<Estimate>| of.map(|of| round(of.half_width.f()));
    // Without a stem there is no turn to foretell, only where superheat is on its way to.
    let foretold = has_stem || advice.next.is_none();
    let gain = Some(advice.gain).filter(|_| has_stem);
    let expected = advice.expected.filter(|_| foretold);
    let minutes = advice.minutes_to_settle.filter(|_| foretold);
    let no_stem = (!has_stem).then(|| Refused::NoStem.says().to_owned());
    let reasons = advice.why.iter().filter_map(|why| says(why, has_stem));
    let why: Vec<String> = no_stem.into_iter().chain(reasons).collect();
    json!({
        "t_min": t_min,
        "wait": advice.wait.map(coach::Wait::key),
        "settled_superheat_f": value(advice.settled),
        "settled_superheat_band_f": band(advice.settled),
        "gain_f_per_turn": value(gain),
        "gain_band_f": band(gain),
        "next_turn": advice.next.filter(|_| has_stem).map(Quarters::turns),
        "expected_superheat_f": value(expected),
        "expected_band_f": band(expected),
        "minutes_to_settle": minutes.map(round),
        "stop": advice.stop.map(coach::Stop::key),
        "why": why,
    })
}

/// A reason in words; without a stem, only evidence, and nothing that sends a hand to one.
fn says(why: &Why, has_stem: bool) -> Option<String> {
    let words = || why.says(TemperatureUnit::Fahrenheit);
    match *why {
        _ if has_stem => Some(words()),
        Why::BelowMinimum { superheat, .. } | Why::TouchesZero { superheat, .. } => {
            let point = MeasuringPoint::default();
            let alarm = Alarm::LiquidPossible { point, superheat };
            Some(alarm.safe_direction(false).to_owned())
        }
        Why::NoReading
        | Why::OldReading { .. }
        | Why::TooSoon { .. }
        | Why::StillMoving { .. }
        | Why::NeedsReadings { .. }
        | Why::KeepReading { .. }
        | Why::WatchNeedle { .. }
        | Why::SlowToSettle { .. }
        | Why::Steady { .. }
        | Why::Swinging { .. }
        | Why::InBand { .. }
        | Why::HighHead { .. } => Some(words()),
        _ => None,
    }
}

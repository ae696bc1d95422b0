//! One JSON object as a setup and a reading, or what is wrong with it.

use air::{Altitude, standard_atmosphere};
use diagnosis::{
    BulbTest, Field, Gate, Instruments, MeasuringPoint, Metering, Pedigree, PressureLimit, Reading,
    Refusal, Setup, Target, ThermometerLimit,
};
use quantity::{AbsolutePressure, GaugeReference, PressureDifference, TemperatureDifference};
use refrigerant::Refrigerant;
use serde_json::{Map, Value, json};

/// What one line asks.
pub struct Case {
    /// The job.
    pub setup: Setup,
    /// The numbers read.
    pub reading: Reading,
    /// Keys that mean nothing here; told back so that a misspelling is seen.
    pub ignored: Vec<String>,
}

/// What is wrong with a line, as it is told; only the line's number is still blank.
#[derive(Debug)]
pub struct Fault(Value);

impl Fault {
    fn new(
        field: Option<&str>,
        value: &Value,
        range: Value,
        message: String,
        remedy: &str,
    ) -> Self {
        Self(json!({
            "line": null,
            "field": field,
            "value": value,
            "range": range,
            "message": message,
            "remedy": remedy,
        }))
    }

    /// The line is not a JSON object.
    pub fn not_json(why: &str) -> Self {
        Self::new(
            None,
            &Value::Null,
            Value::Null,
            format!("This line is not a JSON object: {why}."),
            "Write one object on each line; see --help.",
        )
    }

    /// A number that the core turned away.
    pub fn refused(refusal: &Refusal, setup: &Setup) -> Self {
        let row = refusal.field.row();
        let range = [round(refusal.low), round(refusal.high)];
        let why = if refusal.by_table {
            format!(
                "the saturation table of {} with this gauge and air",
                setup.refrigerant.name()
            )
        } else {
            "what such an instrument can show".to_owned()
        };
        Self::new(
            Some(row.key),
            &json!(refusal.value),
            json!(range),
            format!(
                "{} {} is outside {} to {}, {why}.",
                row.key, refusal.value, range[0], range[1]
            ),
            row.remedy,
        )
    }

    /// As JSON, with the line's number from 1.
    pub fn told(mut self, line: usize) -> Value {
        self.0["line"] = json!(line);
        self.0
    }
}

fn round(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}

/// Fields that must be there; the altitude only where the gauges need it.
const REQUIRED: [Field; 4] = [
    Field::SuctionPressure,
    Field::SuctionLine,
    Field::LiquidPressure,
    Field::LiquidLine,
];

const SETUP_KEYS: [&str; 16] = [
    "refrigerant",
    "altitude_ft",
    "nominal_tons",
    "barometer_psia",
    "gauge_reference",
    "measuring_point",
    "target_point",
    "line_loss_psi",
    "minimum_superheat_f",
    "metering",
    "superheat_target_f",
    "subcooling_target_f",
    "target_pedigree",
    "gate_held",
    "instruments",
    "bulb_answer",
];

/// Reads one object.
pub fn read(given: &Value) -> Result<Case, Fault> {
    let object = given
        .as_object()
        .ok_or_else(|| Fault::not_json("it holds something else"))?;
    let keys = Keys(object);
    let setup = setup(&keys)?;
    let mut reading = Reading::default();
    for &field in Field::ALL {
        reading.set(field, keys.number(field.row().key, field.row().hard)?);
    }
    for field in REQUIRED {
        if reading.get(field).is_none() {
            let row = field.row();
            return Err(missing(row.key, json!([row.hard.0, row.hard.1]), row.hint));
        }
    }
    reading.bulb_test = keys.choice(
        "bulb_answer",
        &[BulbTest::Rises, BulbTest::Nothing],
        |test| test.key(),
    )?;
    let known = |key: &str| SETUP_KEYS.contains(&key) || Field::from_key(key).is_some();
    let ignored = object.keys().filter(|key| !known(key)).cloned().collect();
    Ok(Case {
        setup,
        reading,
        ignored,
    })
}

fn setup(keys: &Keys) -> Result<Setup, Fault> {
    let metering = keys
        .choice("metering", &Metering::ALL, |kind| kind.key())?
        .unwrap_or(Metering::AdjustableTxv);
    let mut setup = Setup::new(refrigerant(keys)?, metering);
    setup.gauge = keys
        .choice("gauge_reference", &GaugeReference::ALL, |reference| {
            reference.key()
        })?
        .unwrap_or_default();
    setup.local_air = local_air(keys, setup.gauge)?;
    setup.nominal_tons = keys.number("nominal_tons", (0.25, 50.0))?;
    setup.point = keys
        .choice("measuring_point", &MeasuringPoint::ALL, |point| point.key())?
        .unwrap_or_default();
    setup.target_point = keys
        .choice("target_point", &MeasuringPoint::ALL, |point| point.key())?
        .unwrap_or(setup.point);
    if let Some(loss) = keys.number("line_loss_psi", (0.0, 20.0))? {
        setup.line_loss = PressureDifference::from_psi(loss);
    }
    if let Some(minimum) = keys.number("minimum_superheat_f", (0.0, 30.0))? {
        setup.minimum_superheat = TemperatureDifference::from_f(minimum);
    }
    let pedigree = keys
        .choice("target_pedigree", &Pedigree::ALL, |pedigree| pedigree.key())?
        .unwrap_or(Pedigree::DataPlate);
    setup.superheat_target = keys.target("superheat_target_f", pedigree)?;
    setup.subcooling_target = keys.target("subcooling_target_f", pedigree)?;
    setup.gate = if keys.truth("gate_held")?.unwrap_or(true) {
        Gate::HELD
    } else {
        Gate::OPEN
    };
    setup.instruments = instruments(keys)?;
    Ok(setup)
}

fn refrigerant(keys: &Keys) -> Result<Refrigerant, Fault> {
    let names = || json!(Refrigerant::ALL.map(Refrigerant::name));
    let Some(value) = keys.get("refrigerant") else {
        return Err(missing(
            "refrigerant",
            names(),
            "Read it from the data plate.",
        ));
    };
    value
        .as_str()
        .and_then(Refrigerant::from_name)
        .ok_or_else(|| {
            Fault::new(
                Some("refrigerant"),
                value,
                names(),
                format!("refrigerant {value} is not one of the listed ones."),
                "Read it from the data plate; a blend that is not listed cannot be judged.",
            )
        })
}

fn local_air(keys: &Keys, gauge: GaugeReference) -> Result<AbsolutePressure, Fault> {
    let barometer = keys.number("barometer_psia", (4.0, 16.5))?;
    let altitude = keys.number("altitude_ft", (-1500.0, 30000.0))?;
    if let Some(barometer) = barometer {
        return Ok(AbsolutePressure::from_psia(barometer));
    }
    match altitude.and_then(|feet| standard_atmosphere(Altitude::from_ft(feet)).ok()) {
        Some(air) => Ok(air),
        None if gauge == GaugeReference::Vented => Err(missing(
            "altitude_ft",
            json!([-1500.0, 30000.0]),
            "A vented gauge needs the local air: give altitude_ft or barometer_psia.",
        )),
        None => Ok(AbsolutePressure::STANDARD_ATMOSPHERE),
    }
}

fn instruments(keys: &Keys) -> Result<Instruments, Fault> {
    let mut tools = Instruments::default();
    let Some(value) = keys.get("instruments") else {
        return Ok(tools);
    };
    let Some(given) = value.as_object() else {
        return Err(Fault::new(
            Some("instruments"),
            value,
            json!({ "low_psi": [0, 50], "high_psi": [0, 100], "temperature_f": [0, 20] }),
            "instruments is an object of limits of error.".to_owned(),
            "For example {\"low_psi\": 1, \"high_psi\": 2, \"temperature_f\": 0.5}.",
        ));
    };
    let keys = Keys(given);
    if let Some(limit) = keys.number("low_psi", (0.0, 50.0))? {
        tools.low = PressureLimit::Fixed(PressureDifference::from_psi(limit));
    }
    if let Some(limit) = keys.number("high_psi", (0.0, 100.0))? {
        tools.high = PressureLimit::Fixed(PressureDifference::from_psi(limit));
    }
    if let Some(limit) = keys.number("temperature_f", (0.0, 20.0))? {
        tools.thermometer = ThermometerLimit {
            fixed: TemperatureDifference::from_f(limit),
            percent_of_reading: 0.0,
        };
    }
    Ok(tools)
}

fn missing(field: &str, range: Value, remedy: &str) -> Fault {
    Fault::new(
        Some(field),
        &Value::Null,
        range,
        format!("{field} is missing."),
        remedy,
    )
}

/// Typed look-ups in one object. `null` counts as not given.
struct Keys<'a>(&'a Map<String, Value>);

impl Keys<'_> {
    fn get(&self, key: &str) -> Option<&Value> {
        self.0.get(key).filter(|value| !value.is_null())
    }

    fn number(&self, key: &str, range: (f64, f64)) -> Result<Option<f64>, Fault> {
        let Some(value) = self.get(key) else {
            return Ok(None);
        };
        let fault = |message: String, remedy: &str| {
            Fault::new(Some(key), value, json!([range.0, range.1]), message, remedy)
        };
        let number = value.as_f64().ok_or_else(|| {
            fault(
                format!("{key} {value} is not a number."),
                "Write it without quotes or units.",
            )
        })?;
        if (range.0..=range.1).contains(&number) {
            return Ok(Some(number));
        }
        let remedy =
            Field::from_key(key).map_or("Check the number and its unit.", |f| f.row().remedy);
        Err(fault(
            format!("{key} {number} is outside {} to {}.", range.0, range.1),
            remedy,
        ))
    }

    fn choice<T: Copy>(
        &self,
        key: &str,
        all: &[T],
        name: impl Fn(T) -> &'static str,
    ) -> Result<Option<T>, Fault> {
        let Some(value) = self.get(key) else {
            return Ok(None);
        };
        let found = value
            .as_str()
            .and_then(|text| all.iter().find(|&&one| name(one) == text));
        let names: Vec<&str> = all.iter().map(|&one| name(one)).collect();
        found.copied().map(Some).ok_or_else(|| {
            let message = format!("{key} {value} is not one of {}.", names.join(", "));
            Fault::new(
                Some(key),
                value,
                json!(names),
                message,
                "Use one of the listed words.",
            )
        })
    }

    fn truth(&self, key: &str) -> Result<Option<bool>, Fault> {
        let Some(value) = self.get(key) else {
            return Ok(None);
        };
        value.as_bool().map(Some).ok_or_else(|| {
            let message = format!("{key} {value} is neither true nor false.");
            Fault::new(
                Some(key),
                value,
                json!([true, false]),
                message,
                "Write true or false.",
            )
        })
    }

    fn target(&self, key: &str, pedigree: Pedigree) -> Result<Option<Target>, Fault> {
        let Some(value) = self.get(key) else {
            return Ok(None);
        };
        let ends = value.as_array().and_then(|ends| match ends.as_slice() {
            [low, high] => Some((low.as_f64()?, high.as_f64()?)),
            _ => None,
        });
        match ends {
            Some((low, high)) if 0.0 <= low && low <= high && high <= 100.0 => {
                Ok(Some(Target::from_f(low, high, pedigree)))
            }
            _ => Err(Fault::new(
                Some(key),
                value,
                json!([0.0, 100.0]),
                format!("{key} {value} is not a band."),
                "Write [low, high] in Fahrenheit degrees, low not above high.",
            )),
        }
    }
}

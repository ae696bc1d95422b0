//! One JSON object as a setup and a reading, or what is wrong with it.

use crate::fault::Fault;
use crate::keys::Keys;
use air::{Altitude, standard_atmosphere};
use diagnosis::{
    BulbTest, Field, Gate, Instruments, MeasuringPoint, Metering, Pedigree, PressureLimit, Reading,
    Setup, ThermometerLimit,
};
use job::{PlateField, line_loss};
use quantity::{AbsolutePressure, GaugeReference, PressureDifference, TemperatureDifference};
use refrigerant::Refrigerant;
use serde_json::{Map, Value, json};

/// What one line asks.
pub struct Case {
    /// The job.
    pub setup: Setup,
    /// The numbers read.
    pub reading: Reading,
    /// Charge by the plate, oz.
    pub charge_oz: Option<f64>,
    /// Keys that mean nothing here; told back so that a misspelling is seen.
    pub ignored: Vec<String>,
}

/// Fields that must be there; the altitude only where the gauges need it.
const REQUIRED: [Field; 4] = [
    Field::SuctionPressure,
    Field::SuctionLine,
    Field::LiquidPressure,
    Field::LiquidLine,
];

/// Keys about the job.
const SETUP_KEYS: [&str; 17] = [
    "refrigerant",
    "altitude_ft",
    "nominal_tons",
    "plate_charge_oz",
    "barometer_psia",
    "gauge_reference",
    "gauge_at_service_valve",
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
];

/// The one answer among the readings that is no number.
const BULB_ANSWER: &str = "bulb_answer";

/// Whether a key is about the job and not about one reading.
pub fn is_setup_key(key: &str) -> bool {
    SETUP_KEYS.contains(&key)
}

/// Whether a key is something that was read.
pub fn is_reading_key(key: &str) -> bool {
    key == BULB_ANSWER || Field::from_key(key).is_some()
}

/// The keys of an object that mean nothing.
pub fn ignored(object: &Map<String, Value>, known: impl Fn(&str) -> bool) -> Vec<String> {
    object.keys().filter(|key| !known(key)).cloned().collect()
}

/// Reads one object.
pub fn read(given: &Value) -> Result<Case, Fault> {
    let keys = Keys::of(given)?;
    let setup = full_setup(keys)?;
    let mut reading = keys.reading()?;
    require(&reading, &REQUIRED)?;
    reading.bulb_test =
        keys.choice(BULB_ANSWER, &[BulbTest::Rises, BulbTest::Nothing], |test| {
            test.key()
        })?;
    let ignored = ignored(keys.0, |key| is_setup_key(key) || is_reading_key(key));
    let charge_oz = keys.plate(PlateField::PlateCharge)?;
    Ok(Case {
        setup,
        reading,
        charge_oz,
        ignored,
    })
}

/// That these were read.
pub fn require(reading: &Reading, fields: &[Field]) -> Result<(), Fault> {
    match fields.iter().find(|field| reading.get(**field).is_none()) {
        None => Ok(()),
        Some(field) => {
            let row = field.row();
            let range = json!([row.hard.0, row.hard.1]);
            Err(Fault::missing(row.key, range, row.hint))
        }
    }
}

/// The setup, with everything there that a pressure takes to become a temperature.
pub fn full_setup(keys: Keys) -> Result<Setup, Fault> {
    let Some(refrigerant) = refrigerant(keys)? else {
        let names = json!(Refrigerant::ALL.map(Refrigerant::name));
        let remedy = "Read it from the data plate.";
        return Err(Fault::missing("refrigerant", names, remedy));
    };
    let setup = setup(keys, refrigerant)?;
    if setup.gauge == GaugeReference::Vented && local_air(keys)?.is_none() {
        let (low, high) = PlateField::Altitude.row().range;
        return Err(Fault::missing(
            PlateField::Altitude.row().key,
            json!([low, high]),
            "A vented gauge needs the local air: give altitude_ft or barometer_psia.",
        ));
    }
    Ok(setup)
}

/// The setup; sea level where the object does not say.
pub fn setup(keys: Keys, refrigerant: Refrigerant) -> Result<Setup, Fault> {
    let metering = keys
        .choice("metering", &Metering::ALL, |kind| kind.key())?
        .unwrap_or(Metering::AdjustableTxv);
    let mut setup = Setup::new(refrigerant, metering);
    setup.gauge = keys
        .choice("gauge_reference", &GaugeReference::ALL, |reference| {
            reference.key()
        })?
        .unwrap_or_default();
    setup.local_air = local_air(keys)?.unwrap_or(AbsolutePressure::STANDARD_ATMOSPHERE);
    setup.nominal_tons = keys.plate(PlateField::Tons)?;
    setup.point = keys
        .choice("measuring_point", &MeasuringPoint::ALL, |point| point.key())?
        .unwrap_or_default();
    setup.target_point = keys
        .choice("target_point", &MeasuringPoint::ALL, |point| point.key())?
        .unwrap_or(setup.point);
    let loss = keys.plate(PlateField::LineLoss)?;
    // Who names a loss has the gauge at the other end of the line.
    let apart = keys
        .truth("gauge_at_service_valve")?
        .unwrap_or(loss.is_some());
    setup.line_loss = line_loss(setup.point, apart, loss);
    if let Some(minimum) = keys.plate(PlateField::MinimumSuperheat)? {
        setup.minimum_superheat = TemperatureDifference::from_f(minimum);
    }
    let pedigree = keys
        .choice("target_pedigree", &Pedigree::ALL, |pedigree| pedigree.key())?
        .unwrap_or(Pedigree::DataPlate);
    let ends = (PlateField::SuperheatLow, PlateField::SuperheatHigh);
    setup.superheat_target = keys.target("superheat_target_f", ends, pedigree)?;
    let ends = (PlateField::SubcoolingLow, PlateField::SubcoolingHigh);
    setup.subcooling_target = keys.target("subcooling_target_f", ends, pedigree)?;
    setup.gate = if keys.truth("gate_held")?.unwrap_or(true) {
        Gate::HELD
    } else {
        Gate::OPEN
    };
    setup.instruments = instruments(keys)?;
    Ok(setup)
}

/// The refrigerant, if one is named.
pub fn refrigerant(keys: Keys) -> Result<Option<Refrigerant>, Fault> {
    let Some(value) = keys.get("refrigerant") else {
        return Ok(None);
    };
    value
        .as_str()
        .and_then(Refrigerant::from_name)
        .map(Some)
        .ok_or_else(|| {
            Fault::new(
                Some("refrigerant"),
                value,
                json!(Refrigerant::ALL.map(Refrigerant::name)),
                format!("refrigerant {value} is not one of the listed ones."),
                "Read it from the data plate; a blend that is not listed cannot be judged.",
            )
        })
}

/// The local air, by the barometer or else by the altitude.
fn local_air(keys: Keys) -> Result<Option<AbsolutePressure>, Fault> {
    let barometer = keys.plate(PlateField::Barometer)?;
    let altitude = keys.plate(PlateField::Altitude)?;
    let by_altitude = || standard_atmosphere(Altitude::from_ft(altitude?)).ok();
    Ok(barometer
        .map(AbsolutePressure::from_psia)
        .or_else(by_altitude))
}

fn instruments(keys: Keys) -> Result<Instruments, Fault> {
    let limits = [
        ("low_psi", PlateField::LowLimit),
        ("high_psi", PlateField::HighLimit),
        ("temperature_f", PlateField::Thermometer),
    ];
    let mut tools = Instruments::default();
    let Some(value) = keys.get("instruments") else {
        return Ok(tools);
    };
    let Some(given) = value.as_object() else {
        let ranges: Map<String, Value> = limits
            .iter()
            .map(|(key, field)| {
                let (low, high) = field.row().range;
                ((*key).to_owned(), json!([low, high]))
            })
            .collect();
        return Err(Fault::new(
            Some("instruments"),
            value,
            json!(ranges),
            "instruments is an object of limits of error.".to_owned(),
            "For example {\"low_psi\": 1, \"high_psi\": 2, \"temperature_f\": 0.5}.",
        ));
    };
    let [low, high, thermometer] = limits.map(|(key, field)| {
        let row = field.row();
        Keys(given).number(key, row.range, row.hint)
    });
    let fixed = |psi| PressureLimit::Fixed(PressureDifference::from_psi(psi));
    tools.low = low?.map_or(tools.low, fixed);
    tools.high = high?.map_or(tools.high, fixed);
    if let Some(limit) = thermometer? {
        tools.thermometer = ThermometerLimit {
            fixed: TemperatureDifference::from_f(limit),
            percent_of_reading: 0.0,
        };
    }
    Ok(tools)
}

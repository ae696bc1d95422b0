//! A visit to walk through: a job, its clock, and every event that was taken.

use diagnosis::{Field, Metering, Pedigree};
use job::{
    CheckState, Event, Head, Item, Job, PlateField, PlateState, Refused, Request, SavedEvent, Stem,
    Typed, replay,
};
use quantity::{AbsolutePressure, PressureUnit, TemperatureUnit, Units};
use refrigerant::Refrigerant;

pub const MINUTE: i64 = 60_000;
/// A quiet morning in an invented year.
pub const START: i64 = 1_790_000_000_000;

/// Every pair of units that can stand beside a number.
pub const ALL_UNITS: [Units; 6] = [
    units(PressureUnit::Psi, TemperatureUnit::Fahrenheit),
    units(PressureUnit::Kilopascal, TemperatureUnit::Fahrenheit),
    units(PressureUnit::Bar, TemperatureUnit::Fahrenheit),
    units(PressureUnit::Psi, TemperatureUnit::Celsius),
    units(PressureUnit::Kilopascal, TemperatureUnit::Celsius),
    units(PressureUnit::Bar, TemperatureUnit::Celsius),
];

pub const fn units(pressure: PressureUnit, temperature: TemperatureUnit) -> Units {
    Units {
        temperature,
        pressure,
    }
}

pub fn typed(text: &str) -> Typed {
    Typed::new(text, Units::default())
}

/// A number about the job, typed in psi and °F.
pub fn noted(field: PlateField, text: &str) -> Event {
    Event::Noted {
        field,
        typed: typed(text),
    }
}

/// A number of the present reading, typed in psi and °F.
pub fn entered(field: Field, text: &str) -> Event {
    Event::Entered {
        field,
        typed: typed(text),
    }
}

pub fn turned(quarters: i32) -> Event {
    Event::Turned { quarters }
}

pub fn checked(item: Item, state: CheckState) -> Event {
    Event::Checked {
        item,
        state,
        note: String::new(),
    }
}

pub fn overrode(reason: &str) -> Event {
    Event::Overrode {
        reason: reason.to_owned(),
    }
}

pub fn as_found() -> Event {
    Event::RecordedAsFound {
        note: "Mark on stem and body".to_owned(),
    }
}

/// Ounces in, or out with a minus.
pub fn weighed(text: &str) -> Event {
    Event::Weighed { typed: typed(text) }
}

pub struct Visit {
    pub job: Job,
    pub now: i64,
    pub events: Vec<SavedEvent>,
}

impl Visit {
    /// Nothing is known yet.
    pub fn begun() -> Self {
        Self {
            job: Job::begin("visit", START, false),
            now: START,
            events: Vec::new(),
        }
    }

    /// R-410A, plate read, both bands of good pedigree, good tools, gauge and thermometer together.
    pub fn named(metering: Metering) -> Self {
        let mut visit = Self::begun();
        for event in [
            Event::ChoseRefrigerant {
                refrigerant: Refrigerant::R410A,
            },
            Event::ChoseMetering { metering },
            Event::PlacedGauge {
                at_service_valve: false,
            },
            Event::SawPlate {
                plate: PlateState::Read,
            },
            Event::ChoseSuperheatPedigree {
                pedigree: Pedigree::Maker,
            },
            Event::ChoseSubcoolingPedigree {
                pedigree: Pedigree::DataPlate,
            },
        ] {
            visit.does(&event);
        }
        for (field, text) in [
            (PlateField::SuperheatLow, "8"),
            (PlateField::SuperheatHigh, "12"),
            (PlateField::SubcoolingLow, "7"),
            (PlateField::SubcoolingHigh, "13"),
            (PlateField::LowLimit, "0.5"),
            (PlateField::HighLimit, "1"),
            (PlateField::Thermometer, "0.3"),
        ] {
            visit.does(&noted(field, text));
        }
        visit
    }

    /// The same with every check that applies done.
    pub fn looked(metering: Metering) -> Self {
        let mut visit = Self::named(metering);
        visit.holds_gate();
        visit
    }

    /// An adjustable valve, looked at, as found written down, superheat read three times and steady.
    pub fn ready_to_turn(superheat_f: f64) -> Self {
        let mut visit = Self::looked(Metering::AdjustableTxv);
        visit.does(&as_found());
        visit.reads_steady(superheat_f, 10.0);
        visit
    }

    pub fn holds_gate(&mut self) {
        for &item in Item::ALL {
            self.does(&checked(item, CheckState::Done));
        }
    }

    pub fn minutes(&mut self, minutes: i64) {
        self.now += minutes * MINUTE;
    }

    /// An event that must fit. Gives what it asks of the outside beside saving it.
    #[track_caller]
    pub fn does(&mut self, event: &Event) -> Vec<Request> {
        let before = self.job.clone();
        let (job, mut requests) = self
            .job
            .apply(event, self.now)
            .unwrap_or_else(|refused| panic!("{event:?} was refused: {refused:?}"));
        assert_eq!(self.job, before);
        assert_eq!(requests.remove(0), Request::Save { seq: before.events });
        assert_eq!(job.events, before.events + 1);
        assert_eq!(job.touched_ms, self.now);
        self.job = job;
        self.events.push(SavedEvent {
            at_ms: self.now,
            event: event.clone(),
        });
        requests
    }

    /// An event that must not fit. The job is as it was.
    #[track_caller]
    pub fn is_refused(&self, event: &Event) -> Refused {
        let before = self.job.clone();
        let refused = match self.job.apply(event, self.now) {
            Ok((_, requests)) => panic!("{event:?} was taken: {requests:?}"),
            Err(refused) => refused,
        };
        assert_eq!(self.job, before);
        assert!(!refused.says().is_empty());
        refused
    }

    /// Types and keeps the four main values that give this superheat and subcooling, in °F.
    ///
    /// The saturation that the pipes stand off from is taken from the refrigerant's own table: here
    /// it only arranges a case and is no check of that table.
    pub fn reads(&mut self, superheat_f: f64, subcooling_f: f64) {
        self.types(superheat_f, subcooling_f);
        assert_eq!(self.does(&Event::KeptReading), []);
    }

    /// The same, typed and not kept.
    pub fn types(&mut self, superheat_f: f64, subcooling_f: f64) {
        let absolute = |psig: f64| AbsolutePressure::from_psia(psig + 14.6959);
        let refrigerant = Refrigerant::R410A;
        let dew = refrigerant.dew().temperature(absolute(130.0)).unwrap().f();
        let bubble = refrigerant
            .bubble()
            .temperature(absolute(330.0))
            .unwrap()
            .f();
        for (field, text) in [
            (Field::SuctionPressure, "130".to_owned()),
            (Field::SuctionLine, format!("{:.2}", dew + superheat_f)),
            (Field::LiquidPressure, "330".to_owned()),
            (Field::LiquidLine, format!("{:.2}", bubble - subcooling_f)),
        ] {
            self.does(&entered(field, &text));
        }
    }

    /// Three equal readings, four minutes apart: enough for the coach to call it settled.
    pub fn reads_steady(&mut self, superheat_f: f64, subcooling_f: f64) {
        for _ in 0..3 {
            self.minutes(4);
            self.reads(superheat_f, subcooling_f);
        }
    }

    /// Waits its time out, reading every four minutes.
    pub fn waits_it_out(&mut self, superheat_f: f64) {
        for _ in 0..4 {
            self.minutes(4);
            self.reads(superheat_f, 10.0);
        }
    }

    pub fn stem(&self) -> Stem {
        self.job.stem(self.now).state
    }

    /// The events as they would be stored, one text each.
    pub fn stored(&self) -> Vec<String> {
        self.events
            .iter()
            .map(|event| serde_json::to_string(event).unwrap())
            .collect()
    }

    /// The job that its stored entries make.
    pub fn reopened(&self) -> Job {
        let head = Head {
            created_ms: START,
            ..self.job.head()
        };
        replay(&head, self.stored().iter().map(String::as_str)).unwrap()
    }
}

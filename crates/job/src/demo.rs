//! The demo job: invented, marked so, to open and walk through.

use crate::choice::PlateState;
use crate::event::{Disturbance, Event};
use crate::look_first::{CheckState, Item};
use crate::name::Name;
use crate::plate::PlateField;
use crate::saved::SavedEvent;
use crate::screen::Screen;
use crate::typed::Typed;
use diagnosis::{Field, Metering, Pedigree};
use quantity::Units;
use refrigerant::Refrigerant;

const MINUTE: i64 = 60_000;

/// The events of the demo job, ending now: the quay chandlery of Saltgrass Landing, where somebody
/// turned the stem before. All of it is invented.
pub fn demo(now_ms: i64) -> Vec<SavedEvent> {
    let mut script = Script {
        at_ms: now_ms - 64 * MINUTE,
        events: Vec::new(),
    };
    script.about();
    script.look();
    script.work();
    script.events
}

struct Script {
    at_ms: i64,
    events: Vec<SavedEvent>,
}

impl Script {
    fn happens(&mut self, event: Event) {
        self.events.push(SavedEvent {
            at_ms: self.at_ms,
            event,
        });
    }
    fn minutes(&mut self, minutes: i64) {
        self.at_ms += minutes * MINUTE;
    }
    fn write(&mut self, name: Name, text: &str) {
        self.happens(Event::Wrote {
            name,
            text: text.to_owned(),
        });
    }
    fn note(&mut self, field: PlateField, text: &str) {
        self.happens(Event::Noted {
            field,
            typed: Typed::new(text, Units::default()),
        });
    }

    fn about(&mut self) {
        self.write(Name::Place, "Quay chandlery, Saltgrass Landing");
        self.write(Name::Unit, "Roof unit, 4 ton");
        self.write(Name::Technician, "A. Tern");
        self.write(
            Name::Complaint,
            "Not cooling since spring; somebody turned the stem before",
        );
        self.happens(Event::ChoseRefrigerant {
            refrigerant: Refrigerant::R22,
        });
        self.happens(Event::ChoseMetering {
            metering: Metering::AdjustableTxv,
        });
        self.happens(Event::SawPlate {
            plate: PlateState::Read,
        });
        self.happens(Event::ChoseSuperheatPedigree {
            pedigree: Pedigree::Maker,
        });
        for (field, text) in [
            (PlateField::Tons, "4"),
            (PlateField::Altitude, "20"),
            (PlateField::SuperheatLow, "8"),
            (PlateField::SuperheatHigh, "12"),
            (PlateField::SubcoolingLow, "7"),
            (PlateField::SubcoolingHigh, "13"),
            (PlateField::HeadLimit, "380"),
            (PlateField::PlateCharge, "128"),
            (PlateField::LowLimit, "1"),
            (PlateField::HighLimit, "2"),
            (PlateField::Thermometer, "0.5"),
        ] {
            self.note(field, text);
        }
    }

    fn look(&mut self) {
        self.minutes(4);
        self.happens(Event::Went {
            screen: Screen::LookFirst,
        });
        for &item in Item::ALL {
            let note = match item {
                Item::BulbContact => "Was loose: strapped again on clean pipe",
                Item::Filter => "Changed",
                _ => "",
            };
            self.happens(Event::Checked {
                item,
                state: CheckState::Done,
                note: note.to_owned(),
            });
        }
        self.happens(Event::Changed {
            what: Disturbance::Bulb,
            note: "Strapped and wrapped".to_owned(),
        });
    }

    fn work(&mut self) {
        self.happens(Event::Went {
            screen: Screen::Reading,
        });
        self.minutes(16);
        self.read("58.2", "62.0");
        self.minutes(4);
        self.read("58.0", "61.8");
        self.minutes(4);
        self.read("58.1", "61.9");
        self.happens(Event::Went {
            screen: Screen::Stem,
        });
        self.happens(Event::RecordedAsFound {
            note: "Paint mark on stem and body".to_owned(),
        });
        self.minutes(1);
        self.happens(Event::Turned { quarters: -4 });
        self.minutes(7);
        self.read("61.0", "61.2");
        self.minutes(5);
        self.read("61.6", "61.1");
        self.minutes(4);
        self.read("61.7", "61.2");
        self.minutes(1);
        self.happens(Event::Turned { quarters: -4 });
        self.minutes(6);
        self.read("64.4", "58.9");
        self.minutes(5);
        self.read("65.0", "58.5");
        self.minutes(4);
        self.read("65.1", "58.4");
        self.happens(Event::Went {
            screen: Screen::Stem,
        });
    }

    fn read(&mut self, suction_psig: &str, suction_line_f: &str) {
        for (field, text) in [
            (Field::SuctionPressure, suction_psig),
            (Field::SuctionLine, suction_line_f),
            (Field::LiquidPressure, "226"),
            (Field::LiquidLine, "98.4"),
            (Field::CondenserAir, "88"),
            (Field::OpenAir, "87.2"),
            (Field::ReturnDryBulb, "77"),
            (Field::ReturnWetBulb, "64.5"),
            (Field::SupplyDryBulb, "60"),
            (Field::LiquidLineEnd, "97.8"),
        ] {
            self.happens(Event::Entered {
                field,
                typed: Typed::new(text, Units::default()),
            });
        }
        self.happens(Event::KeptReading);
    }
}

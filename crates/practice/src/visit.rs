//! A session as the visit that a job writes down: what begins it, what an action is in it, what the
//! tools show as entries.

use crate::act::{Action, Place};
use crate::case::Nameplate;
use crate::session::Session;
use diagnosis::{MeasuringPoint, Pedigree};
use job::{CheckState, Disturbance, Event, Item, Name, PlateField, PlateState, Typed};
use quantity::Units;

/// What stands in the job as its unit, so that nobody takes it for a real one.
const UNIT: &str = "Practice, simulated";
/// Who practises. Invented.
const APPRENTICE: &str = "B. Plover";
/// The checks that the bench has no eyes for. Nothing in it is ever wrong there.
const GIVEN: [Item; 8] = [
    Item::Safe,
    Item::Mode,
    Item::RunTime,
    Item::Panels,
    Item::OutdoorWarm,
    Item::Ice,
    Item::BulbPlace,
    Item::Equalizer,
];

/// A number in the unit of its key, as if typed.
fn typed(value: f64) -> Typed {
    Typed::new(&value.to_string(), Units::default())
}

/// The events that begin the job: what the plate says, what is given, what the tools are.
pub(crate) fn begins(plate: &Nameplate) -> Vec<Event> {
    let write = |name, text: &str| Event::Wrote {
        name,
        text: text.to_owned(),
    };
    let mut events = vec![
        write(Name::Place, &plate.place),
        write(Name::Unit, UNIT),
        write(Name::Technician, APPRENTICE),
        write(Name::Complaint, &plate.complaint),
        Event::SawPlate {
            plate: PlateState::Read,
        },
        Event::ChoseSuperheatPedigree {
            pedigree: Pedigree::Maker,
        },
        Event::ChoseRefrigerant {
            refrigerant: plate.refrigerant,
        },
        Event::ChoseMetering {
            metering: plate.metering,
        },
    ];
    let numbers = [
        (PlateField::Tons, Some(plate.nominal_tons)),
        (PlateField::SuperheatLow, Some(plate.superheat_low_f)),
        (PlateField::SuperheatHigh, Some(plate.superheat_high_f)),
        (PlateField::SubcoolingLow, plate.subcooling_low_f),
        (PlateField::SubcoolingHigh, plate.subcooling_high_f),
        (
            PlateField::MinimumSuperheat,
            Some(plate.minimum_superheat_f),
        ),
        (PlateField::PlateCharge, Some(plate.plate_charge_oz)),
        (PlateField::LowLimit, Some(plate.kit.low_psi)),
        (PlateField::HighLimit, Some(plate.kit.high_psi)),
        (PlateField::Thermometer, Some(plate.kit.thermometer_f)),
        (PlateField::Altitude, Some(0.0)),
    ];
    events.extend(numbers.into_iter().filter_map(|(field, value)| {
        let typed = typed(value?);
        Some(Event::Noted { field, typed })
    }));
    let given = GIVEN.into_iter().filter(|it| it.applies(plate.metering));
    events.extend(given.map(|item| Event::Checked {
        item,
        state: CheckState::Done,
        note: "Given on the bench".to_owned(),
    }));
    events
}

/// What an action is in the job, beside what the plant feels: where the tools hang, what is in the
/// ledgers, what makes the system settle afresh.
pub(crate) fn told(action: &Action) -> Vec<Event> {
    use Disturbance::{Airflow, Bulb, Condenser, Part};
    let changed = |what, note: &str| {
        vec![Event::Changed {
            what,
            note: note.to_owned(),
        }]
    };
    match action {
        Action::ConnectGauges { place } => vec![Event::PlacedGauge {
            at_service_valve: *place == Place::ServiceValve,
        }],
        Action::StrapProbes { place, .. } => {
            let point = match place {
                Place::Bulb => MeasuringPoint::Bulb,
                Place::ServiceValve => MeasuringPoint::ServiceValve,
            };
            // The plate's superheat is for the bulb wherever it is measured.
            let target = MeasuringPoint::Bulb;
            vec![
                Event::ChosePoint { point },
                Event::ChoseTargetPoint { point: target },
            ]
        }
        Action::TurnStem { quarters } => vec![Event::Turned {
            quarters: *quarters,
        }],
        Action::AddCharge { ounces } => vec![Event::Weighed {
            typed: typed(*ounces),
        }],
        Action::TakeCharge { ounces } => vec![Event::Weighed {
            typed: typed(-ounces),
        }],
        Action::ChangeFilter => changed(Airflow, "Filter changed"),
        Action::CleanIndoorCoil => changed(Airflow, "Indoor coil cleaned"),
        Action::WashCondenser => changed(Condenser, "Condenser washed"),
        Action::ClearRecess => changed(Condenser, "The air's way cleared"),
        Action::StrapBulb => changed(Bulb, "Strapped and wrapped"),
        Action::Recharge => changed(Part, "All recovered, evacuated, weighed in"),
        Action::ChangeDrier => changed(Part, "Drier changed"),
        Action::ReplaceValve => changed(Part, "Metering device replaced"),
        Action::ClearSuctionLine => changed(Part, "Suction line cleared"),
        Action::ReplaceCompressor => changed(Part, "Compressor replaced"),
        _ => Vec::new(),
    }
}

/// What the tools show, as entries of the present reading.
pub(crate) fn entries(session: &Session) -> Vec<Event> {
    let reading = session.reading();
    let mut events: Vec<Event> = reading
        .entries()
        .map(|(field, value)| Event::Entered {
            field,
            typed: typed(value),
        })
        .collect();
    events.push(Event::WarmedBulb {
        answer: reading.bulb_test,
    });
    events
}

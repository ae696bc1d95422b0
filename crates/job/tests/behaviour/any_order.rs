//! Whatever happens, in whatever order, and whatever the clock says: nothing fails, nothing that
//! was kept is lost, and the stored entries make the same job again.

use crate::visit::{ALL_UNITS, START, Visit};
use coach::End;
use diagnosis::{BulbTest, Field, MeasuringPoint, Metering, Pedigree};
use job::{
    CheckState, Disturbance, Event, GaugeFace, Head, Item, Job, Name, PlateField, PlateState,
    Request, SavedEvent, Screen, Typed, What, csv, record, replay,
};
use proptest::prelude::*;
use quantity::GaugeReference;
use refrigerant::Refrigerant;

fn one<T: Copy + std::fmt::Debug + 'static>(of: &'static [T]) -> impl Strategy<Value = T> {
    proptest::sample::select(of)
}

fn a_typed() -> impl Strategy<Value = Typed> {
    let text = prop_oneof![
        6 => (-20_i32..600).prop_map(|n| n.to_string()),
        3 => (-200_i32..4000).prop_map(|n| format!("{},{}", n / 10, n.abs() % 10)),
        1 => Just(String::new()),
        1 => "[-−0-9.,a ]{0,6}",
        1 => any::<String>(),
    ];
    (text, one(&ALL_UNITS)).prop_map(|(text, units)| Typed::new(&text, units))
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        "[a-zA-Z ,=\"\n]{1,12}",
        any::<String>()
    ]
}

/// Refrigerant, device and tools.
fn about() -> impl Strategy<Value = Event> {
    prop_oneof![
        (one(Name::ALL), words()).prop_map(|(name, text)| Event::Wrote { name, text }),
        one(&Refrigerant::ALL).prop_map(|refrigerant| Event::ChoseRefrigerant { refrigerant }),
        one(&Metering::ALL).prop_map(|metering| Event::ChoseMetering { metering }),
        one(&MeasuringPoint::ALL).prop_map(|point| Event::ChosePoint { point }),
        one(&MeasuringPoint::ALL).prop_map(|point| Event::ChoseTargetPoint { point }),
        any::<bool>().prop_map(|at_service_valve| Event::PlacedGauge { at_service_valve }),
        one(&GaugeReference::ALL).prop_map(|gauge| Event::ChoseGauge { gauge }),
        one(&GaugeFace::ALL).prop_map(|face| Event::ChoseFace { face }),
        one(&PlateState::ALL).prop_map(|plate| Event::SawPlate { plate }),
        one(&Pedigree::ALL).prop_map(|pedigree| Event::ChoseSuperheatPedigree { pedigree }),
        one(&Pedigree::ALL).prop_map(|pedigree| Event::ChoseSubcoolingPedigree { pedigree }),
        one(&Screen::ALL).prop_map(|screen| Event::Went { screen }),
        Just(Event::Finished),
        Just(Event::Reopened),
    ]
}

fn work() -> impl Strategy<Value = Event> {
    prop_oneof![
        2 => (one(PlateField::ALL), a_typed()).prop_map(|(field, typed)| Event::Noted { field, typed }),
        1 => (one(Item::ALL), one(&CheckState::ALL), words())
            .prop_map(|(item, state, note)| Event::Checked { item, state, note }),
        1 => words().prop_map(|reason| Event::Overrode { reason }),
        8 => (one(Field::ALL), a_typed()).prop_map(|(field, typed)| Event::Entered { field, typed }),
        1 => one(&[None, Some(BulbTest::Rises), Some(BulbTest::Nothing)])
            .prop_map(|answer| Event::WarmedBulb { answer }),
        1 => Just(Event::ClearedReading),
        6 => Just(Event::KeptReading),
        1 => words().prop_map(|note| Event::RecordedAsFound { note }),
        5 => (-8_i32..=8).prop_map(|quarters| Event::Turned { quarters }),
        1 => any::<i32>().prop_map(|quarters| Event::Turned { quarters }),
        1 => one(&[End::Opening, End::Closing]).prop_map(|end| Event::MetEnd { end }),
        2 => a_typed().prop_map(|typed| Event::Weighed { typed }),
        1 => (one(&Disturbance::ALL), words())
            .prop_map(|(what, note)| Event::Changed { what, note }),
        3 => Just(Event::TookBack),
    ]
}

/// Milliseconds to the next event: forward, at once, back when the phone's clock is set, or absurd.
fn pause() -> impl Strategy<Value = i64> {
    prop_oneof![
        12 => 0_i64..20 * 60_000,
        2 => Just(0),
        1 => -3_600_000_i64..0,
    ]
}

/// What was done, counted by a second hand: turns, ounces and readings in order, without what was
/// taken back.
#[derive(Default)]
struct Tally(Vec<What>);

impl Tally {
    fn turns(&self) -> i32 {
        let by = self.0.iter().filter_map(|what| match what {
            What::Turn { by, .. } => Some(by.get()),
            _ => None,
        });
        by.sum()
    }
    fn ounces(&self) -> f64 {
        let ounces = self.0.iter().filter_map(|what| match what {
            What::Charge { ounces } => Some(*ounces),
            _ => None,
        });
        ounces.sum()
    }
}

fn same_after_replay(job: &Job, stored: &[String]) {
    let head = Head {
        created_ms: job.created_ms,
        ..job.head()
    };
    let again = replay(&head, stored.iter().map(String::as_str)).unwrap();
    assert_eq!(&again, job);
}

/// Walks through the events from a visit on, checking after each what must always hold.
fn walk(visit: Visit, events: &[(Event, i64)]) {
    let Visit {
        mut job,
        mut now,
        events: before,
    } = visit;
    let mut stored: Vec<String> = before
        .iter()
        .map(|saved| serde_json::to_string(saved).unwrap())
        .collect();
    let mut tally = Tally(job.log.iter().map(|line| line.what.clone()).collect());
    let mut kept: Vec<_> = job.readings().map(|(_, draft)| draft.clone()).collect();
    for (event, pause) in events {
        now = now.saturating_add(*pause);
        let untouched = job.clone();
        let taken = job.apply(event, now);
        assert_eq!(job, untouched);
        let Ok((after, requests)) = taken else {
            continue;
        };
        assert_eq!(requests[0], Request::Save { seq: job.events });
        assert_eq!(after.events, job.events + 1);
        match event {
            Event::KeptReading => kept.push(job.draft.clone()),
            Event::TookBack => drop(tally.0.pop()),
            _ => {}
        }
        if after.log.len() > job.log.len() {
            assert_eq!(after.log.len(), job.log.len() + 1);
            tally
                .0
                .extend(after.log.last().map(|line| line.what.clone()));
        }
        assert_eq!(after.position().get(), tally.turns());
        assert_eq!(after.charge_ounces(), tally.ounces());
        assert_eq!(after.stem(now).position, after.position());
        stored.push(
            serde_json::to_string(&SavedEvent {
                at_ms: now,
                event: event.clone(),
            })
            .unwrap(),
        );
        job = after;
    }
    // No reading is ever lost, not even one taken back.
    let logged: Vec<_> = job
        .log
        .iter()
        .filter_map(|line| match &line.what {
            What::Reading(draft) => Some(draft.clone()),
            _ => None,
        })
        .collect();
    assert_eq!(logged, kept);
    // Everything that is worked out can be worked out.
    let proof = job.proof(now);
    assert!(!(proof.holds() && proof.charge_changed_since));
    job.trend();
    for units in ALL_UNITS {
        record(&job, units, now, &|at| at.to_string());
    }
    let rows = csv(&job, &|at| at.to_string());
    let mut rows = ::csv::Reader::from_reader(rows.as_bytes());
    assert_eq!(
        rows.records().map(Result::unwrap).count(),
        job.readings().count()
    );
    same_after_replay(&job, &stored);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]

    #[test]
    fn from_nothing(events in prop::collection::vec((prop_oneof![about(), work()], pause()), 0..50)) {
        walk(Visit::begun(), &events);
    }

    #[test]
    fn from_an_open_stem(events in prop::collection::vec((work(), pause()), 0..50)) {
        walk(Visit::ready_to_turn(18.0), &events);
    }

    #[test]
    fn under_a_broken_clock(
        events in prop::collection::vec((prop_oneof![about(), work()], any::<i64>()), 0..20),
    ) {
        walk(Visit::ready_to_turn(18.0), &events);
    }
}

#[test]
fn clock_at_either_end_of_time_breaks_nothing() {
    for at in [i64::MIN, i64::MAX, START] {
        let mut visit = Visit::ready_to_turn(18.0);
        visit.now = at;
        visit.does(&Event::Turned { quarters: -2 });
        visit.reads(15.0, 10.0);
        visit.now = at.saturating_neg();
        visit.does(&Event::Turned { quarters: -2 });
        visit.job.stem(visit.now);
        record(&visit.job, ALL_UNITS[0], visit.now, &|at| at.to_string());
        same_after_replay(&visit.job, &visit.stored());
    }
}

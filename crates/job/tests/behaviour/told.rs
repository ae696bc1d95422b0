//! What the job hands to the model of the plant: for the finding, and to liken a system to a reading.

use crate::visit::{Visit, entered, noted, turned};
use diagnosis::{Field, Metering};
use job::PlateField;
use likeness::{Lacking, Told};

fn told(visit: &Visit) -> Result<Told, Lacking> {
    visit.job.told(visit.now).expect("named and read")
}

/// The outdoor air is the one reading a system cannot be likened without that the four do not give.
#[test]
fn what_is_lacking_is_named() {
    let mut visit = Visit::begun();
    assert!(visit.job.told(visit.now).is_none());
    visit = Visit::looked(Metering::AdjustableTxv);
    assert!(visit.job.told(visit.now).is_none());
    visit.types(20.0, 10.0);
    let Err(Lacking(fields)) = told(&visit) else {
        panic!("nothing lacks");
    };
    assert_eq!(fields, [Field::CondenserAir, Field::OpenAir]);
    visit.does(&entered(Field::OpenAir, "90"));
    assert!(told(&visit).is_ok());
}

/// The stem was turned after the last reading: that reading still belongs to the old place.
#[test]
fn a_reading_belongs_to_the_stem_as_it_stood() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.does(&crate::visit::as_found());
    visit.does(&noted(PlateField::PlateCharge, "160"));
    let open_air = entered(Field::OpenAir, "90");
    for _ in 0..4 {
        visit.minutes(4);
        visit.types(24.0, 10.0);
        visit.does(&open_air);
        visit.does(&job::Event::KeptReading);
    }
    let first = told(&visit).unwrap();
    assert_eq!(
        (first.stem_turns, first.plate_charge_oz),
        (0.0, Some(160.0))
    );
    visit.does(&turned(-4));
    assert_eq!(told(&visit).unwrap().stem_turns, 0.0);
    for _ in 0..5 {
        visit.minutes(4);
        visit.types(20.0, 10.0);
        visit.does(&open_air);
        visit.does(&job::Event::KeptReading);
    }
    let second = told(&visit).unwrap();
    assert_eq!(second.stem_turns, -1.0);
    // The log's other place helps to liken it; its own stands in the reading.
    let [found] = second.answered.as_slice() else {
        panic!("{:?}", second.answered);
    };
    assert_eq!(found.stem_turns, 0.0);
    assert!((found.superheat_f - 24.0).abs() < 0.5, "{found:?}");
}

/// The word on the charge that is shown is that of table and model; plate ounces reach it.
#[test]
fn the_finding_is_that_of_table_and_model() {
    let mut visit = Visit::looked(Metering::AdjustableTxv);
    visit.does(&noted(PlateField::PlateCharge, "160"));
    visit.types(28.0, 2.0);
    visit.does(&entered(Field::OpenAir, "80"));
    visit.does(&entered(Field::CondenserAir, "80"));
    let draft = visit.job.present_reading().unwrap();
    let said = visit.job.judge(draft).unwrap();
    let setup = visit.job.setup().unwrap();
    assert_eq!(
        said,
        belief::judge(&setup, &draft.reading(), Some(160.0)),
        "another charge than the plate's"
    );
    assert_ne!(said, belief::judge(&setup, &draft.reading(), None));
    assert_eq!(said.causes[0].0, diagnosis::Cause::LowCharge);
}

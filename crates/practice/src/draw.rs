//! Drawing a case from its number until it runs and shows its trouble.

use crate::case::{CaseError, Filter, Nameplate};
use crate::dice::Dice;
use crate::lesson::LessonCase;
use crate::makings::{Kind, Makings, lines_for, makings, others};
use crate::standing;
use crate::tools::Kit;
use crate::trouble::{Load, Trouble, Way, Wrong};
use cycle::{
    Equalizer, Faults, Metering as Device, Plate, Point, Run, System, Tail, Traits, Weather,
};
use diagnosis::{Cause, Metering};
use quantity::{Temperature, TemperatureDifference};
use refrigerant::Refrigerant;

/// Draws before giving up.
const DRAWS: u64 = 400;
/// How far from sound a trouble must show: see [`crate::Case::draw`]. Chosen to be well beyond the
/// error of usual tools.
const SHOWS_F: f64 = 4.0;
const SHOWS_HEAD_F: f64 = 5.0;
const SHOWS_CAPACITY: f64 = 0.93;
const SHOWS_STANDING_PSI: f64 = 12.0;
/// As found the coil is not deep in ice and the head not at its end, °F.
const COLDEST_COIL_F: f64 = 8.0;
const HOTTEST_HEAD_F: f64 = 143.0;
/// Half of the bands on the plate, °F. Subcooling and chart: California RA3.2.2.6; superheat: from
/// 8 to 12 °F is one maker's band, a little wider here (common practice).
const SUPERHEAT_BAND_F: f64 = 2.5;
const SUBCOOLING_BAND_F: f64 = 3.0;
const CHART_BAND_F: f64 = 5.0;
/// Superheats for which a maker's chart has a number, °F: under 5 it has a dash.
const CHART_F: (f64, f64) = (8.0, 24.0);
const OUNCE_KG: f64 = 0.453_592_37 / 16.0;

/// Everything of a case but its number and name.
pub(crate) struct Drawn {
    pub(crate) nameplate: Nameplate,
    pub(crate) troubles: Vec<Trouble>,
    pub(crate) answers: Vec<Vec<Cause>>,
    pub(crate) wrong: Wrong,
    pub(crate) weather: Weather,
    pub(crate) start: Run,
    pub(crate) sound: Point,
    pub(crate) named: System,
    pub(crate) design_power_w: f64,
}

/// The case of a number; the same trouble is kept over the draws, so that no trouble is rarer for
/// being hard to draw.
pub(crate) fn draw(seed: u64, filter: &Filter) -> Option<Drawn> {
    let first = &mut Dice::of(&[seed, 1]);
    let metering = match filter.metering {
        Some(asked) => asked,
        // The stem is what this is for.
        None if first.chance(0.55) => Metering::AdjustableTxv,
        None => first.pick(&Metering::ALL)?,
    };
    let kind = Kind::draw(first, metering, filter)?;
    (0..DRAWS).find_map(|round| {
        let dice = &mut Dice::of(&[seed, 2, round]);
        make(&makings(dice, filter, metering, &kind)?).ok()
    })
}

/// The case that a lesson writes down.
pub(crate) fn of_lesson(told: &LessonCase) -> Result<Drawn, CaseError> {
    let air = [
        told.outdoor_f,
        told.return_dry_bulb_f,
        told.return_wet_bulb_f,
    ];
    let inside = if told.troubles.iter().any(|it| it.way == Way::OtherFill) {
        others(told.refrigerant)[0]
    } else {
        told.refrigerant
    };
    let usual = match Load::of(&told.troubles) {
        Load::Usual => air,
        // What the plant would show in a usual room on the same day.
        Load::Low | Load::High => [told.outdoor_f, 76.0, 64.0],
    };
    make(&Makings {
        refrigerant: told.refrigerant,
        inside,
        tons: told.nominal_tons,
        metering: told.metering,
        superheat_f: told.design_superheat_f,
        subcooling_f: told.design_subcooling_f,
        lines: lines_for(told.nominal_tons),
        traits: Traits::default(),
        usual,
        loaded: air,
        kit: Kit::of(told.difficulty.grade()),
        place: (told.place.clone(), told.complaint.clone()),
        troubles: told.troubles.clone(),
        as_right: told.as_right.first().copied(),
    })
}

fn make(makings: &Makings) -> Result<Drawn, CaseError> {
    let bad = |field, says: String| CaseError::Unworkable { field, says };
    let mut wrong = Wrong::NOTHING;
    for trouble in &makings.troubles {
        trouble.way.apply(&mut wrong, trouble.size);
    }
    let wrong = wrong.settled();
    let named = build(makings, makings.refrigerant)?;
    let system = build(makings, makings.inside)?;
    let weather = |[outdoor, dry, wet]: [f64; 3]| {
        Weather::at_sea_level_f(outdoor, dry, wet)
            .map_err(|error| bad("return_wet_bulb_f", error.to_string()))
    };
    let (usual, loaded) = (weather(makings.usual)?, weather(makings.loaded)?);
    let steady = |system: &System, weather: &Weather, faults: &Faults, quarters: i32| {
        system
            .steady(weather, faults, f64::from(quarters) / 4.0)
            .map_err(|error| bad("troubles", error.to_string()))
    };
    let rating = weather([95.0, 80.0, 67.0])?;
    let design = steady(&system, &rating, &Faults::NONE, 0)?;
    // A sound plant of this plate: what the maker's chart is made from.
    let sound = steady(&named, &usual, &Faults::NONE, 0)?;
    let charted = sound.superheat().f();
    let orifice = makings.metering == Metering::FixedOrifice;
    let held = if orifice {
        (CHART_F.0..=CHART_F.1).contains(&charted)
    } else {
        (charted - makings.superheat_f).abs() < SUPERHEAT_BAND_F - 0.7
            && (sound.subcooling().f() - makings.subcooling_f).abs() < SUBCOOLING_BAND_F - 0.5
    };
    if !held {
        return Err(bad(
            "outdoor_f",
            format!(
                "a sound plant would show {charted:.1} °F of superheat and {:.1} °F of subcooling in this weather, out of its own bands",
                sound.subcooling().f()
            ),
        ));
    }
    for &Trouble { way, size } in &makings.troubles {
        let mut alone = Wrong::NOTHING;
        way.apply(&mut alone, size);
        let alone = alone.settled();
        let weather = if alone.load == Load::Usual {
            &usual
        } else {
            &loaded
        };
        let found = steady(&system, weather, &alone.faults, alone.stem_quarters)?;
        let shows = way == Way::Sound
            || differs(&found, &sound)
            || (alone.other_refrigerant
                && off_chart(makings, &system, &alone.faults, &usual) > SHOWS_STANDING_PSI);
        let gas = way != Way::AirInside
            || off_chart(makings, &system, &alone.faults, &usual) > SHOWS_STANDING_PSI;
        if !(shows && gas) {
            return Err(bad(
                "troubles",
                format!("{} {size} does not show in any reading", way.key()),
            ));
        }
    }
    let found = steady(&system, &loaded, &wrong.faults, wrong.stem_quarters)?;
    if found.evaporating.f() < COLDEST_COIL_F || found.liquid_saturation.f() > HOTTEST_HEAD_F {
        return Err(bad(
            "troubles",
            format!(
                "evaporating at {:.0} °F and condensing at {:.0} °F is no plant that was left running",
                found.evaporating.f(),
                found.liquid_saturation.f()
            ),
        ));
    }
    let turns = f64::from(wrong.stem_quarters) / 4.0;
    let charge_oz = named.charge_kg() / OUNCE_KG;
    let start = Run::at_rest(system, loaded.clone(), wrong.faults, turns, Tail::default())
        .map_err(|error| bad("troubles", error.to_string()))?;
    let (superheat, half) = if orifice {
        (charted, CHART_BAND_F)
    } else {
        (makings.superheat_f, SUPERHEAT_BAND_F)
    };
    let subcooling = |by: f64| (!orifice).then_some(makings.subcooling_f + by);
    let half_degrees = |value: f64| libm::round(2.0 * value) / 2.0;
    Ok(Drawn {
        nameplate: Nameplate {
            place: makings.place.0.clone(),
            complaint: makings.place.1.clone(),
            refrigerant: makings.refrigerant,
            nominal_tons: makings.tons,
            metering: makings.metering,
            superheat_low_f: half_degrees(superheat - half),
            superheat_high_f: half_degrees(superheat + half),
            subcooling_low_f: subcooling(-SUBCOOLING_BAND_F),
            subcooling_high_f: subcooling(SUBCOOLING_BAND_F),
            plate_charge_oz: libm::round(charge_oz),
            minimum_superheat_f: 5.0,
            kit: makings.kit,
        },
        answers: answers(&makings.troubles, makings.as_right),
        troubles: makings.troubles.clone(),
        wrong,
        weather: loaded,
        start,
        sound,
        named,
        design_power_w: design.power_w,
    })
}

/// A slot for each cause; the first may have another that is as right.
fn answers(troubles: &[Trouble], as_right: Option<Cause>) -> Vec<Vec<Cause>> {
    let mut slots: Vec<Vec<Cause>> = Vec::new();
    for trouble in troubles {
        let cause = trouble.way.cause();
        if !slots.iter().any(|slot| slot.contains(&cause)) {
            slots.push(vec![cause]);
        }
    }
    if let (Some(first), Some(other)) = (slots.first_mut(), as_right) {
        first.push(other);
    }
    slots
}

fn build(makings: &Makings, refrigerant: Refrigerant) -> Result<System, CaseError> {
    let device = match makings.metering {
        Metering::AdjustableTxv => Device::Txv(Equalizer::External),
        Metering::FixedTxv => Device::TxvFixed(Equalizer::External),
        Metering::Electronic => Device::Eev,
        Metering::FixedOrifice => Device::Orifice,
    };
    let plate = Plate {
        lines: makings.lines,
        superheat: TemperatureDifference::from_f(makings.superheat_f),
        subcooling: TemperatureDifference::from_f(makings.subcooling_f),
        ..Plate::new(refrigerant, makings.tons, device)
    };
    System::build_with(&plate, &makings.traits).map_err(|error| CaseError::Unworkable {
        field: "nominal_tons",
        says: error.to_string(),
    })
}

fn differs(found: &Point, sound: &Point) -> bool {
    let apart = |one: Temperature, other: Temperature| (one - other).f().abs();
    (found.superheat() - sound.superheat()).f().abs() >= SHOWS_F
        || (found.subcooling() - sound.subcooling()).f().abs() >= SHOWS_F
        || apart(found.liquid_saturation, sound.liquid_saturation) >= SHOWS_HEAD_F
        || apart(found.suction_dew, sound.suction_dew) >= SHOWS_F
        || found.capacity_w <= SHOWS_CAPACITY * sound.capacity_w
}

/// How far the standing pressure would be off the plate's chart, psi.
fn off_chart(makings: &Makings, system: &System, faults: &Faults, weather: &Weather) -> f64 {
    let stands = standing::pressure(system, faults, weather.outdoor());
    let chart = |line: &refrigerant::SaturationLine| line.pressure(weather.outdoor()).ok();
    let (Some(stands), Some(dew), Some(bubble)) = (
        stands,
        chart(makings.refrigerant.dew()),
        chart(makings.refrigerant.bubble()),
    ) else {
        return 0.0;
    };
    ((stands - bubble).psi()).max((dew - stands).psi())
}

//! What a case is made of, drawn from its number.

use crate::case::{Filter, REFRIGERANTS, TONS};
use crate::dice::Dice;
use crate::tools::Kit;
use crate::trouble::{Load, PAIRS, Pair, Trouble, Way, Wrong};
use cycle::{LineSet, Traits};
use diagnosis::{Cause, Metering};
use quantity::TemperatureDifference;
use refrigerant::Refrigerant;

/// What there is to make a case of.
pub(crate) struct Makings {
    pub(crate) refrigerant: Refrigerant,
    pub(crate) inside: Refrigerant,
    pub(crate) tons: f64,
    pub(crate) metering: Metering,
    pub(crate) superheat_f: f64,
    pub(crate) subcooling_f: f64,
    pub(crate) lines: LineSet,
    pub(crate) traits: Traits,
    pub(crate) usual: [f64; 3],
    pub(crate) loaded: [f64; 3],
    pub(crate) kit: Kit,
    pub(crate) place: (String, String),
    pub(crate) troubles: Vec<Trouble>,
    pub(crate) as_right: Option<Cause>,
}

/// Places and calls of Saltgrass Landing. Demo, invented.
const PLACES: [(&str, &str); 6] = [
    ("Gull & Crumb bakery", "The proofing room is not right."),
    ("Ferry ticket hall", "It does not cool as it used to."),
    (
        "Net-makers' loft",
        "It runs all day and the loft stays warm.",
    ),
    (
        "Tide museum archive",
        "The yearly look is due; the archivist worries.",
    ),
    (
        "Quay chandlery",
        "Somebody was here in spring; since then it is odd.",
    ),
    ("Harbour office", "The bill went up."),
];

/// What kind of trouble.
pub(crate) enum Kind {
    One(Cause),
    Two(&'static Pair),
}

impl Kind {
    pub(crate) fn draw(dice: &mut Dice, metering: Metering, filter: &Filter) -> Option<Self> {
        let can = |way: Way| way.sizes(metering).is_some();
        if dice.chance(filter.difficulty.pairs()) {
            let fit: Vec<&'static Pair> = PAIRS
                .iter()
                .filter(|pair| pair.parts.iter().all(|(way, _)| can(*way)))
                .collect();
            return dice.pick(&fit).map(Self::Two);
        }
        let fit: Vec<Cause> = Cause::ALL
            .iter()
            .copied()
            .filter(|&cause| ways_of(cause, metering).next().is_some())
            .collect();
        dice.pick(&fit).map(Self::One)
    }
}

fn ways_of(cause: Cause, metering: Metering) -> impl Iterator<Item = Way> {
    Way::ALL
        .iter()
        .copied()
        .filter(move |way| way.cause() == cause && way.sizes(metering).is_some())
}

pub(crate) fn makings(
    dice: &mut Dice,
    filter: &Filter,
    metering: Metering,
    kind: &Kind,
) -> Option<Makings> {
    let refrigerant = match filter.refrigerant {
        Some(asked) => asked,
        None => dice.pick(&REFRIGERANTS)?,
    };
    let tons = match filter.tons {
        Some(asked) => asked,
        None => dice.pick(&TONS)?,
    };
    let mut troubles = Vec::new();
    let mut sized = |way: Way, (from, to): (f64, f64), dice: &mut Dice| {
        let (low, high) = way.sizes(metering)?;
        let size = low + (high - low) * dice.between(from, to);
        troubles.push(Trouble { way, size });
        Some(())
    };
    let as_right = match kind {
        Kind::One(cause) => {
            let ways: Vec<Way> = ways_of(*cause, metering).collect();
            let way = dice.pick(&ways)?;
            sized(way, (0.0, 1.0), dice)?;
            None
        }
        Kind::Two(pair) => {
            for &(way, range) in pair.parts {
                sized(way, range, dice)?;
            }
            pair.as_right
        }
    };
    let inside = if troubles.iter().any(|it| it.way == Way::OtherFill) {
        dice.pick(others(refrigerant))?
    } else {
        refrigerant
    };
    let outdoor = dice.between(80.0, 98.0);
    let usual = [outdoor, dice.between(73.0, 79.0), dice.between(61.0, 67.0)];
    let loaded = match Load::of(&troubles) {
        Load::Usual => usual,
        Load::Low => [
            outdoor - 10.0,
            dice.between(61.0, 64.0),
            dice.between(52.0, 55.5),
        ],
        Load::High => [
            outdoor + dice.between(3.0, 8.0),
            dice.between(86.0, 91.0),
            dice.between(74.0, 77.5),
        ],
    };
    let place = dice.pick(&PLACES)?;
    let cfm = 4.719_474e-4;
    Some(Makings {
        refrigerant,
        inside,
        tons,
        metering,
        superheat_f: dice.pick(&[9.0, 10.0, 11.0, 12.0])?,
        subcooling_f: dice.pick(&[8.0, 10.0, 12.0])?,
        lines: LineSet {
            length_m: dice.between(7.0, 18.0),
            ..lines_for(tons)
        },
        traits: Traits {
            superheat_per_turn: TemperatureDifference::from_f(dice.between(1.8, 3.6)),
            stem_turns_out: 8.0,
            stem_turns_in: 12.0,
            valve_size: dice.between(0.95, 1.12),
            bulb_lag_s: dice.between(45.0, 90.0),
            friction: dice.between(0.01, 0.03),
            airflow_m3_s_ton: dice.between(385.0, 425.0) * cfm,
            ..Traits::default()
        },
        usual,
        loaded,
        kit: Kit::of(filter.difficulty.grade()),
        place: (place.0.to_owned(), place.1.to_owned()),
        troubles,
        as_right,
    })
}

/// Lines that lose about the same at every size: area goes with flow. Default, no source.
pub(crate) fn lines_for(tons: f64) -> LineSet {
    let usual = LineSet::default();
    let wider = libm::sqrt(tons / 3.0);
    LineSet {
        liquid_inner_mm: usual.liquid_inner_mm * wider,
        suction_inner_mm: usual.suction_inner_mm * wider,
        ..usual
    }
}

/// What a plant of this plate may have been filled with by mistake.
///
/// Simplification: such a plant is built as if its parts had been made for what is inside, so it
/// runs sound on its own chart; only the plate, and every chart read by it, is wrong. A real one
/// would also pump and feed the wrong weight.
pub(crate) const fn others(plate: Refrigerant) -> &'static [Refrigerant] {
    match plate {
        Refrigerant::R22 => &[Refrigerant::R134a, Refrigerant::R410A],
        _ => &[Refrigerant::R22, Refrigerant::R407C],
    }
}

impl Load {
    pub(crate) fn of(troubles: &[Trouble]) -> Self {
        let mut wrong = Wrong::NOTHING;
        for trouble in troubles {
            trouble.way.apply(&mut wrong, trouble.size);
        }
        wrong.load
    }
}

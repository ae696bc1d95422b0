//! What eyes and hands see: true in the main, and blurred where life is.

use crate::act::Spot;
use crate::dice::Dice;
use crate::difficulty::Difficulty;
use crate::trouble::Wrong;
use cycle::Point;
use diagnosis::{Cause, Metering};
use serde::Serialize;

/// How a spot looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Looks {
    /// As it should.
    Fine,
    /// Not as it should.
    Amiss,
    /// It cannot be told.
    Unclear,
}

/// What is said of a spot: fine, amiss, unclear.
const fn words(spot: Spot) -> [&'static str; 3] {
    match spot {
        Spot::Filter => [
            "The filter is clean; light comes through.",
            "The filter is felted grey; no light comes through.",
            "Some dust on the filter. Hard to say whether it matters.",
        ],
        Spot::IndoorCoil => [
            "Clean fins on the side the air meets.",
            "A carpet of lint on the side the air meets.",
            "Only a corner of the coil can be seen from here; some dust.",
        ],
        Spot::OutdoorCoil => [
            "Fins clean, fan even.",
            "The fins are full of fluff and salt.",
            "A little fluff low down. Hard to say how deep it goes.",
        ],
        Spot::Surroundings => [
            "Free on all sides and above.",
            "New boards stand close round the unit and the air has no way out.",
            "Boards on one side. Air may come back, or may not.",
        ],
        Spot::Bulb => [
            "Strapped on clean pipe along its whole length, and wrapped.",
            "The strap hangs, the wrapping is gone.",
            "Wrapped; the strap cannot be seen under it.",
        ],
        Spot::StemCap => [
            "The seal cap is on and painted over.",
            "The seal cap is finger-tight and there are bright tool marks.",
            "The seal cap is on; scratches, perhaps old ones.",
        ],
        Spot::LiquidLine => [
            "Evenly warm to the hand from end to end.",
            "Cold from one place on: the hand feels it.",
            "Perhaps a little cooler towards the end.",
        ],
        Spot::SuctionLine => [
            "Cool and sweating as it should.",
            "Not as it should be: flattened at a bend, or cold and streaming back to the compressor, or warm and dry.",
            "Wrapped all along; nothing to see.",
        ],
    }
}

/// The cause that a spot speaks of, if one.
pub const fn speaks_of(spot: Spot) -> Option<Cause> {
    match spot {
        Spot::Filter | Spot::IndoorCoil => Some(Cause::LowAirflow),
        Spot::OutdoorCoil => Some(Cause::CondenserFouled),
        Spot::Surroundings => Some(Cause::HotAirRecirculation),
        Spot::Bulb => Some(Cause::BulbContact),
        Spot::LiquidLine => Some(Cause::LiquidRestriction),
        Spot::StemCap | Spot::SuctionLine => None,
    }
}

/// Falls along the liquid line that a hand surely feels, and surely does not, °F; suction lines that
/// strike the eye. Judgement, no source.
const HAND_FEELS_F: (f64, f64) = (3.0, 7.0);
const STREAMING_F: f64 = 2.0;
const DRY_F: f64 = 28.0;
const KINK: f64 = 4.0;

/// Looks at a spot. The same spot in the same state always looks the same.
///
/// - `stem`: quarters from where the maker left it.
pub(crate) fn look(
    spot: Spot,
    wrong: &Wrong,
    stem: i32,
    point: Option<&Point>,
    (seed, difficulty): (u64, Difficulty),
) -> (Looks, String) {
    let amiss_when = |amiss: bool| if amiss { Looks::Amiss } else { Looks::Fine };
    let truly = match spot {
        Spot::Filter => amiss_when(wrong.filter > 0.1),
        Spot::IndoorCoil => amiss_when(wrong.coil > 0.1),
        Spot::OutdoorCoil => amiss_when(wrong.faults.condenser_air < 0.9),
        Spot::Surroundings => amiss_when(wrong.faults.recirculation > 0.05),
        Spot::Bulb => amiss_when(wrong.faults.bulb_contact < 0.95),
        Spot::StemCap => amiss_when(stem != 0),
        Spot::LiquidLine => {
            match point.map(|at| (at.liquid_port.temperature - at.line_end.temperature).f()) {
                Some(fall) if fall > HAND_FEELS_F.1 => Looks::Amiss,
                Some(fall) if fall < HAND_FEELS_F.0 => Looks::Fine,
                _ => Looks::Unclear,
            }
        }
        Spot::SuctionLine => match point.map(|at| at.superheat().f()) {
            Some(superheat) => amiss_when(
                !(STREAMING_F..DRY_F).contains(&superheat)
                    || wrong.faults.suction_restriction > KINK,
            ),
            None => Looks::Unclear,
        },
    };
    let dice = &mut Dice::of(&[seed, 0xE1E5, spot as u64, u64::from(truly == Looks::Amiss)]);
    let seen = if dice.chance(difficulty.blur()) {
        Looks::Unclear
    } else {
        truly
    };
    let [fine, amiss, unclear] = words(spot);
    let says = match seen {
        Looks::Fine => fine,
        Looks::Amiss => amiss,
        Looks::Unclear => unclear,
    };
    (seen, says.to_owned())
}

/// Whether this device has the spot at all.
pub(crate) const fn is_there(spot: Spot, metering: Metering) -> bool {
    match spot {
        Spot::Bulb => metering.has_bulb(),
        Spot::StemCap => matches!(metering, Metering::AdjustableTxv),
        _ => true,
    }
}

/// Whether a search finds the leak of a plant that lost charge.
pub(crate) fn finds_leak(lost: bool, seed: u64, difficulty: Difficulty) -> bool {
    lost && !Dice::of(&[seed, 0x1EA4]).chance(difficulty.blur())
}

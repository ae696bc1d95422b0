//! The trade's table: what each cause does to each sign. One row a cause; a sign not named in a
//! row is expected as in a sound system.
//!
//! # Source
//! For valves that hold superheat: the trade's diagnosis table, gathered from trade articles and
//! makers' sheets (list in DEVELOPERS.md). For the fixed orifice: Rossi and Braun's rules as
//! printed in "Fault Detection and Diagnostics for Rooftop Air Conditioners", table 1-1. How sure
//! each mark is (the three shares) is judgement, no source.

use crate::cause::Cause;
use crate::setup::Metering;
use crate::sign::{Observation, Possible, Sign};

/// What a cause does to a sign: shares of low, usual and high that are to be expected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Mark {
    Down,
    SameDown,
    Same,
    SameUp,
    Up,
    /// High, and the very mark of this cause.
    MustUp,
    /// Low, and the very mark of this cause.
    MustDown,
    /// As usual, and a sign out of place speaks strongly against this cause.
    Sound,
    /// As usual: what else would move it is the very mark of another cause.
    Untouched,
    /// Away from usual, either way.
    Odd,
    /// Nothing is to be expected.
    Any,
}

impl Mark {
    const fn shares(self) -> (f64, f64, f64) {
        match self {
            Self::Down => (0.80, 0.17, 0.03),
            Self::SameDown => (0.45, 0.50, 0.05),
            Self::Same => (0.07, 0.86, 0.07),
            Self::Sound => (0.02, 0.96, 0.02),
            Self::Untouched => (0.01, 0.98, 0.01),
            Self::SameUp => (0.05, 0.50, 0.45),
            Self::Up => (0.03, 0.17, 0.80),
            Self::MustUp => (0.01, 0.03, 0.96),
            Self::MustDown => (0.96, 0.03, 0.01),
            Self::Odd => (0.38, 0.24, 0.38),
            Self::Any => (1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0),
        }
    }

    /// How well an observation goes with this mark, 0 to 1; 1 where the tools leave everything
    /// possible.
    pub(crate) fn likelihood(self, seen: Possible) -> f64 {
        let (down, usual, up) = self.shares();
        down * seen.down + usual * seen.usual + up * seen.up
    }
}

/// What a cause does to a sign, by the kind of metering device.
pub(crate) fn mark(cause: Cause, metering: Metering, sign: Sign) -> Mark {
    let row = if metering.holds_superheat() {
        valve_row(cause)
    } else {
        orifice_row(cause)
    };
    row.iter()
        .chain(common_row(cause))
        .find(|(of, _)| *of == sign)
        .map_or_else(|| unnamed(cause, sign), |&(_, mark)| mark)
}

/// Shares of low, usual and high that the trade's table expects of a sign under a cause; they sum
/// to 1.
pub fn expected_shares(cause: Cause, metering: Metering, sign: Sign) -> [f64; 3] {
    let (low, usual, high) = mark(cause, metering, sign).shares();
    [low, usual, high]
}

/// How well an observation goes with a cause by the trade's table: 0 to 1, and 1 where the tools
/// leave everything possible.
pub fn goes_with(cause: Cause, metering: Metering, seen: &Observation) -> f64 {
    mark(cause, metering, seen.sign).likelihood(seen.possible())
}

/// The mark of a sign that a row does not name.
const fn unnamed(cause: Cause, sign: Sign) -> Mark {
    match sign {
        Sign::Standing | Sign::EnteringAirRise | Sign::SuctionLineDrop | Sign::Impossible => {
            Mark::Untouched
        }
        Sign::LiquidLineDrop | Sign::DrierDrop | Sign::ReturnAir => Mark::Sound,
        _ if matches!(cause, Cause::NoFault) => Mark::Sound,
        _ => Mark::Same,
    }
}

use Cause::*;
use Mark::*;
use Sign::{
    AirSplit, Amps, BulbAnswer, CompressionRatio, CondenserAirRise, Discharge, DrierDrop,
    EnteringAirRise, Head, HeadOverOpen, Impossible, LiquidLineDrop, ReturnAir, Standing,
    Subcooling, Suction, SuctionLineDrop, Superheat,
};

type Row = &'static [(Sign, Mark)];

/// Signs that do not depend on the metering device.
const fn common_row(cause: Cause) -> Row {
    match cause {
        NoFault | BulbContact => &[],
        ValveUnderfeeding => &[
            (Suction, Down),
            (Superheat, MustUp),
            (Subcooling, SameUp),
            (Head, SameDown),
            (HeadOverOpen, SameDown),
            (AirSplit, Down),
            (Amps, Down),
            (Discharge, SameUp),
            (CondenserAirRise, SameDown),
            (CompressionRatio, SameUp),
            (BulbAnswer, SameDown),
        ],
        ValveOverfeeding => &[
            (Suction, Up),
            (Superheat, MustDown),
            (Subcooling, SameDown),
            (AirSplit, SameDown),
            (Amps, SameUp),
            (Discharge, SameDown),
            (CompressionRatio, SameDown),
        ],
        LowCharge => &[
            (Suction, Down),
            (Subcooling, MustDown),
            (Head, Down),
            (HeadOverOpen, Down),
            (AirSplit, Down),
            (Amps, Down),
            (DrierDrop, SameUp),
            (Discharge, SameUp),
            (CondenserAirRise, SameDown),
        ],
        Overcharge => &[
            (Suction, SameUp),
            (Subcooling, MustUp),
            (Head, SameUp),
            (HeadOverOpen, SameUp),
            (Amps, SameUp),
            (Discharge, SameDown),
            (CondenserAirRise, SameUp),
        ],
        LiquidRestriction => &[
            (Suction, Down),
            (Superheat, MustUp),
            (Subcooling, Up),
            (Head, SameDown),
            (HeadOverOpen, SameDown),
            (AirSplit, Down),
            (Amps, Down),
            (LiquidLineDrop, MustUp),
            (DrierDrop, Up),
            (Discharge, SameUp),
            (CondenserAirRise, SameDown),
            (CompressionRatio, SameUp),
        ],
        SuctionRestriction => &[
            (Suction, Down),
            (Superheat, Up),
            (Subcooling, SameUp),
            (Head, SameDown),
            (HeadOverOpen, SameDown),
            (AirSplit, Down),
            (Amps, Down),
            (CondenserAirRise, SameDown),
            (CompressionRatio, SameUp),
            (SuctionLineDrop, MustUp),
        ],
        LowAirflow => &[
            (Suction, Down),
            (Subcooling, SameUp),
            (Head, SameDown),
            (HeadOverOpen, SameDown),
            // What parts it from a starved coil.
            (AirSplit, MustUp),
            (CondenserAirRise, SameDown),
            (CompressionRatio, SameUp),
        ],
        LowLoad => &[
            (Suction, SameDown),
            (Head, SameDown),
            (HeadOverOpen, SameDown),
            (AirSplit, SameDown),
            (Amps, Down),
            (CondenserAirRise, SameDown),
            (ReturnAir, MustDown),
        ],
        HighLoad => &[
            (Suction, SameUp),
            (Head, SameUp),
            (HeadOverOpen, SameUp),
            (Amps, Up),
            (CondenserAirRise, SameUp),
            (ReturnAir, MustUp),
        ],
        CondenserFouled => &[
            (Suction, SameUp),
            (Head, MustUp),
            (HeadOverOpen, Up),
            (AirSplit, SameDown),
            (Amps, Up),
            (Discharge, SameUp),
            (CondenserAirRise, Up),
            (CompressionRatio, SameUp),
        ],
        HotAirRecirculation => &[
            (Suction, SameUp),
            (HeadOverOpen, Up),
            (AirSplit, SameDown),
            (Amps, Up),
            (EnteringAirRise, MustUp),
            (CompressionRatio, SameUp),
        ],
        NonCondensables => &[
            (Suction, SameUp),
            (Superheat, SameUp),
            (Subcooling, Up),
            (Head, Up),
            (HeadOverOpen, Up),
            (AirSplit, SameDown),
            (Amps, Up),
            (Discharge, Up),
            (Standing, MustUp),
            (CompressionRatio, SameUp),
        ],
        WeakCompressor => &[
            (Suction, Up),
            (Head, Down),
            (HeadOverOpen, Down),
            (AirSplit, Down),
            (Amps, Down),
            (CondenserAirRise, Down),
            (CompressionRatio, MustDown),
        ],
        WrongRefrigerant => &[
            (Suction, Any),
            (Superheat, Odd),
            (Subcooling, Odd),
            (Head, Odd),
            (HeadOverOpen, Odd),
            (AirSplit, Any),
            (Amps, Any),
            (Discharge, Any),
            (Standing, Odd),
            (CompressionRatio, Any),
            (Impossible, SameUp),
        ],
    }
}

/// What a valve that holds superheat changes.
const fn valve_row(cause: Cause) -> Row {
    match cause {
        // The valve holds superheat until the charge is well short: NIST TN 1848.
        LowCharge => &[
            (Suction, SameDown),
            (Superheat, SameUp),
            (Head, SameDown),
            (HeadOverOpen, SameDown),
            (AirSplit, SameDown),
            (Amps, SameDown),
        ],
        LowAirflow => &[(Superheat, SameDown)],
        HighLoad => &[(Superheat, SameUp)],
        CondenserFouled => &[(Subcooling, SameUp)],
        WeakCompressor => &[(Superheat, SameDown), (Subcooling, SameUp)],
        BulbContact => &[
            (Suction, Up),
            (Superheat, MustDown),
            (Amps, SameUp),
            (CompressionRatio, SameDown),
        ],
        _ => &[],
    }
}

/// What a fixed orifice changes: charge and weather move superheat.
const fn orifice_row(cause: Cause) -> Row {
    match cause {
        LowCharge => &[(Superheat, MustUp)],
        Overcharge => &[(Superheat, Down)],
        LowAirflow => &[(Superheat, Down), (Subcooling, SameDown)],
        LowLoad => &[(Superheat, Down)],
        HighLoad => &[(Superheat, SameUp)],
        CondenserFouled => &[(Superheat, Down), (Subcooling, SameDown)],
        HotAirRecirculation => &[(Superheat, SameDown)],
        WeakCompressor => &[(Superheat, Down), (Subcooling, SameDown)],
        _ => &[],
    }
}

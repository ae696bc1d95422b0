//! What can be read off a running circuit, in kelvin, and what of it a fault moves.
//!
//! A reading is a list of numbers, each of one instrument, so that their errors are independent. A
//! fault is better told in differences (superheat, not two temperatures). Fixed sums lead from the
//! one to the other: [`Row::sum`].

/// A number that one instrument gives. Temperatures in K; amps in percent of the plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Row {
    /// Dew temperature at the coil's pressure.
    CoilDew,
    /// Suction line at the bulb.
    BulbLine,
    /// Dew temperature at the pressure of the suction port.
    PortDew,
    /// Suction line at the compressor.
    PortLine,
    /// Bubble temperature at the pressure of the liquid port.
    LiquidSaturation,
    /// Liquid line at its port.
    LiquidLine,
    /// Air into the condenser.
    EnteringAir,
    /// Open-shade air.
    OpenAir,
    /// Return air, dry bulb.
    ReturnDry,
    /// Return air, wet bulb.
    ReturnWet,
    /// Supply air, dry bulb.
    Supply,
    /// Air out of the condenser.
    LeavingAir,
    /// Liquid line before the valve.
    LineEnd,
    /// Discharge line.
    Discharge,
    /// Compressor amps, percent of the plate's.
    Amps,
}

/// How many rows there are.
pub const ROWS: usize = 15;
/// How many answers of the plant a fault may move.
pub const ANSWERS: usize = 12;
/// What surrounds a circuit: outdoor air, return dry bulb, return wet bulb, superheat and subcooling
/// it is set and charged for.
pub const GIVENS: usize = 5;

/// The answers of a plant, K but for amps: the differences in which a fault is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Answer {
    /// Dew temperature of the coil.
    Coil,
    /// Bulb line over dew.
    Superheat,
    /// Dew lost along the suction line.
    SuctionDrop,
    /// Line at the compressor over line at the bulb.
    SuctionGain,
    /// Bubble temperature at the liquid port.
    Head,
    /// Liquid line under bubble.
    Subcooling,
    /// Air into the condenser over open air.
    Recirculated,
    /// Supply air.
    Supply,
    /// Air rise through the condenser.
    CondenserRise,
    /// Liquid line over its end.
    LineDrop,
    /// Discharge line over bubble.
    Discharge,
    /// Amps, percent of the plate's.
    Amps,
}

impl Answer {
    /// Every answer, in order.
    pub const ALL: [Self; ANSWERS] = [
        Self::Coil,
        Self::Superheat,
        Self::SuctionDrop,
        Self::SuctionGain,
        Self::Head,
        Self::Subcooling,
        Self::Recirculated,
        Self::Supply,
        Self::CondenserRise,
        Self::LineDrop,
        Self::Discharge,
        Self::Amps,
    ];
    /// Its place.
    pub const fn index(self) -> usize {
        self as usize
    }
}

impl Row {
    /// Every row, in order.
    pub const ALL: [Self; ROWS] = [
        Self::CoilDew,
        Self::BulbLine,
        Self::PortDew,
        Self::PortLine,
        Self::LiquidSaturation,
        Self::LiquidLine,
        Self::EnteringAir,
        Self::OpenAir,
        Self::ReturnDry,
        Self::ReturnWet,
        Self::Supply,
        Self::LeavingAir,
        Self::LineEnd,
        Self::Discharge,
        Self::Amps,
    ];
    /// Its place.
    pub const fn index(self) -> usize {
        self as usize
    }
    /// The row as a sum of answers, each with its sign.
    pub const fn sum(self) -> &'static [(Answer, f64)] {
        use Answer::{
            Amps, Coil, CondenserRise, Discharge, Head, LineDrop, Recirculated, Subcooling,
            SuctionDrop, SuctionGain, Superheat, Supply,
        };
        match self {
            Self::CoilDew => &[(Coil, 1.0)],
            Self::BulbLine => &[(Coil, 1.0), (Superheat, 1.0)],
            Self::PortDew => &[(Coil, 1.0), (SuctionDrop, -1.0)],
            Self::PortLine => &[(Coil, 1.0), (Superheat, 1.0), (SuctionGain, 1.0)],
            Self::LiquidSaturation => &[(Head, 1.0)],
            Self::LiquidLine => &[(Head, 1.0), (Subcooling, -1.0)],
            Self::EnteringAir => &[(Recirculated, 1.0)],
            Self::OpenAir | Self::ReturnDry | Self::ReturnWet => &[],
            Self::Supply => &[(Supply, 1.0)],
            Self::LeavingAir => &[(Recirculated, 1.0), (CondenserRise, 1.0)],
            Self::LineEnd => &[(Head, 1.0), (Subcooling, -1.0), (LineDrop, -1.0)],
            Self::Discharge => &[(Head, 1.0), (Discharge, 1.0)],
            Self::Amps => &[(Amps, 1.0)],
        }
    }
    /// Which of the givens stands in it as itself: outdoor air 0, return dry bulb 1, wet bulb 2.
    pub const fn given(self) -> Option<usize> {
        match self {
            Self::EnteringAir | Self::OpenAir | Self::LeavingAir => Some(0),
            Self::ReturnDry => Some(1),
            Self::ReturnWet => Some(2),
            _ => None,
        }
    }
}

/// The answers in a full set of rows.
///
/// - `rows`: every row of [`Row::ALL`], K.
pub fn answers(rows: &[f64; ROWS]) -> [f64; ANSWERS] {
    let at = |row: Row| rows[row.index()];
    [
        at(Row::CoilDew),
        at(Row::BulbLine) - at(Row::CoilDew),
        at(Row::CoilDew) - at(Row::PortDew),
        at(Row::PortLine) - at(Row::BulbLine),
        at(Row::LiquidSaturation),
        at(Row::LiquidSaturation) - at(Row::LiquidLine),
        at(Row::EnteringAir) - at(Row::OpenAir),
        at(Row::Supply),
        at(Row::LeavingAir) - at(Row::EnteringAir),
        at(Row::LiquidLine) - at(Row::LineEnd),
        at(Row::Discharge) - at(Row::LiquidSaturation),
        at(Row::Amps),
    ]
}

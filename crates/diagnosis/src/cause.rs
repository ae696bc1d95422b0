//! Causes of trouble. What is said of each stands in `words`, what each does to the signs in `table`.

use crate::setup::Metering;
use crate::words::{STEM_STEP, STRAP, WARM_HAND};

pub use crate::words::{Test, Words};

/// What can be behind a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// Nothing is wrong.
    NoFault,
    /// The valve passes too little: set closed, stuck, its screen blocked or its bulb charge lost.
    ValveUnderfeeding,
    /// The valve passes too much: set open, or too large.
    ValveOverfeeding,
    /// The bulb is loose, bare or in the wrong place, and reads warm.
    BulbContact,
    /// Too little refrigerant.
    LowCharge,
    /// Too much refrigerant.
    Overcharge,
    /// A block before the valve: drier, kink, screen, valve part shut.
    LiquidRestriction,
    /// A block between coil and compressor.
    SuctionRestriction,
    /// Too little air over the indoor coil.
    LowAirflow,
    /// Cold return air.
    LowLoad,
    /// Hot or humid return air.
    HighLoad,
    /// The condenser is dirty or its fan weak.
    CondenserFouled,
    /// The condenser draws in its own hot air.
    HotAirRecirculation,
    /// Air or nitrogen in the circuit.
    NonCondensables,
    /// The compressor pumps too little.
    WeakCompressor,
    /// Not the refrigerant on the plate, or a mixture.
    WrongRefrigerant,
}

/// When an action comes: the trade's order, free and reversible first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ActionOrder {
    /// Nothing to do.
    Nothing,
    /// Costs nothing and can be undone: bulb, filter, air.
    Free,
    /// Look or measure further, or clean.
    Look,
    /// The stem.
    Stem,
    /// The charge.
    Charge,
    /// Open the circuit or replace a part.
    Repair,
}

macro_rules! causes {
    ($($name:ident $key:literal),* $(,)?) => {
        impl Cause {
            /// Every cause, in the order of the table.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];
            /// Its name in files and on the command line.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$name => $key,)* }
            }
        }
    };
}
causes! {
    NoFault "no-fault", ValveUnderfeeding "valve-underfeeding", ValveOverfeeding "valve-overfeeding",
    BulbContact "bulb-contact", LowCharge "low-charge", Overcharge "overcharge",
    LiquidRestriction "liquid-restriction", SuctionRestriction "suction-restriction",
    LowAirflow "low-airflow", LowLoad "low-load", HighLoad "high-load",
    CondenserFouled "condenser-fouled", HotAirRecirculation "hot-air-recirculation",
    NonCondensables "non-condensables", WeakCompressor "weak-compressor",
    WrongRefrigerant "wrong-refrigerant",
}

impl Cause {
    /// What to do about it on this device. A valve without a stem cannot be turned, and an orifice
    /// has neither stem nor bulb.
    ///
    /// # Source
    /// Non-adjustable valves and electronic valves: common practice, no source.
    pub(crate) const fn action(self, metering: Metering) -> &'static str {
        match (self, metering) {
            (Self::ValveUnderfeeding | Self::ValveOverfeeding, Metering::FixedTxv) => {
                "No stem here: prove bulb, airflow, charge and liquid line; then it is the valve, to be replaced. Never make up for it with charge."
            }
            (Self::ValveUnderfeeding | Self::ValveOverfeeding, Metering::Electronic) => {
                "Check the controller's sensors against your tools, the coil seated on the valve, drive volts and steps, and the superheat it is set to hold."
            }
            (Self::ValveUnderfeeding | Self::ValveOverfeeding, Metering::FixedOrifice) => {
                "Check the orifice: size against the plate, seat, and dirt at its screen."
            }
            (cause, _) => cause.words().action,
        }
    }

    /// Its name on this device.
    pub(crate) const fn name(self, metering: Metering) -> &'static str {
        match (self, metering) {
            (Self::ValveUnderfeeding, Metering::FixedOrifice) => "Orifice blocked or too small",
            (Self::ValveOverfeeding, Metering::FixedOrifice) => "Orifice too large or unseated",
            (cause, _) => cause.words().name,
        }
    }

    /// Its tests that this device allows, cheapest first.
    pub fn tests(self, metering: Metering) -> impl Iterator<Item = Test> {
        self.words().tests.iter().copied().filter(move |&test| {
            if test == STEM_STEP {
                metering == Metering::AdjustableTxv
            } else if test == STRAP || test == WARM_HAND {
                metering.has_bulb()
            } else {
                true
            }
        })
    }
}

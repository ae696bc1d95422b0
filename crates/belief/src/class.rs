//! What the library tells apart: single causes and the pairs that mislead.

use diagnosis::{Cause, Metering};

/// A state of the plant: one cause, or two at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Class {
    /// The cause, or the first of two.
    pub first: Cause,
    /// The second of two.
    pub second: Option<Cause>,
}

/// What the size of a cause is told in, and from where to where the library goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// What the number is, with its unit.
    pub says: &'static str,
    /// Smallest in the library.
    pub from: f64,
    /// Largest in the library.
    pub to: f64,
    /// Whether equal steps are equal ratios.
    pub by_ratio: bool,
}

impl Scale {
    /// The size at this share of the way, 0 to 1, from the smallest to the largest.
    pub fn at(&self, share: f64) -> f64 {
        if self.by_ratio {
            self.from * libm::exp(share * libm::log(self.to / self.from))
        } else {
            self.from + share * (self.to - self.from)
        }
    }
}

const fn one(first: Cause) -> Class {
    Class {
        first,
        second: None,
    }
}
const fn two(first: Cause, second: Cause) -> Class {
    Class {
        first,
        second: Some(second),
    }
}

impl Class {
    /// Every class, those of one cause first. Wrong refrigerant has no model.
    pub const ALL: &'static [Self] = &[
        one(Cause::NoFault),
        one(Cause::ValveUnderfeeding),
        one(Cause::ValveOverfeeding),
        one(Cause::BulbContact),
        one(Cause::LowCharge),
        one(Cause::Overcharge),
        one(Cause::LiquidRestriction),
        one(Cause::SuctionRestriction),
        one(Cause::LowAirflow),
        one(Cause::LowLoad),
        one(Cause::HighLoad),
        one(Cause::CondenserFouled),
        one(Cause::HotAirRecirculation),
        one(Cause::NonCondensables),
        one(Cause::WeakCompressor),
        two(Cause::ValveUnderfeeding, Cause::HotAirRecirculation),
        two(Cause::Overcharge, Cause::HotAirRecirculation),
        two(Cause::LowCharge, Cause::LowAirflow),
        // A turned stem: in, then out.
        two(Cause::BulbContact, Cause::ValveUnderfeeding),
        two(Cause::BulbContact, Cause::ValveOverfeeding),
    ];

    /// Whether this device can have it.
    pub fn is_possible(self, metering: Metering) -> bool {
        let bulb = |cause| cause == Cause::BulbContact;
        metering.has_bulb() || !(bulb(self.first) || self.second.is_some_and(bulb))
    }

    /// Whether the cause is in it.
    pub fn has(self, cause: Cause) -> bool {
        self.first == cause || self.second == Some(cause)
    }

    /// Whether it is the plant of [`Cause::NoFault`] in unusual return air.
    pub const fn is_return_air(self) -> bool {
        matches!(self.first, Cause::LowLoad | Cause::HighLoad)
    }

    /// How common a pair is beside the single causes' own `prior`. Judgement, no source: one call in
    /// twenty or so has two of these at once; whoever finds a bulb loose may have turned the stem
    /// for it first.
    pub(crate) const fn pair_prior(self) -> Option<f64> {
        match (self.first, self.second) {
            (_, None) => None,
            (Cause::LowCharge, Some(_)) => Some(0.2),
            (Cause::BulbContact, Some(Cause::ValveOverfeeding)) => Some(0.08),
            (_, Some(_)) => Some(0.15),
        }
    }

    /// What its first cause is sized in; none for a valve, which starves or floods in many ways.
    ///
    /// # Source
    /// The ranges: from what the tools just notice to what stops a house from being cooled.
    /// Judgement, no source.
    pub const fn scale(self) -> Option<Scale> {
        scale(self.first)
    }
}

/// What this cause is sized in.
pub const fn scale(cause: Cause) -> Option<Scale> {
    const fn row(says: &'static str, from: f64, to: f64) -> Option<Scale> {
        Some(Scale {
            says,
            from,
            to,
            by_ratio: false,
        })
    }
    const fn times(says: &'static str, from: f64, to: f64) -> Option<Scale> {
        Some(Scale {
            says,
            from,
            to,
            by_ratio: true,
        })
    }
    match cause {
        Cause::BulbContact => row("% of the bulb's contact lost", 15.0, 50.0),
        Cause::LowCharge => row("% of the charge missing", 5.0, 30.0),
        Cause::Overcharge => row("% of the charge too much", 6.0, 35.0),
        Cause::LiquidRestriction => times("times the line's own resistance", 10.0, 100.0),
        Cause::SuctionRestriction => times("times the line's own resistance", 4.0, 18.0),
        Cause::LowAirflow => row("% of the indoor air missing", 18.0, 50.0),
        Cause::CondenserFouled => row("% of the condenser's air missing", 20.0, 60.0),
        Cause::HotAirRecirculation => row("% of the condenser's air drawn in again", 7.0, 30.0),
        Cause::NonCondensables => row("psi of gas in a running condenser", 8.0, 60.0),
        Cause::WeakCompressor => row("% of the pumping lost", 15.0, 50.0),
        Cause::NoFault
        | Cause::ValveUnderfeeding
        | Cause::ValveOverfeeding
        | Cause::LowLoad
        | Cause::HighLoad
        | Cause::WrongRefrigerant => None,
    }
}

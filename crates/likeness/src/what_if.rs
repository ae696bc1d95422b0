//! What a change would do.

use serde::{Deserialize, Serialize};

use crate::fit::Likeness;
use crate::outlook::{Outlook, Shift, Spread};
use crate::twin::{Change, NoPoint};

/// Liquid out of the coil from which on it counts as floodback, share of the flow.
const FLOODS: f64 = 0.005;

/// A change that is worth asking for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WhatIf {
    /// Stem a turn counter-clockwise.
    StemOut,
    /// Stem a turn clockwise.
    StemIn,
    /// A tenth more charge.
    ChargeUp,
    /// A tenth less charge.
    ChargeDown,
    /// A fifth more indoor air.
    IndoorAirUp,
    /// Air that enters the condenser cooler by 10 °F.
    CoolerAir,
    /// No air goes round the condenser.
    OpenAir,
}

impl WhatIf {
    /// Every one, in the order they are answered.
    pub const ALL: [Self; 7] = [
        Self::StemOut,
        Self::StemIn,
        Self::ChargeUp,
        Self::ChargeDown,
        Self::IndoorAirUp,
        Self::CoolerAir,
        Self::OpenAir,
    ];

    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::StemOut => "stem-out-one-turn",
            Self::StemIn => "stem-in-one-turn",
            Self::ChargeUp => "charge-up-tenth",
            Self::ChargeDown => "charge-down-tenth",
            Self::IndoorAirUp => "indoor-air-up-fifth",
            Self::CoolerAir => "condenser-air-cooler-10-f",
            Self::OpenAir => "condenser-in-open-air",
        }
    }

    fn change(self) -> Change {
        let none = Change::NONE;
        match self {
            Self::StemOut => Change {
                turns: -1.0,
                ..none
            },
            Self::StemIn => Change { turns: 1.0, ..none },
            Self::ChargeUp => Change {
                charge: 1.1,
                ..none
            },
            Self::ChargeDown => Change {
                charge: 0.9,
                ..none
            },
            Self::IndoorAirUp => Change {
                indoor_air: 1.2,
                ..none
            },
            Self::CoolerAir => Change {
                warmer_f: -10.0,
                ..none
            },
            Self::OpenAir => Change {
                open_air: true,
                ..none
            },
        }
    }
}

/// What a change would do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Forecast {
    /// As in [`WhatIf::key`], or `after-charge`, or `after-turn`.
    pub what: String,
    /// What would be read then; `None` where the model has no answer.
    pub then: Option<Outlook>,
    /// Then less now.
    pub shift: Option<Shift>,
    /// Liquid would leave the coil: floodback.
    pub floods: bool,
    /// Superheat may come to lie under the minimum that was told: its band reaches below.
    pub below_minimum: bool,
    /// Why there is no answer for some or all of the systems that read like this.
    pub why_not: Option<String>,
}

impl Forecast {
    fn none(what: &'static str, why: &NoPoint) -> Self {
        Self {
            what: what.to_owned(),
            then: None,
            shift: None,
            floods: false,
            below_minimum: false,
            why_not: Some(why.to_string()),
        }
    }
}

/// Why ounces cannot be turned into a share of the charge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoOunces {
    /// Neither plate charge nor tons were told.
    ChargeUnknown,
    /// So many ounces are no small step: more than 40 % of the charge.
    TooMany {
        /// What was asked for, oz.
        ounces: f64,
        /// The most either way, oz.
        most: f64,
    },
}

impl core::fmt::Display for NoOunces {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::ChargeUnknown => write!(f, "The plate charge or the tons are needed for ounces."),
            Self::TooMany { ounces, most } => {
                write!(f, "{ounces:.1} oz is outside {:.1} to {most:.1} oz.", -most)
            }
        }
    }
}

impl core::error::Error for NoOunces {}

/// Most of the charge that is asked for at once, share.
const MOST_CHARGE: f64 = 0.4;

impl Likeness {
    /// What would be read now by the fitted systems, and what each change would do to them. Changes
    /// that this device does not have, or of which nothing was read, are left out.
    pub fn what_if(&self) -> (Option<Outlook>, Vec<Forecast>) {
        let now = self.spread(&Change::NONE, None);
        let has_stem = self.twin.device == diagnosis::Metering::AdjustableTxv;
        // Where only entering air was read, no one knows how much of it goes round.
        let is_open_known = self.twin.told.open_air.is_some();
        let changes = WhatIf::ALL.into_iter().filter(|what| match what {
            WhatIf::StemOut | WhatIf::StemIn => has_stem,
            WhatIf::OpenAir => is_open_known,
            _ => true,
        });
        let forecasts = changes
            .map(|what| match &now {
                Ok(now) => self.forecast(what.key(), &what.change(), now),
                Err(why) => Forecast::none(what.key(), why),
            })
            .collect();
        let outlook = now.ok().map(|now| self.outlook(&now, &now));
        (outlook, forecasts)
    }

    /// What turning the stem would do: turns, clockwise positive. `None` without a stem. Where its ends
    /// are no one knows.
    pub fn after_turn(&self, turns: f64) -> Option<Forecast> {
        let change = Change {
            turns,
            ..Change::NONE
        };
        let has_stem = self.twin.device == diagnosis::Metering::AdjustableTxv;
        has_stem.then(|| self.against_now("after-turn", &change))
    }

    /// What adding so many ounces would do; below zero for recovering them.
    ///
    /// # Errors
    /// [`NoOunces`].
    pub fn after_charge(&self, ounces: f64) -> Result<Forecast, NoOunces> {
        let right = self.twin.right_charge_oz().ok_or(NoOunces::ChargeUnknown)?;
        let most = MOST_CHARGE * right;
        if !(-most..=most).contains(&ounces) {
            return Err(NoOunces::TooMany { ounces, most });
        }
        let change = Change {
            more_charge: ounces / right,
            ..Change::NONE
        };
        Ok(self.against_now("after-charge", &change))
    }

    fn against_now(&self, what: &'static str, change: &Change) -> Forecast {
        match self.spread(&Change::NONE, None) {
            Ok(now) => self.forecast(what, change, &now),
            Err(why) => Forecast::none(what, &why),
        }
    }

    fn forecast(&self, what: &'static str, change: &Change, now: &Spread) -> Forecast {
        match self.spread(change, Some(now)) {
            Ok(then) => {
                let outlook = self.outlook(&then, now);
                let minimum = self.twin.told.minimum_superheat_f;
                Forecast {
                    what: what.to_owned(),
                    then: Some(outlook),
                    shift: Some(self.shift(&then, now)),
                    floods: then
                        .best()
                        .is_some_and(|point| point.floodback_kg_s > FLOODS * point.mass_flow_kg_s),
                    below_minimum: outlook.superheat_f.low < minimum,
                    why_not: then.why().map(|why| why.to_string()),
                }
            }
            Err(why) => Forecast::none(what, &why),
        }
    }
}

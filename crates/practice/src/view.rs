//! What a screen may show before the debrief: nothing hidden is in it.

use crate::act::{Action, Row};
use crate::case::Nameplate;
use crate::difficulty::Tells;
use crate::session::{Seen, Session, Stopped};
use diagnosis::{BulbTest, Field};
use serde::Serialize;

/// The session as a person sees it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct View {
    /// The case, to share.
    pub address: String,
    /// How hard, by its key.
    pub difficulty: &'static str,
    /// What Finding tells before the call, by its key.
    pub finding_tells: &'static str,
    /// What is given.
    pub nameplate: Nameplate,
    /// Seconds since arrival.
    pub at_s: u32,
    /// Shells.
    pub money: f64,
    /// Why it stands still, if it does.
    pub stopped: Option<Stopped>,
    /// Quarter turns from as found, clockwise positive.
    pub stem_quarters: i32,
    /// What the tools show: the field's key and its number.
    pub shown: Vec<(&'static str, f64)>,
    /// The bulb in a warm hand, if that was tried since the plant was changed.
    pub bulb_answer: Option<&'static str>,
    /// Everything that was seen.
    pub seen: Vec<Seen>,
    /// What was called, by keys.
    pub called: Vec<&'static str>,
    /// What can be done, with minutes, money, risk and caution.
    pub offered: Vec<Row>,
    /// Whether it is over and may be debriefed.
    pub over: bool,
}

impl Session {
    /// What a screen may show.
    pub fn view(&self) -> View {
        View {
            address: self.case.address(),
            difficulty: self.case.difficulty.key(),
            finding_tells: self.finding_tells().key(),
            nameplate: self.case.nameplate.clone(),
            at_s: self.at_s,
            money: self.shown_money(),
            stopped: self.stopped,
            stem_quarters: self.stem_quarters,
            shown: self.shown(),
            bulb_answer: self.reading().bulb_test.map(BulbTest::key),
            seen: self.seen.clone(),
            called: self.called.iter().map(|cause| cause.key()).collect(),
            offered: Action::samples()
                .iter()
                .filter(|action| self.offers(action))
                .map(|action| *action.row())
                .collect(),
            over: self.over,
        }
    }

    /// What the tools show: each field's key and its number.
    pub(crate) fn shown(&self) -> Vec<(&'static str, f64)> {
        self.reading()
            .entries()
            .map(|(field, value): (Field, f64)| (field.row().key, value))
            .collect()
    }

    /// To the tenth of a shell.
    pub(crate) fn shown_money(&self) -> f64 {
        libm::round(10.0 * self.money()) / 10.0
    }

    /// What Finding may tell now: all of it once the cause is called.
    pub fn finding_tells(&self) -> Tells {
        if self.called.is_empty() && !self.over {
            self.case.difficulty.tells()
        } else {
            Tells::All
        }
    }
}

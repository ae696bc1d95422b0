//! A scripted technician who keeps the trade's order. Sees only what a person sees: plate, looks,
//! tools.

use crate::act::{Action, Place, Spot};
use crate::ask::{Asked, Known, ask};
use crate::eyes::Looks;
use crate::session::Session;
use diagnosis::{
    ActionOrder, Banded, Cause, Derived, Field, Gate, Metering, Reading, Setup, Verdict, check,
    derive,
};
use quantity::TemperatureDifference;

type Difference = Banded<TemperatureDifference>;

/// Rounds of ask, mend, read again.
const ROUNDS: usize = 8;
/// What a mend must move to count as the answer, °F; the tools' standing error cancels.
const ANSWER_F: f64 = 2.0;

/// Works a case from arrival to leaving as the trade would: look, measure, wait, free and reversible
/// first, one change at a time, then call.
pub fn good_technician(session: &mut Session) {
    let mut hand = Good {
        known: Known::default(),
        found: Vec::new(),
        session,
    };
    hand.look_round();
    hand.connect();
    hand.wait_for_rest(6);
    hand.free_things();
    hand.rounds();
    let causes = if hand.found.is_empty() {
        vec![hand.nothing_or_load()]
    } else {
        hand.found.clone()
    };
    hand.does(Action::Call { causes });
    hand.does(Action::Leave);
}

/// The scripted hand.
pub(crate) struct Good<'a> {
    pub(crate) session: &'a mut Session,
    pub(crate) known: Known,
    /// Causes that answered.
    pub(crate) found: Vec<Cause>,
}

impl Good<'_> {
    /// What is refused is not done; the script goes on with what it sees.
    pub(crate) fn does(&mut self, action: Action) -> bool {
        self.session.apply(action).is_ok()
    }

    pub(crate) fn setup(&self) -> Setup {
        self.session.setup(Gate::HELD)
    }

    fn look_round(&mut self) {
        for spot in Spot::ALL {
            if let Ok(seen) = self.session.apply(Action::Look { spot })
                && let Some(looks) = seen.first().and_then(|seen| seen.looks)
            {
                self.known.looks.push((spot, looks));
            }
        }
    }

    fn connect(&mut self) {
        self.does(Action::HangAirProbes);
        self.does(Action::StrapProbes {
            place: Place::Bulb,
            wrapped: true,
        });
        self.does(Action::ConnectGauges {
            place: Place::ServiceValve,
        });
        self.does(Action::ClampAmps);
    }

    fn looks(&self, spot: Spot) -> Option<Looks> {
        let about = self.known.looks.iter().find(|(of, _)| *of == spot);
        about.map(|(_, looks)| *looks)
    }

    /// The mean of four readings over a minute.
    pub(crate) fn read(&mut self) -> Reading {
        let mut sums = [0.0; Field::COUNT];
        let mut last = Reading::default();
        for _ in 0..4 {
            self.session.pass(15);
            last = self.session.reading();
            for (field, value) in last.entries() {
                sums[field.index()] += value / 4.0;
            }
        }
        let mut mean = last.clone();
        for (field, _) in last.entries() {
            mean.set(field, Some(sums[field.index()]));
        }
        mean
    }

    pub(crate) fn derived(&self, reading: &Reading) -> Derived {
        derive(&check(&self.setup(), reading).0)
    }

    /// Waits until superheat and the liquid stand still: at least so many minutes, at most 20.
    pub(crate) fn wait_for_rest(&mut self, least: u32) {
        let mut seen: Vec<(f64, f64)> = Vec::new();
        for minute in 1..=20 {
            let reading = self.read();
            let derived = self.derived(&reading);
            let Some((superheat, subcooling)) = derived.superheat.zip(derived.subcooling) else {
                return;
            };
            seen.push((superheat.value.f(), subcooling.value.f()));
            let spread = |pick: fn(&(f64, f64)) -> f64| {
                let last = seen.iter().rev().take(4).map(pick);
                last.clone().fold(f64::NEG_INFINITY, f64::max) - last.fold(f64::INFINITY, f64::min)
            };
            if minute >= least
                && seen.len() >= 4
                && spread(|it| it.0) < 0.8
                && spread(|it| it.1) < 0.6
            {
                return;
            }
        }
    }

    /// What costs nothing and can be undone, where eyes found it amiss, or could not tell and it is
    /// quick.
    fn free_things(&mut self) {
        let quick = [
            (Spot::Bulb, Cause::BulbContact, true),
            (Spot::Filter, Cause::LowAirflow, true),
            (Spot::IndoorCoil, Cause::LowAirflow, false),
            (Spot::Surroundings, Cause::HotAirRecirculation, false),
            (Spot::OutdoorCoil, Cause::CondenserFouled, false),
        ];
        for (spot, cause, when_unclear) in quick {
            let mend = match self.looks(spot) {
                Some(Looks::Amiss) => true,
                Some(Looks::Unclear) => when_unclear,
                _ => false,
            };
            if mend {
                self.tries(cause, mend_of(spot));
            }
        }
    }

    /// Mends one thing, waits, reads again, and notes whether it was the answer.
    pub(crate) fn tries(&mut self, cause: Cause, action: Action) {
        let before = self.read();
        if !self.does(action) {
            self.known.settled.push(cause);
            return;
        }
        self.start_again();
        self.wait_for_rest(8);
        let after = self.read();
        if answers(cause, &self.derived(&before), &self.derived(&after)) {
            self.finds(cause);
        }
        if !self.known.settled.contains(&cause) {
            self.known.settled.push(cause);
        }
    }

    pub(crate) fn finds(&mut self, cause: Cause) {
        if !self.found.contains(&cause) {
            self.found.push(cause);
        }
    }

    pub(crate) fn start_again(&mut self) {
        if self.session.stopped().is_some() {
            self.does(Action::StartAgain);
        }
    }

    fn asks(&mut self) -> Asked {
        loop {
            let reading = self.read();
            let asked = ask(&self.setup(), &reading, &self.known);
            match asked.next_test.clone() {
                Some(test) => {
                    if !self.does(test) {
                        return asked;
                    }
                    self.wait_for_rest(1);
                }
                None => return asked,
            }
        }
    }

    fn rounds(&mut self) {
        for _ in 0..ROUNDS {
            self.start_again();
            let asked = self.asks();
            let both_in_band = in_band(&asked.said.derived, &self.setup());
            let settled = &self.known.settled;
            let open = |(cause, _): &(Cause, f64)| !settled.contains(cause);
            let lead = asked.ranked.iter().copied().find(open);
            let Some((cause, weight)) = lead else {
                return;
            };
            let nothing = is_left_alone(cause) || weight < 0.12;
            // With both numbers in their bands nothing weighty is done on a guess.
            let weighty = cause.words().order >= ActionOrder::Stem;
            if nothing || (both_in_band && weighty && weight < 0.35) {
                return;
            }
            if !self.mends(cause, &asked) {
                self.known.settled.push(cause);
            }
        }
    }

    /// Does what the cause asks for; gives back whether anything was done.
    fn mends(&mut self, cause: Cause, asked: &Asked) -> bool {
        match cause {
            Cause::BulbContact => self.tries(cause, Action::StrapBulb),
            Cause::LowAirflow => {
                self.tries(cause, Action::ChangeFilter);
                if !self.found.contains(&cause) {
                    self.tries(cause, Action::CleanIndoorCoil);
                }
            }
            Cause::HotAirRecirculation => self.tries(cause, Action::ClearRecess),
            Cause::CondenserFouled => self.tries(cause, Action::WashCondenser),
            Cause::ValveUnderfeeding | Cause::ValveOverfeeding => return self.feeds(cause),
            Cause::LowCharge | Cause::Overcharge => {
                return self.charges(cause, &asked.said.derived);
            }
            Cause::NonCondensables | Cause::WrongRefrigerant => {
                let off = asked
                    .said
                    .derived
                    .standing
                    .is_some_and(|it| it.is_off_chart());
                if off {
                    self.finds(cause);
                    self.does(Action::Recharge);
                    self.wait_for_rest(8);
                    self.known.settled.push(Cause::NonCondensables);
                    self.known.settled.push(Cause::WrongRefrigerant);
                }
                return off;
            }
            Cause::LiquidRestriction => self.tries(cause, Action::ChangeDrier),
            Cause::SuctionRestriction => self.tries(cause, Action::ClearSuctionLine),
            Cause::WeakCompressor => self.tries(cause, Action::ReplaceCompressor),
            Cause::NoFault | Cause::LowLoad | Cause::HighLoad => return false,
        }
        true
    }

    fn nothing_or_load(&mut self) -> Cause {
        let asked = self.asks();
        let loads = [Cause::LowLoad, Cause::HighLoad, Cause::NoFault];
        asked
            .ranked
            .iter()
            .map(|(cause, _)| *cause)
            .find(|cause| loads.contains(cause))
            .unwrap_or(Cause::NoFault)
    }
}

const fn is_left_alone(cause: Cause) -> bool {
    matches!(cause, Cause::NoFault | Cause::LowLoad | Cause::HighLoad)
}

fn in_band(derived: &Derived, setup: &Setup) -> bool {
    let outside = |value: Option<Difference>, target: &diagnosis::Target| {
        value.is_none_or(|it| matches!(it.against(target), Verdict::Above | Verdict::Below))
    };
    let orifice = setup.metering == Metering::FixedOrifice;
    !outside(derived.superheat, &derived.superheat_target)
        && (orifice || !outside(derived.subcooling, &derived.subcooling_target))
}

const fn mend_of(spot: Spot) -> Action {
    match spot {
        Spot::Filter => Action::ChangeFilter,
        Spot::IndoorCoil => Action::CleanIndoorCoil,
        Spot::Surroundings => Action::ClearRecess,
        Spot::OutdoorCoil => Action::WashCondenser,
        _ => Action::StrapBulb,
    }
}

/// Whether what was read moved as it does when this cause is gone.
fn answers(cause: Cause, before: &Derived, after: &Derived) -> bool {
    let rose = |pick: fn(&Derived) -> Option<f64>| {
        pick(before)
            .zip(pick(after))
            .map_or(0.0, |(before, after)| after - before)
    };
    let superheat = |it: &Derived| it.superheat.map(|it| it.value.f());
    let evaporating = |it: &Derived| it.suction_saturation.map(|it| it.value.f());
    let condensing = |it: &Derived| it.liquid_saturation.map(|it| it.value.f());
    match cause {
        Cause::BulbContact => rose(superheat) > ANSWER_F,
        Cause::LowAirflow => rose(evaporating) > ANSWER_F,
        Cause::CondenserFouled => {
            rose(|it| it.condensing_over_entering.map(|it| it.value.f())) < -ANSWER_F
        }
        Cause::HotAirRecirculation => {
            rose(|it| it.entering_air_rise.map(|it| it.value.f())) < -ANSWER_F
        }
        Cause::LiquidRestriction | Cause::ValveUnderfeeding => {
            rose(superheat) < -ANSWER_F || rose(evaporating) > ANSWER_F
        }
        Cause::SuctionRestriction => rose(evaporating) > ANSWER_F,
        Cause::ValveOverfeeding => rose(superheat) > ANSWER_F,
        Cause::WeakCompressor => rose(evaporating) < -ANSWER_F && rose(condensing) > ANSWER_F / 2.0,
        _ => false,
    }
}

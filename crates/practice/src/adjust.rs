//! How the scripted good technician sets stem and charge.

use crate::act::Action;
use crate::technician::Good;
use coach::{Advice, Entry, Minutes, Plan, Stop, advise};
use diagnosis::{Cause, Derived, Metering};
use quantity::TemperatureDifference;

/// Steps at the charge; minutes at the stem.
const CHARGE_STEPS: usize = 7;
const STEM_MINUTES: u32 = 150;
/// Scatter of one reading, °F, as the job takes it.
const SCATTER_F: f64 = 0.8;
/// Subcooling for a tenth of charge, °F, and superheat of an orifice: model of the plant.
const SUBCOOLING_A_TENTH_F: f64 = 6.5;
const SUPERHEAT_A_TENTH_F: f64 = 14.0;
/// Closed this far, quarters, with liquid still coming: the stem is not what limits this valve.
const NO_ANSWER_QUARTERS: i32 = 28;
/// A stem this far from as found was set wrong, quarters.
const WORTH_CALLING: i32 = 5;
impl Good<'_> {
    /// The stem where there is one, a new device where that does not answer.
    pub(crate) fn feeds(&mut self, cause: Cause) -> bool {
        if self.session.case().nameplate.metering == Metering::AdjustableTxv {
            let before = self.session.stem_quarters();
            let stop = self.sets_stem();
            let moved = self.session.stem_quarters() - before;
            if stop == Some(Stop::AtTarget) {
                if moved.abs() >= WORTH_CALLING {
                    self.finds(if moved < 0 {
                        Cause::ValveUnderfeeding
                    } else {
                        Cause::ValveOverfeeding
                    });
                }
                self.known.settled.push(cause);
                return true;
            }
            // It does not answer: back to as found before anything else is judged.
            self.put_back(-moved);
        }
        self.tries(cause, Action::ReplaceValve);
        true
    }

    fn put_back(&mut self, quarters: i32) {
        let mut left = quarters;
        while left != 0 {
            let step = left.clamp(-8, 8);
            if !self.does(Action::TurnStem { quarters: step }) {
                return;
            }
            left -= step;
        }
    }

    /// Turns as the coach says until it stops.
    fn sets_stem(&mut self) -> Option<Stop> {
        let begun = self.session.at_s();
        let mut log: Vec<Entry> = Vec::new();
        let mut closed = 0;
        loop {
            let minutes = f64::from(self.session.at_s() - begun) / 60.0;
            if minutes > f64::from(STEM_MINUTES) || self.session.stopped().is_some() {
                return None;
            }
            let reading = self.session.reading();
            let derived = self.derived(&reading);
            if let Some(superheat) = derived.superheat {
                log.push(Entry::Reading {
                    at: Minutes::new(minutes),
                    superheat: superheat.value,
                    swing: None,
                    condensing: derived.condensing.map(|at| at.value),
                });
            }
            let Advice { next, stop, .. } =
                advise(&self.plan(&derived), &log, Minutes::new(minutes));
            match (stop, next) {
                (Some(Stop::BelowMinimum) | None, Some(by)) => {
                    let before = self.session.stem_quarters();
                    // Flooded still after the first small step: whole turns, or it takes all day.
                    let flooded = stop.is_some() && closed > 0;
                    let by = coach::Quarters::new(if flooded { by.get().max(4) } else { by.get() });
                    if stop.is_some() {
                        closed += by.get();
                    }
                    if closed > NO_ANSWER_QUARTERS {
                        return Some(Stop::NoResponse);
                    }
                    if !self.does(Action::TurnStem { quarters: by.get() }) {
                        return None;
                    }
                    let at = Minutes::new(f64::from(self.session.at_s() - begun) / 60.0);
                    let moved = self.session.stem_quarters() - before;
                    log.push(Entry::Turn {
                        at,
                        by: coach::Quarters::new(moved),
                    });
                    if moved != by.get() {
                        return Some(Stop::StemEnd);
                    }
                }
                (Some(Stop::BelowMinimum), None) | (None, None) => self.session.pass(30),
                (Some(stop), _) => return Some(stop),
            }
        }
    }

    fn plan(&self, derived: &Derived) -> Plan {
        let setup = self.setup();
        let bias = derived
            .superheat
            .map_or(TemperatureDifference::ZERO, |it| it.half_width);
        Plan {
            low: derived.superheat_target.low,
            high: derived.superheat_target.high,
            minimum: setup.minimum_superheat,
            scatter: TemperatureDifference::from_f(SCATTER_F),
            bias,
            head_limit: None,
            opening_end: None,
            closing_end: None,
        }
    }

    /// By weight in small amounts until the number that charge sets is in its band.
    pub(crate) fn charges(&mut self, cause: Cause, derived: &Derived) -> bool {
        let add = cause == Cause::LowCharge;
        let Some(mut off) = self.charge_off(derived) else {
            return false;
        };
        // Charge is touched only where the number says so.
        if (add && off > -1.0) || (!add && off < 1.0) {
            return false;
        }
        if add {
            self.does(Action::SearchLeak);
        }
        let orifice = self.session.case().nameplate.metering == Metering::FixedOrifice;
        let slope = if orifice {
            SUPERHEAT_A_TENTH_F
        } else {
            SUBCOOLING_A_TENTH_F
        };
        let plate = self.session.case().nameplate.plate_charge_oz;
        for _ in 0..CHARGE_STEPS {
            let share = (0.8 * off.abs() / slope * 0.1).clamp(0.015, 0.08);
            let ounces = (share * plate).min(64.0);
            let done = if off < 0.0 {
                self.does(Action::AddCharge { ounces })
            } else {
                self.does(Action::TakeCharge { ounces })
            };
            if !done {
                break;
            }
            self.start_again();
            self.wait_for_rest(6);
            let reading = self.read();
            let Some(now) = self.charge_off(&self.derived(&reading)) else {
                break;
            };
            let crossed = (now < 0.0) != add;
            off = now;
            if off.abs() < 1.5 || crossed {
                break;
            }
        }
        self.finds(cause);
        self.known.settled.push(cause);
        true
    }

    /// How far the number that charge sets is off the middle of its band: under 0, short of charge.
    fn charge_off(&self, derived: &Derived) -> Option<f64> {
        if self.session.case().nameplate.metering == Metering::FixedOrifice {
            let superheat = derived.superheat?;
            return Some((derived.superheat_target.middle() - superheat.value).f());
        }
        Some((derived.subcooling?.value - derived.subcooling_target.middle()).f())
    }
}

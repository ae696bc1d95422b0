//! What can be done now: checked before an action, never after.

use crate::act::Action;
use crate::eyes;
use crate::refused::Refused;
use crate::session::{HELD_S, Session};

/// Longest wait and longest visit, s.
const LONGEST_WAIT_S: u32 = 4 * 3600;
pub(crate) const LONGEST_VISIT_S: u32 = 24 * 3600;
/// Most that the stem goes in one step, quarters, as on a real job.
const STEP_QUARTERS: u32 = 8;
const MOST_OUNCES: f64 = 64.0;
const MOST_CAUSES: usize = 4;

impl Session {
    /// Whether this could be done now, in some way.
    pub(crate) fn offers(&self, action: &Action) -> bool {
        self.refuses(action).is_ok()
    }

    /// Seconds from the beginning of an action to its end.
    pub(crate) fn took_s(&self, action: &Action) -> u32 {
        match action {
            Action::Wait { seconds } => *seconds,
            Action::WarmBulb => 60 * action.row().minutes + HELD_S,
            Action::WatchNeedle => 60 * action.row().minutes + 60,
            _ => 60 * action.row().minutes,
        }
    }

    pub(crate) fn refuses(&self, action: &Action) -> Result<(), Refused> {
        let metering = self.case.nameplate.metering;
        if matches!(action, Action::Wait { seconds } if *seconds > LONGEST_WAIT_S) {
            return Err(Refused::TooLong);
        }
        let within = |ounces: f64| ounces > 0.0 && ounces <= MOST_OUNCES;
        let charge = |ounces: f64| {
            let after = self.wrong.faults.charge + self.share_of(ounces);
            (0.4..=1.6).contains(&after)
        };
        let checks: [(bool, Refused); 4] = [
            (!self.over, Refused::Over),
            (
                self.at_s + self.took_s(action) <= LONGEST_VISIT_S,
                Refused::TooLong,
            ),
            (
                self.stopped.is_none() || !needs_running(action),
                Refused::Stopped,
            ),
            (
                self.bag.gauges.is_some() || !needs_gauges(action),
                Refused::GaugesFirst,
            ),
        ];
        for (holds, refused) in checks {
            if !holds {
                return Err(refused);
            }
        }
        match action {
            Action::Look { spot } if !eyes::is_there(*spot, metering) => Err(match spot {
                crate::act::Spot::Bulb => Refused::NoBulb,
                _ => Refused::NoStem,
            }),
            Action::StrapBulb | Action::WarmBulb if !metering.has_bulb() => Err(Refused::NoBulb),
            Action::TurnStem { .. } if metering != diagnosis::Metering::AdjustableTxv => {
                Err(Refused::NoStem)
            }
            Action::TurnStem { quarters }
                if !(1..=STEP_QUARTERS).contains(&quarters.unsigned_abs()) =>
            {
                Err(Refused::Step {
                    quarters: *quarters,
                })
            }
            Action::AddCharge { ounces } | Action::TakeCharge { ounces } if !within(*ounces) => {
                Err(Refused::Weight { ounces: *ounces })
            }
            Action::AddCharge { ounces } if !charge(*ounces) => Err(Refused::Charge),
            Action::TakeCharge { ounces } if !charge(-ounces) => Err(Refused::Charge),
            Action::StartAgain if self.stopped.is_none() => Err(Refused::Runs),
            Action::Call { causes } => {
                let mut once = causes.clone();
                once.sort_unstable();
                once.dedup();
                if once.len() == causes.len() && causes.len() <= MOST_CAUSES {
                    Ok(())
                } else {
                    Err(Refused::Call)
                }
            }
            _ => Ok(()),
        }
    }
}

const fn needs_running(action: &Action) -> bool {
    matches!(
        action,
        Action::WarmBulb
            | Action::WatchNeedle
            | Action::WalkLiquidLine
            | Action::CompareSuction
            | Action::ClampAmps
    )
}

const fn needs_gauges(action: &Action) -> bool {
    matches!(
        action,
        Action::WarmBulb
            | Action::WatchNeedle
            | Action::CompareSuction
            | Action::StandingTest
            | Action::AddCharge { .. }
            | Action::TakeCharge { .. }
    )
}

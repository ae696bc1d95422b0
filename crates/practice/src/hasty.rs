//! A scripted technician in a hurry. Sees only what a person sees, and little of that.

use crate::act::{Action, Place};
use crate::session::Session;
use diagnosis::{Cause, Gate, Metering, check, derive};

/// Most that goes in at once, ounces.
const MOST_HASTY_OZ: f64 = 32.0;

/// Works a case in a hurry: gauges, a bare thermometer, and then every two minutes a turn at the stem
/// towards the target, or charge in where superheat is high and there is no stem, or the stem has not
/// helped; forty minutes, and a call.
pub fn hasty_technician(session: &mut Session) {
    // What is refused is not done; the hurry goes on.
    let does = |session: &mut Session, action: Action| session.apply(action).is_ok();
    does(
        session,
        Action::ConnectGauges {
            place: Place::ServiceValve,
        },
    );
    does(
        session,
        Action::StrapProbes {
            place: Place::Bulb,
            wrapped: false,
        },
    );
    let plate = session.case().nameplate.clone();
    let (mut added, mut turned) = (false, 0);
    for round in 0..20 {
        session.pass(120);
        if session.stopped().is_some() && !does(session, Action::StartAgain) {
            break;
        }
        let setup = session.setup(Gate::OPEN);
        let derived = derive(&check(&setup, &session.reading()).0);
        let Some(superheat) = derived.superheat.map(|it| it.value.f()) else {
            continue;
        };
        let stem = plate.metering == Metering::AdjustableTxv;
        if superheat > plate.superheat_high_f {
            if stem && round % 3 != 2 {
                if does(session, Action::TurnStem { quarters: -4 }) {
                    turned -= 4;
                }
            } else {
                let ounces = (0.06 * plate.plate_charge_oz).min(MOST_HASTY_OZ);
                added |= does(session, Action::AddCharge { ounces });
            }
        } else if superheat < plate.superheat_low_f
            && stem
            && does(session, Action::TurnStem { quarters: 4 })
        {
            turned += 4;
        }
    }
    let cause = if added {
        Cause::LowCharge
    } else if turned < 0 {
        Cause::ValveUnderfeeding
    } else if turned > 0 {
        Cause::ValveOverfeeding
    } else {
        Cause::NoFault
    };
    does(
        session,
        Action::Call {
            causes: vec![cause],
        },
    );
    does(session, Action::Leave);
}

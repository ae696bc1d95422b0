//! The trade's order, scored: free and reversible first, looked at and measured before anything
//! weighty.

use crate::act::{Action, Spot};
use crate::eyes::is_there;
use crate::facts::Deed;
use crate::score::{Lost, lost};
use crate::session::Session;
use diagnosis::{ActionOrder, Cause};

/// Something that comes before something else.
struct Before {
    /// What comes later.
    later: fn(&Deed) -> bool,
    /// Any of these must have come first.
    first: fn(&Action) -> bool,
    points: f64,
    reason: &'static str,
    /// Only where the device has this spot.
    spot: Option<Spot>,
}

const fn weighty(deed: &Deed) -> bool {
    matches!(
        deed.action.row().order,
        ActionOrder::Stem | ActionOrder::Charge | ActionOrder::Repair
    )
}

macro_rules! looked {
    ($spot:pat) => {
        |action| matches!(action, Action::Look { spot: $spot })
    };
}

/// Over this superheat a coil is starved, and the liquid line is worth a walk, °F.
const STARVED_F: f64 = 15.0;

/// The trade's order, one row each.
const ORDER: [Before; 9] = [
    Before {
        later: weighty,
        first: |action| {
            matches!(
                action,
                Action::ChangeFilter | Action::Look { spot: Spot::Filter }
            )
        },
        points: 3.0,
        reason: "Stem, charge or a part came before a look at the filter, which is free.",
        spot: None,
    },
    Before {
        later: weighty,
        first: looked!(Spot::OutdoorCoil | Spot::Surroundings),
        points: 3.0,
        reason: "Stem, charge or a part came before a look at the condenser and its air.",
        spot: None,
    },
    Before {
        later: weighty,
        first: |action| {
            matches!(
                action,
                Action::StrapBulb | Action::Look { spot: Spot::Bulb }
            )
        },
        points: 3.0,
        reason: "Stem, charge or a part came before a look at the bulb: a loose one makes every reading lie.",
        spot: Some(Spot::Bulb),
    },
    Before {
        later: weighty,
        first: |action| matches!(action, Action::ConnectGauges { .. }),
        points: 3.0,
        reason: "Stem, charge or a part came before any pressure was read.",
        spot: None,
    },
    Before {
        later: weighty,
        first: |action| matches!(action, Action::StrapProbes { .. }),
        points: 3.0,
        reason: "Stem, charge or a part came before superheat could be read at all.",
        spot: None,
    },
    Before {
        later: |deed| matches!(deed.action, Action::AddCharge { .. }),
        first: |action| matches!(action, Action::SearchLeak),
        points: 2.0,
        reason: "Refrigerant went in before anybody searched for the leak it had left by.",
        spot: None,
    },
    Before {
        later: |deed| matches!(deed.action, Action::TakeCharge { .. }),
        first: |action| matches!(action, Action::StandingTest),
        points: 2.0,
        reason: "Refrigerant came out before the standing test had parted overcharge from gas.",
        spot: None,
    },
    Before {
        later: |deed| {
            let feed = matches!(deed.action, Action::ReplaceValve | Action::ChangeDrier);
            feed && deed
                .truly_f
                .is_some_and(|(superheat, _)| superheat > STARVED_F)
        },
        first: |action| matches!(action, Action::WalkLiquidLine),
        points: 3.0,
        reason: "A part of the feed was replaced before the liquid line was walked to see where it is blocked.",
        spot: None,
    },
    Before {
        later: |deed| matches!(deed.action, Action::Recharge),
        first: |action| matches!(action, Action::StandingTest),
        points: 3.0,
        reason: "The whole charge was changed before a standing test had shown that it must be.",
        spot: None,
    },
];

/// Points lost at the order of things.
pub(crate) fn order(session: &Session) -> Vec<Lost> {
    let deeds = &session.facts.deeds;
    let metering = session.case.nameplate.metering;
    let mut all: Vec<Lost> = ORDER
        .iter()
        .filter(|row| row.spot.is_none_or(|spot| is_there(spot, metering)))
        .filter_map(|row| {
            let place = deeds.iter().position(row.later)?;
            let earlier = deeds
                .iter()
                .take(place)
                .any(|deed| (row.first)(&deed.action));
            let at_s = deeds.get(place)?.at_s;
            (!earlier).then(|| lost(at_s, row.points, row.reason.to_owned()))
        })
        .collect();
    let in_vain = deeds.iter().filter(|deed| {
        let part = deed.action.row().order == ActionOrder::Repair;
        (part || deed.action == Action::Recharge) && !deed.mended
    });
    all.extend(in_vain.map(|deed| {
        lost(
            deed.at_s,
            4.0,
            format!("{}: nothing was wrong with it.", deed.action.row().says),
        )
    }));
    all.extend(free_left_behind(session));
    all
}

/// A weighty action while something free was still wrong.
fn free_left_behind(session: &Session) -> Option<Lost> {
    let deeds = &session.facts.deeds;
    let weighty = deeds.iter().position(weighty)?;
    let mended = |cause: Cause| {
        deeds
            .iter()
            .take(weighty)
            .any(|deed| deed.mended && mends(&deed.action) == Some(cause))
    };
    let left = session
        .case
        .troubles
        .iter()
        .map(|trouble| trouble.way.cause())
        .find(|&cause| is_free(cause) && !mended(cause))?;
    Some(lost(
        deeds.get(weighty)?.at_s,
        3.0,
        format!(
            "{}: free to mend and still there when stem, charge or a part was taken in hand.",
            left.words().name
        ),
    ))
}

const fn is_free(cause: Cause) -> bool {
    matches!(
        cause,
        Cause::LowAirflow
            | Cause::BulbContact
            | Cause::HotAirRecirculation
            | Cause::CondenserFouled
    )
}

const fn mends(action: &Action) -> Option<Cause> {
    match action {
        Action::ChangeFilter | Action::CleanIndoorCoil => Some(Cause::LowAirflow),
        Action::StrapBulb => Some(Cause::BulbContact),
        Action::ClearRecess => Some(Cause::HotAirRecirculation),
        Action::WashCondenser => Some(Cause::CondenserFouled),
        _ => None,
    }
}

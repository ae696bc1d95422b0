//! The one place where the scripted technician asks what may be wrong and what to try next: the
//! trade's table, tilted by what eyes saw and by what was already tried.

use crate::act::{Action, Spot};
use crate::eyes::{Looks, speaks_of};
use diagnosis::{Assessment, Cause, Field, Reading, Reads, Setup, Sign, Standing, Verdict, assess};

/// How far a look tilts a cause: not as it should, as it should. Stem turned by somebody tilts both
/// of its causes. Judgement, no source.
const AMISS: f64 = 6.0;
const FINE: f64 = 0.2;
const TOOL_MARKS: f64 = 2.0;
/// What was tried and did not answer, or is mended.
const TRIED: f64 = 0.02;
/// Tests worth their minutes for causes that weigh this much at least.
const IN_PLAY: f64 = 0.05;

/// What is known besides the reading.
#[derive(Clone, Debug, Default)]
pub(crate) struct Known {
    pub(crate) looks: Vec<(Spot, Looks)>,
    /// Mended, or tried without an answer.
    pub(crate) settled: Vec<Cause>,
}

/// What may be wrong, and what to find out first.
pub(crate) struct Asked {
    pub(crate) said: Assessment,
    /// Every cause with its weight, best first; the weights sum to 1.
    pub(crate) ranked: Vec<(Cause, f64)>,
    /// The cheapest test that parts causes in play and was not done since the plant was changed.
    pub(crate) next_test: Option<Action>,
}

/// Asks of one reading.
pub(crate) fn ask(setup: &Setup, reading: &Reading, known: &Known) -> Asked {
    let said = assess(setup, reading);
    let signs = Signs::of(&said);
    let mut ranked: Vec<(Cause, f64)> = said
        .findings
        .iter()
        .map(|finding| {
            let tilt = tilt(finding.cause, known) * signs.tilt(finding.cause);
            (finding.cause, finding.weight * tilt)
        })
        .collect();
    let total: f64 = ranked.iter().map(|(_, weight)| weight).sum();
    for (_, weight) in &mut ranked {
        *weight /= total.max(f64::MIN_POSITIVE);
    }
    ranked.sort_by(|one, other| other.1.total_cmp(&one.1));
    let next_test = next_test(setup, reading, &ranked);
    Asked {
        said,
        ranked,
        next_test,
    }
}

/// The few things that a practised eye takes from the signs beyond the table. Common practice, no
/// source; how far each tilts is judgement.
struct Signs {
    /// Superheat or subcooling is surely out of its band: that is not nothing.
    out_of_band: bool,
    /// The room is surely not a usual one: the load explains what a load moves.
    room: Option<Reads>,
    /// Amps surely low while the coil is well fed and the room usual: it pumps too little.
    idle: bool,
    /// Air that enters the condenser surely warmer than open shade.
    warm_entry: bool,
    /// Off the chart with the power off: gas rather than another refrigerant, or not.
    gas: Option<bool>,
}

const SURELY_NOT: f64 = 0.03;
const POINTS_TO: f64 = 60.0;
/// Standing over the chart by less than this ratio is gas rather than another refrigerant: a whole
/// atmosphere of air left inside adds some 15 psi.
const GAS_RATIO: (f64, f64) = (1.0, 1.2);
const GAS_RATHER: f64 = 4.0;

impl Signs {
    fn of(said: &Assessment) -> Self {
        let derived = &said.derived;
        let outside =
            |verdict: Option<Verdict>| matches!(verdict, Some(Verdict::Above | Verdict::Below));
        let superheat = derived
            .superheat
            .filter(|_| derived.superheat_target_known)
            .map(|it| it.against(&derived.superheat_target));
        let subcooling = derived
            .subcooling
            .map(|it| it.against(&derived.subcooling_target));
        let reads = |sign: Sign| {
            let seen = said.findings.first()?.evidence.iter();
            let mut of_it = seen.filter(|(seen, _)| seen.sign == sign);
            of_it.next().map(|(seen, _)| seen.reads())
        };
        let room = reads(Sign::ReturnAir);
        Self {
            out_of_band: outside(superheat) || outside(subcooling),
            room: room.filter(|it| matches!(it, Reads::Above | Reads::Below)),
            idle: reads(Sign::Amps) == Some(Reads::Below)
                && room == Some(Reads::Usual)
                && superheat != Some(Verdict::Above)
                && reads(Sign::Suction) != Some(Reads::Below),
            warm_entry: reads(Sign::EnteringAirRise) == Some(Reads::Above),
            gas: derived
                .standing
                .filter(Standing::is_off_chart)
                .map(|it| (GAS_RATIO.0..GAS_RATIO.1).contains(&it.ratio)),
        }
    }

    fn tilt(&self, cause: Cause) -> f64 {
        let mut tilt = 1.0;
        let amiss = self.out_of_band || self.room.is_some() || self.idle || self.warm_entry;
        if cause == Cause::NoFault && amiss {
            tilt *= SURELY_NOT;
        }
        tilt *= match (cause, self.gas) {
            (Cause::NonCondensables, Some(true)) | (Cause::WrongRefrigerant, Some(false)) => {
                GAS_RATHER
            }
            (Cause::NonCondensables, Some(false)) | (Cause::WrongRefrigerant, Some(true)) => {
                1.0 / GAS_RATHER
            }
            _ => 1.0,
        };
        if self.idle {
            tilt *= match cause {
                Cause::WeakCompressor => POINTS_TO,
                // Short of charge, suction falls with the amps.
                Cause::LowCharge => 1.0 / POINTS_TO,
                _ => 1.0,
            };
        }
        tilt
    }
}

fn tilt(cause: Cause, known: &Known) -> f64 {
    let mut tilt = 1.0;
    let about: Vec<Looks> = known
        .looks
        .iter()
        .filter(|(spot, _)| speaks_of(*spot) == Some(cause))
        .map(|(_, looks)| *looks)
        .collect();
    if about.contains(&Looks::Amiss) {
        tilt *= AMISS;
    } else if !about.is_empty() && about.iter().all(|looks| *looks == Looks::Fine) {
        tilt *= FINE;
    }
    let marks = known.looks.contains(&(Spot::StemCap, Looks::Amiss));
    if marks && matches!(cause, Cause::ValveUnderfeeding | Cause::ValveOverfeeding) {
        tilt *= TOOL_MARKS;
    }
    if known.settled.contains(&cause) {
        tilt *= TRIED;
    }
    tilt
}

/// One test: what it reads, what it parts.
type Test = (Action, Field, &'static [Cause]);

/// Cheapest first.
const TESTS: [Test; 3] = [
    (
        Action::WalkLiquidLine,
        Field::LiquidLineEnd,
        &[
            Cause::ValveUnderfeeding,
            Cause::LiquidRestriction,
            Cause::LowCharge,
            Cause::SuctionRestriction,
        ],
    ),
    (
        Action::CompareSuction,
        Field::CoilPressure,
        &[
            Cause::SuctionRestriction,
            Cause::ValveUnderfeeding,
            Cause::LowAirflow,
            Cause::LowLoad,
        ],
    ),
    (
        Action::StandingTest,
        Field::StandingPressure,
        &[
            Cause::NonCondensables,
            Cause::Overcharge,
            Cause::WrongRefrigerant,
        ],
    ),
];

fn next_test(setup: &Setup, reading: &Reading, ranked: &[(Cause, f64)]) -> Option<Action> {
    let in_play = |causes: &[Cause]| {
        ranked
            .iter()
            .any(|(cause, weight)| *weight >= IN_PLAY && causes.contains(cause))
    };
    let warm = setup.metering.has_bulb()
        && reading.bulb_test.is_none()
        && in_play(&[Cause::ValveUnderfeeding]);
    if warm {
        return Some(Action::WarmBulb);
    }
    TESTS
        .iter()
        .find(|(_, field, causes)| reading.get(*field).is_none() && in_play(causes))
        .map(|(action, _, _)| action.clone())
}

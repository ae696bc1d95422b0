//! The one entry: a setup and a reading in, every cause with its probability out.

use diagnosis::{
    Assessment, Cause, Doubt, Finding, Reading, Setup, Sign, assess, check, goes_with, tilted_prior,
};

use crate::charge::{Proposal, guarded, proposal};
use crate::class::{Class, Scale};
use crate::library::{Kind, Part};
use crate::next::{NextTest, next_test};
use crate::read::{Air, givens, numbers};
use crate::row::{ANSWERS, Row};
use crate::stored::model;
use crate::weigh::{Ground, Number, Weighed, sum_of_logs, weigh};

/// Evidence counts for less than its face value, since the model is not the machine: its logarithm
/// is multiplied by this. Chosen on simulated calls.
const TEMPER: f64 = 0.8;
/// How common it is that nothing the model knows explains a reading; the trade's table then speaks
/// alone. Judgement, no source.
const UNEXPLAINED: f64 = 0.02;
/// How wide such a reading may lie about the sound plant, K (percent of amps).
const UNEXPLAINED_SPREAD: f64 = 12.0;
/// Signs that the model cannot give: they enter by the trade's table.
const BY_TABLE: [Sign; 3] = [Sign::Standing, Sign::BulbAnswer, Sign::DrierDrop];

/// A cause less probable than this is folded away, as in the trade's table. Judgement, no source.
const WORTH_SHOWING: f64 = 0.04;

/// How large a fault is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// What is sized, with its unit.
    pub says: &'static str,
    /// The likeliest size.
    pub middle: f64,
    /// Nine in ten lie between this
    pub low: f64,
    /// and this.
    pub high: f64,
}

/// A state of the plant and how probable it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Belief {
    /// One cause, or two at once.
    pub class: Class,
    /// 0 to 1; all beliefs of a reading sum to 1.
    pub probability: f64,
    /// Of the first cause, where it has one.
    pub size: Option<Size>,
}

/// Everything that can be said of a reading by table and model together.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// What the trade's table says; its charge reason is that of table and model together.
    pub assessment: Assessment,
    /// Every state with its probability, best first.
    pub posterior: Vec<Belief>,
    /// For each cause how probable it is that it is there, alone or with another, best first. Sums
    /// to 1 or more.
    pub causes: Vec<(Cause, f64)>,
    /// How much of the reading the model explains, 0 to 1. The rest is left to the table.
    pub explained: f64,
    /// First cause of the table and first cause of both together, where these differ.
    pub disagree: Option<(Cause, Cause)>,
    /// The test that tells most for a minute of work, if any tells enough.
    pub next_test: Option<NextTest>,
    /// A small step of charge, only where the guard allows one.
    pub proposal: Option<Proposal>,
}

impl Judged {
    /// How probable it is that this cause is there, alone or with another.
    pub fn probability(&self, cause: Cause) -> f64 {
        let found = self.causes.iter().find(|(of, _)| *of == cause);
        found.map_or(0.0, |(_, probability)| *probability)
    }

    /// The posterior as one share a cause, best first: two causes at once count half to each, so that
    /// all shares sum to 1.
    pub fn shares(&self) -> Vec<(Cause, f64)> {
        let share = |cause| {
            let of = self.posterior.iter().filter(|of| of.class.has(cause));
            of.map(|of| match of.class.second {
                None => of.probability,
                Some(_) => of.probability / 2.0,
            })
            .sum()
        };
        let mut shares: Vec<(Cause, f64)> =
            (self.causes.iter().map(|(cause, _)| (*cause, share(*cause)))).collect();
        shares.sort_by(|a, b| b.1.total_cmp(&a.1));
        shares
    }

    /// Two causes at once that are probable enough to be shown, best first.
    pub fn pairs(&self) -> impl Iterator<Item = (Cause, Cause, f64)> {
        let worth = |of: &&Belief| of.probability >= WORTH_SHOWING;
        (self.posterior.iter().filter(worth))
            .filter_map(|of| Some((of.class.first, of.class.second?, of.probability)))
    }

    /// Where table and model part, in one sentence.
    pub fn disagreement(&self) -> Option<String> {
        let name = |cause| {
            let finding = self.assessment.findings.iter().find(|f| f.cause == cause);
            finding.map_or("", Finding::name)
        };
        let (table, both) = self.disagree?;
        Some(format!(
            "The trade's table puts \u{201c}{}\u{201d} first; with the model of the plant it is \u{201c}{}\u{201d}.",
            name(table),
            name(both)
        ))
    }

    /// The causes worth showing, best first, each with the table's finding (its name, action and
    /// evidence) and how probable it is that it is there.
    pub fn shown(&self) -> impl Iterator<Item = (&Finding, f64)> {
        let worth = self.causes.iter().filter(|(_, p)| *p >= WORTH_SHOWING);
        worth.filter_map(|(cause, probability)| {
            let finding = self
                .assessment
                .findings
                .iter()
                .find(|f| f.cause == *cause)?;
            Some((finding, *probability))
        })
    }
}

/// Says which causes are behind a reading, how probable each is and what to do next.
///
/// - `charge_oz`: charge by the plate with its line allowance, oz, if known; turns a share of charge
///   into ounces.
///
/// Never fails: what was refused or doubted stands in the assessment; what was not read is left
/// out, and with nothing read the posterior is the prior.
///
/// # Example
/// ```
/// use belief::judge;
/// use diagnosis::{Cause, Field, Gate, Metering, Pedigree, Reading, Setup, Target};
/// use refrigerant::Refrigerant;
/// let setup = Setup {
///     subcooling_target: Some(Target::from_f(7.0, 13.0, Pedigree::DataPlate)),
///     superheat_target: Some(Target::from_f(8.0, 12.0, Pedigree::DataPlate)),
///     gate: Gate::HELD,
///     ..Setup::new(Refrigerant::R410A, Metering::AdjustableTxv)
/// };
/// let short = Reading::of(&[
///     (Field::SuctionPressure, 108.0), (Field::SuctionLine, 58.0),
///     (Field::LiquidPressure, 340.0), (Field::LiquidLine, 104.5), (Field::OpenAir, 95.0),
/// ]);
/// let said = judge(&setup, &short, None);
/// assert_eq!(said.causes[0].0, Cause::LowCharge);
/// assert!(judge(&setup, &Reading::default(), None).next_test.is_some());
/// ```
pub fn judge(setup: &Setup, reading: &Reading, charge_oz: Option<f64>) -> Judged {
    let mut assessment = assess(setup, reading);
    let (checked, _) = check(setup, reading);
    let believe_pressures = !assessment.doubts.iter().any(Doubt::voids_pressures);
    let numbers = numbers(&checked, believe_pressures);
    let model = model(setup.metering);
    let derived = &assessment.derived;
    let grounds = Air::ALL.map(|air| {
        let givens = givens(setup, derived, air);
        Ground::new(model, setup.refrigerant, &numbers, &givens)
    });

    let by_table = |class: Class| table_evidence(class, setup, &assessment);
    let prior = |cause| tilted_prior(cause, &checked, derived);
    let mut states: Vec<State> = Class::ALL
        .iter()
        .zip(&model.kinds)
        .filter_map(|(&class, kind)| {
            let kind = kind.as_ref().or(model.kinds.first()?.as_ref())?;
            let chance = chance(class, &prior);
            if chance <= 0.0 || !class.is_possible(setup.metering) {
                return None;
            }
            let ground = &grounds[air(class) as usize];
            let weighed = weigh(ground, kind, &numbers);
            let log = libm::log(chance) + TEMPER * (weighed.log + by_table(class));
            Some(State {
                class,
                kind,
                ground,
                weighed,
                log,
                probability: 0.0,
            })
        })
        .collect();
    let unexplained = unexplained(&grounds[Air::Faulty as usize], &numbers);
    let explained = share_out(&mut states, unexplained, &assessment);

    let wrong = weight(&assessment, Cause::WrongRefrigerant);
    let causes = causes(&states, wrong);
    let next_test = next_test(setup, &assessment, &numbers, &states, wrong);
    let probability = |cause| {
        let found = causes.iter().find(|(of, _)| *of == cause);
        found.map_or(0.0, |(_, probability)| *probability)
    };
    assessment.charge = guarded(assessment.charge, &probability);
    let proposal = proposal(&assessment, model, &states, charge_oz);
    let first = (assessment.findings.first().map(|f| f.cause)).zip(causes.first().map(|c| c.0));
    Judged {
        posterior: beliefs(&states, wrong),
        disagree: first.filter(|(table, both)| table != both),
        causes,
        explained,
        next_test,
        proposal,
        assessment,
    }
}

/// A class at this reading.
pub(crate) struct State<'a> {
    pub(crate) class: Class,
    pub(crate) kind: &'a Kind,
    pub(crate) ground: &'a Ground,
    pub(crate) weighed: Weighed,
    log: f64,
    pub(crate) probability: f64,
}

/// How common a class is. A pair's own row, tilted as its causes are.
fn chance(class: Class, prior: &impl Fn(Cause) -> f64) -> f64 {
    let tilt = |cause: Cause| prior(cause) / cause.words().prior;
    match (class.second, class.pair_prior()) {
        (Some(second), Some(pair)) => pair * tilt(class.first) * tilt(second),
        _ => prior(class.first),
    }
}

fn air(class: Class) -> Air {
    match class.first {
        Cause::NoFault => Air::Sound,
        Cause::LowLoad => Air::Low,
        Cause::HighLoad => Air::High,
        _ => Air::Faulty,
    }
}

/// Log of what the trade's table says of signs that the model does not give. Two causes at once:
/// each moves the sign as far as it does alone.
fn table_evidence(class: Class, setup: &Setup, assessment: &Assessment) -> f64 {
    let Some(finding) = assessment.findings.first() else {
        return 0.0;
    };
    let seen = finding.evidence.iter().map(|(seen, _)| seen);
    seen.filter(|seen| BY_TABLE.contains(&seen.sign))
        .map(|seen| {
            let log = |cause| libm::log(goes_with(cause, setup.metering, seen));
            let second = class
                .second
                .map_or(0.0, |second| log(second) - log(Cause::NoFault));
            (log(class.first) + second).min(0.0)
        })
        .sum()
}

/// Log of the weight of a reading that nothing in the library explains; nothing when only the air
/// was read.
fn unexplained(ground: &Ground, numbers: &[Number]) -> f64 {
    if numbers
        .iter()
        .all(|n| n.row.sum().is_empty() || n.row == Row::EnteringAir)
    {
        return f64::NEG_INFINITY;
    }
    let mut spread = [[0.0; ANSWERS]; ANSWERS];
    for (i, row) in spread.iter_mut().enumerate() {
        row[i] = UNEXPLAINED_SPREAD * UNEXPLAINED_SPREAD;
    }
    let wide = Kind {
        spread,
        lean: [[0.0; 3]; ANSWERS],
        share_sd: 0.0,
        share_along: [0.0; ANSWERS],
        parts: vec![Part {
            weight: 1.0,
            share: 0.0,
            mean: [0.0; ANSWERS],
        }],
    };
    weigh(ground, &wide, numbers).log
}

/// Turns logs into probabilities. What the model cannot explain is shared out as the table weighs
/// its causes; wrong refrigerant, which has no model, keeps the table's weight. Gives the share that
/// the model explains.
fn share_out(states: &mut [State], unexplained: f64, assessment: &Assessment) -> f64 {
    let logs: Vec<f64> = states.iter().map(|state| state.log).collect();
    let prior: f64 = Cause::ALL.iter().map(|cause| cause.words().prior).sum();
    let rest = libm::log(UNEXPLAINED * prior) + TEMPER * unexplained;
    let all = sum_of_logs(&[sum_of_logs(&logs), rest]);
    let left = libm::exp(rest - all);
    let wrong = weight(assessment, Cause::WrongRefrigerant);
    for state in states.iter_mut() {
        let table = match state.class.second {
            None => weight(assessment, state.class.first),
            Some(_) => 0.0,
        };
        state.probability = (1.0 - wrong) * libm::exp(state.log - all) + left * table;
    }
    1.0 - left
}

fn weight(assessment: &Assessment, cause: Cause) -> f64 {
    let found = assessment.findings.iter().find(|f| f.cause == cause);
    found.map_or(0.0, |finding| finding.weight)
}

fn causes(states: &[State], wrong: f64) -> Vec<(Cause, f64)> {
    // The trade's order of action among equals: free and reversible first.
    let mut order: Vec<Cause> = Cause::ALL.to_vec();
    order.sort_by_key(|cause| cause.words().order);
    let probability = |cause: Cause| -> f64 {
        let of = states.iter().filter(|state| state.class.has(cause));
        match cause {
            Cause::WrongRefrigerant => wrong,
            _ => of.map(|state| state.probability).sum(),
        }
    };
    let chances: Vec<f64> = order.iter().map(|&cause| probability(cause)).collect();
    let best = best_first(&chances);
    best.into_iter().map(|i| (order[i], chances[i])).collect()
}

fn beliefs(states: &[State], wrong: f64) -> Vec<Belief> {
    let of_state = |state: &State| Belief {
        class: state.class,
        probability: state.probability,
        size: state.class.scale().map(|scale| size(scale, state)),
    };
    let mut beliefs: Vec<Belief> = states.iter().map(of_state).collect();
    beliefs.push(Belief {
        class: Class {
            first: Cause::WrongRefrigerant,
            second: None,
        },
        probability: wrong,
        size: None,
    });
    let chances: Vec<f64> = beliefs.iter().map(|belief| belief.probability).collect();
    best_first(&chances)
        .into_iter()
        .map(|i| beliefs[i])
        .collect()
}

/// Places by falling value; equals stay in order.
fn best_first(values: &[f64]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..values.len()).collect();
    places.sort_by(|&a, &b| values[b].total_cmp(&values[a]));
    places
}

/// Mean and standard deviation of where a class stands between its smallest and largest size.
pub(crate) fn share(state: &State) -> (f64, f64) {
    let Weighed {
        parts,
        shares,
        share_var,
        ..
    } = &state.weighed;
    let of = || parts.iter().zip(shares);
    let mean: f64 = of().map(|(weight, share)| weight * share).sum();
    let between = of().map(|(weight, share)| weight * (share - mean) * (share - mean));
    (mean, (between.sum::<f64>() + share_var).sqrt())
}

fn size(scale: Scale, state: &State) -> Size {
    let (mean, sd) = share(state);
    let at = |sds: f64| scale.at((mean + sds * sd).clamp(0.0, 1.0));
    Size {
        says: scale.says,
        middle: at(0.0),
        low: at(-1.645),
        high: at(1.645),
    }
}

//! Thousands of simulated calls that the library was not made of, against the plain sign table.

use belief::{Class, judge};
use diagnosis::{Cause, ChargeAdvice, Metering, assess};
use refrigerant::Refrigerant;

mod support;
use support::units::{Build, Call, Dice};
use support::{Depth, visit};

/// Held aside: the library was drawn with another, and constants were chosen on others.
const SEED: u64 = 0x0B5E_55ED;
const SYSTEMS: [(Refrigerant, Metering); 5] = [
    (Refrigerant::R410A, Metering::AdjustableTxv),
    (Refrigerant::R22, Metering::AdjustableTxv),
    (Refrigerant::R454B, Metering::AdjustableTxv),
    (Refrigerant::R22, Metering::FixedOrifice),
    (Refrigerant::R410A, Metering::FixedOrifice),
];
/// Calls of each class on each system.
const EACH: usize = 26;

/// Rank of the first cause that is there, 0 first.
fn place(causes: impl Iterator<Item = Cause>, class: Class) -> usize {
    let mut causes = causes;
    causes.position(|cause| class.has(cause)).unwrap_or(99)
}

#[derive(Default)]
struct Score {
    calls: usize,
    table: [usize; 2],
    model: [usize; 2],
    advised: [usize; 2],
    harmful: [usize; 2],
    /// Harmful, and the charge is not in truth off that way by 3 % or more.
    untrue: [usize; 2],
    /// Claims of the first cause by tenths: how many, the sum of the claims, how many were right.
    claims: [(usize, f64, usize); 10],
    lost: f64,
    /// The very class is first, both of a pair with it.
    exact: usize,
    /// Of those with a size, how many, and how many have it in its band.
    sized: [usize; 2],
}

impl Score {
    fn add(
        &mut self,
        class: Class,
        call: &Call,
        table: &diagnosis::Assessment,
        said: &belief::Judged,
    ) {
        self.calls += 1;
        let by_table = place(table.findings.iter().map(|f| f.cause), class);
        let by_model = place(said.causes.iter().map(|c| c.0), class);
        for top in 0..2 {
            self.table[top] += usize::from(by_table <= top);
            self.model[top] += usize::from(by_model <= top);
        }
        for (i, advice) in [table.charge_advice(), said.assessment.charge_advice()]
            .into_iter()
            .enumerate()
        {
            let (acts, right, off) = match advice {
                ChargeAdvice::Add => (true, class.has(Cause::LowCharge), call.faults.charge < 0.97),
                ChargeAdvice::Remove => (
                    true,
                    class.has(Cause::Overcharge),
                    call.faults.charge > 1.03,
                ),
                _ => (false, true, true),
            };
            self.advised[i] += usize::from(acts);
            self.harmful[i] += usize::from(!right);
            self.untrue[i] += usize::from(!right && !off);
        }
        let (first, claim) = said.causes[0];
        let tenth = &mut self.claims[((claim * 10.0) as usize).min(9)];
        tenth.0 += 1;
        tenth.1 += claim;
        tenth.2 += usize::from(class.has(first));
        self.exact += usize::from(said.posterior[0].class == class);
        let first = &said.posterior[0];
        if let (Some(size), Some(scale)) = (first.size, class.scale())
            && first.class == class
        {
            let truth = scale.at(call.share);
            self.sized[0] += 1;
            self.sized[1] += usize::from((size.low..=size.high).contains(&truth));
        }
        let there = said.posterior.iter().find(|b| b.class == class);
        self.lost -= libm::log(there.map_or(1e-9, |b| b.probability.max(1e-9)));
    }
    fn share(&self, of: usize) -> f64 {
        of as f64 / self.calls as f64
    }
    fn print(&self, what: &str) {
        let pair = |of: [usize; 2]| of.map(|n| 100.0 * self.share(n));
        let ([t1, t2], [m1, m2]) = (pair(self.table), pair(self.model));
        println!(
            "{what}: {} calls; table {t1:.1} / {t2:.1} %, model {m1:.1} / {m2:.1} % (first / first two); \
             log loss {:.3}; advice on charge table {} (harmful {}, of these with the charge truly right {}), \
             model {} (harmful {}, {})",
            self.calls,
            self.lost / self.calls as f64,
            self.advised[0],
            self.harmful[0],
            self.untrue[0],
            self.advised[1],
            self.harmful[1],
            self.untrue[1],
        );
    }
    fn print_claims(&self) {
        let [sized, held] = self.sized;
        println!("   {held} of {sized} sizes in their band of nine in ten");
        for (n, sum, hit) in self.claims.iter().filter(|row| row.0 > 0) {
            println!(
                "   claimed {:.2}, right {:.2} ({n} calls)",
                sum / *n as f64,
                *hit as f64 / *n as f64
            );
        }
    }
}

type Rows = Vec<(Class, Score, [usize; 16])>;

fn run(depth: Depth, build: (Build, f64), each: usize) -> (Score, Rows) {
    let mut dice = Dice(SEED ^ (depth == Depth::Full) as u64);
    let mut all = Score::default();
    let mut rows: Rows = Class::ALL
        .iter()
        .map(|&class| (class, Score::default(), [0; 16]))
        .collect();
    for (refrigerant, metering) in SYSTEMS {
        let mut own = Score::default();
        for (class, row, first) in &mut rows {
            if !class.is_possible(metering) {
                continue;
            }
            for i in 0..each {
                let share = (i as f64 + dice.unit()) / each as f64;
                let Some(visit) = visit(
                    &mut dice,
                    refrigerant,
                    metering,
                    *class,
                    share,
                    depth,
                    build,
                ) else {
                    continue;
                };
                let table = assess(&visit.setup, &visit.reading);
                let said = judge(&visit.setup, &visit.reading, None);
                for score in [&mut all, &mut own, row] {
                    score.add(*class, &visit.call, &table, &said);
                }
                let named = Cause::ALL.iter().position(|c| *c == said.causes[0].0);
                first[named.expect("a cause")] += 1;
            }
        }
        own.print(&format!("{} {}", refrigerant.name(), metering.key()));
    }
    all.print(&format!("all, {depth:?}"));
    all.print_claims();
    (all, rows)
}

fn print_rows(rows: &Rows) {
    println!("first cause named, in the order of Cause::ALL; table / model right");
    for (class, score, first) in rows {
        let second = class.second.map_or("", Cause::key);
        println!(
            "   {:22}{second:22} {:3} / {:3} %, the very class {:3} %  {first:?}",
            class.first.key(),
            (100.0 * score.share(score.table[0])).round(),
            (100.0 * score.share(score.model[0])).round(),
            (100.0 * score.share(score.exact)).round(),
        );
    }
}

/// First and first two beat the table by this much, and stand at least here.
fn beats_the_table(all: &Score, by: f64, least: [f64; 2]) {
    for (top, least) in least.into_iter().enumerate() {
        let (table, model) = (all.share(all.table[top]), all.share(all.model[top]));
        assert!(model > table + by, "{table} {model}");
        assert!(model > least, "{model}");
    }
}

/// Add on anything but low charge, remove on anything but overcharge: under 1 in 100 calls. Nearly
/// all that is left is a unit whose charge in truth is off by more than 3 % beside its fault.
fn does_little_harm(all: &Score) {
    assert!(all.share(all.harmful[1]) < 0.01);
    assert!(all.advised[1] > 100);
    assert!((all.untrue[1] as f64) < 0.01 * all.advised[1] as f64 + 0.5);
    assert!(all.harmful[1] < all.harmful[0]);
}

/// What is claimed is what comes, to a tenth: rows of 50 calls or more.
fn claims_hold(all: &Score, within: f64) {
    for &(n, sum, hit) in all.claims.iter().filter(|row| row.0 >= 50) {
        let (claim, right) = (sum / n as f64, hit as f64 / n as f64);
        assert!((claim - right).abs() < within, "{claim} {right}");
    }
}

/// The true size of a cause stands in its band, some nine in ten.
fn sizes_hold(all: &Score) {
    let held = all.sized[1] as f64 / all.sized[0] as f64;
    assert!(all.sized[0] > 500 && held > 0.82, "{held}");
}

#[test]
fn basic_readings() {
    let (all, rows) = run(Depth::Basic, (Build::Usual, 1.0), EACH);
    print_rows(&rows);
    assert!(all.calls >= 2000);
    beats_the_table(&all, 0.18, [0.66, 0.84]);
    does_little_harm(&all);
    sizes_hold(&all);
    claims_hold(&all, 0.15);
}

#[test]
fn full_readings() {
    let (all, rows) = run(Depth::Full, (Build::Usual, 1.0), EACH);
    print_rows(&rows);
    assert!(all.calls >= 2000);
    beats_the_table(&all, 0.18, [0.80, 0.90]);
    does_little_harm(&all);
    sizes_hold(&all);
    claims_hold(&all, 0.15);
}

/// Valves, equalizers, lines and fans that the library does not hold, coils further from its design,
/// and tools that err 1.7 times more than they say.
#[test]
fn units_unlike_the_librarys() {
    for depth in [Depth::Basic, Depth::Full] {
        let (all, _) = run(depth, (Build::Odd, 1.7), EACH / 2);
        beats_the_table(&all, 0.12, [0.55, 0.72]);
        assert!(all.share(all.harmful[1]) < 0.01);
        claims_hold(&all, 0.15);
    }
}

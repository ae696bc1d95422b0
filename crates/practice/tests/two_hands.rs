//! Two scripted technicians over 200 seeded cases: what they find, hurt and take.

use diagnosis::Cause;
use practice::{Case, Debrief, Filter, Habit, Path, Session, debrief, hasty_technician};

const CASES: u64 = 200;

fn all() -> Vec<Debrief> {
    (0..CASES)
        .map(|seed| {
            let case = Case::draw(seed, &Filter::default()).expect("a case for every number");
            let mut hasty = Session::begin(case);
            hasty_technician(&mut hasty);
            debrief(&hasty).expect("over")
        })
        .collect()
}

/// Median and ninth decile.
fn spread(mut values: Vec<f64>) -> (f64, f64) {
    values.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let place = (values.len() as f64 * share) as usize;
        values
            .get(place.min(values.len().saturating_sub(1)))
            .copied()
    };
    (at(0.5).unwrap_or(0.0), at(0.9).unwrap_or(0.0))
}

struct Harmed {
    cases: usize,
    under_min: f64,
    dipped: usize,
    liquid_oz: f64,
    stops: u32,
    starved_oz: f64,
    lost_oz: f64,
}

fn harmed(debriefs: &[&Debrief], pick: fn(&Debrief) -> &Path) -> Harmed {
    let harms: Vec<_> = debriefs.iter().map(|it| pick(it).harm).collect();
    Harmed {
        cases: harms.len(),
        under_min: harms
            .iter()
            .map(|it| f64::from(it.under_minimum_s) / 60.0)
            .sum(),
        dipped: harms.iter().filter(|it| it.under_minimum_s > 0).count(),
        liquid_oz: harms.iter().map(|it| it.liquid_oz).sum(),
        stops: harms.iter().map(|it| it.stops).sum(),
        starved_oz: harms.iter().map(|it| it.added_to_starved_oz).sum(),
        lost_oz: harms.iter().map(|it| it.lost_oz).sum(),
    }
}

#[test]
fn the_good_one_finds_nine_in_ten_and_the_plant_punishes_haste() {
    let all = all();
    println!("cause                  cases  good  hasty   (a pair counts under both)");
    for cause in Cause::ALL {
        let of: Vec<&Debrief> = all
            .iter()
            .filter(|it| it.troubles.iter().any(|truth| truth.cause == cause.key()))
            .collect();
        println!(
            "{:<22} {:>5} {:>5} {:>6}",
            cause.key(),
            of.len(),
            of.iter().filter(|it| it.good_path.found).count(),
            of.iter().filter(|it| it.path.found).count(),
        );
        assert!(!of.is_empty(), "{} is never drawn", cause.key());
    }
    let pairs = all.iter().filter(|it| it.right.len() > 1);
    println!(
        "pairs {}, good found {}",
        pairs.clone().count(),
        pairs.filter(|it| it.good_path.found).count()
    );
    let good: fn(&Debrief) -> &Path = |it| &it.good_path;
    let hasty: fn(&Debrief) -> &Path = |it| &it.path;
    for (name, pick) in [("good", good), ("hasty", hasty)] {
        let found = all.iter().filter(|it| pick(it).found).count();
        let minutes = spread(all.iter().map(|it| pick(it).minutes).collect());
        let money = spread(all.iter().map(|it| pick(it).money).collect());
        let left = all.iter().map(|it| &pick(it).left).filter(|left| {
            left.superheat_in_band == Some(true) && left.subcooling_in_band != Some(false)
        });
        println!(
            "{name}: left with superheat and subcooling in band {}",
            left.count()
        );
        println!(
            "{name}: found {found} of {}, minutes {:.0} / {:.0}, shells {:.0} / {:.0} (median / ninth decile)",
            all.len(),
            minutes.0,
            minutes.1,
            money.0,
            money.1
        );
    }
    let vain = all.iter().filter(|it| {
        let parts = [
            "replace-valve",
            "change-drier",
            "clear-suction-line",
            "replace-compressor",
            "recharge",
        ];
        it.good_path
            .marks
            .iter()
            .filter(|mark| parts.contains(&mark.key))
            .count()
            > it.right.len()
    });
    println!(
        "good: cases with more parts replaced than troubles: {}",
        vain.count()
    );
    let flooding = |it: &&Debrief| {
        let found = it.path.samples.first().and_then(|at| at.superheat_f);
        found.is_some_and(|superheat| superheat < it.nameplate.minimum_superheat_f)
    };
    let dry: Vec<&Debrief> = all.iter().filter(|it| !flooding(it)).collect();
    let wet: Vec<&Debrief> = all.iter().filter(flooding).collect();
    println!(
        "harm                        cases  under min  dipped  liquid oz  stops  to starved oz  lost oz"
    );
    for (name, of, pick) in [
        ("found over minimum, good", &dry, good),
        ("found over minimum, hasty", &dry, hasty),
        ("found under it, good", &wet, good),
        ("found under it, hasty", &wet, hasty),
    ] {
        let it = harmed(of, pick);
        println!(
            "{name:<27} {:>5} {:>10.0} {:>7} {:>10.0} {:>6} {:>14.0} {:>8.0}",
            it.cases, it.under_min, it.dipped, it.liquid_oz, it.stops, it.starved_oz, it.lost_oz
        );
    }
    for habit in Habit::ALL {
        let mean: f64 = all
            .iter()
            .flat_map(|it| &it.scores)
            .filter(|score| score.habit == habit)
            .map(|score| score.points)
            .sum::<f64>()
            / all.len() as f64;
        println!("hasty, {}: {mean:.1} of {}", habit.says(), habit.out_of());
    }
    let found = all.iter().filter(|it| it.good_path.found).count();
    assert!(found * 10 >= all.len() * 9, "{found} of {}", all.len());
    // Physics: cases that were found in order, and what came of the hands. No rule counts these; the
    // plant does, second by second. Measured: three to ten times; the limits are half of that. The
    // good one's own share is stems found open behind a blocked drier, which flood once that is clear.
    let (kept, spoilt) = (harmed(&dry, good), harmed(&dry, hasty));
    assert!(spoilt.under_min > 2.0 * kept.under_min);
    assert!(spoilt.liquid_oz > 4.0 * kept.liquid_oz);
    assert!(spoilt.dipped > 2 * kept.dipped);
    assert!(kept.stops == 0 && spoilt.stops > 50);
}

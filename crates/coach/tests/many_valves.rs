//! The coach against 'one turn each time, then a fixed wait', on many systems of the cycle model.
//!
//! The table is printed, and what it shows is asserted. Systems that hunt where they are left are
//! counted apart: no setting is right for them, see `settling.rs` for how they are found. Where the
//! start is near the band the fixed waits are quicker: one turn may do there, and they do not look
//! whether they are right.

mod field;
mod plant;
mod trial;

use trial::{HEAD, Job, Row, coached, ends, fixed_wait, row};

use field::Field;
use plant::Dice;

/// The constants of the coach were tried on other systems (0 to 2100, 50 000 to 50 600, 80 000 to
/// 80 520, 90 000 to 90 510); these were held aside. One was changed after they had been seen:
/// `EDGE` of `settle.rs`, from 1.8 to 1.5, for a test elsewhere.
const SEEDS: core::ops::Range<u64> = 110_000..110_510;

/// Most minutes, of those of the fixed waits of 5 and 10, by means.
struct Most {
    /// Minutes between readings.
    interval: f64,
    of_five: f64,
    of_ten: f64,
}

/// Far above the band. The aims are 0.8 and 0.5; the first is not met with readings 3 minutes apart:
/// two of them are the fewest that settle, 6 minutes after a turn. Measured: 0.66 and 0.35, 0.74 and
/// 0.40, 0.90 and 0.48.
const FAR: [Most; 3] = most([(0.8, 0.5), (0.8, 0.5), (0.95, 0.5)]);
/// 12 to 22 °F, where the first step is half a turn. Measured: 0.92 and 0.50, 1.04 and 0.57, 1.31 and
/// 0.71.
const NEAR: [Most; 3] = most([(1.0, 0.55), (1.15, 0.65), (1.45, 0.8)]);
/// Under the band. Measured: 1.27 and 0.68, 1.48 and 0.79, 1.92 and
/// 1.03.
const UNDER: [Most; 3] = most([(1.45, 0.8), (1.65, 0.9), (2.2, 1.2)]);

const fn most([close, usual, wide]: [(f64, f64); 3]) -> [Most; 3] {
    const fn one(interval: f64, (of_five, of_ten): (f64, f64)) -> Most {
        Most {
            interval,
            of_five,
            of_ten,
        }
    }
    [one(1.0 / 3.0, close), one(1.0, usual), one(3.0, wide)]
}

/// The same job on each of the systems, on both hands of the machine.
fn all(starts: (f64, f64), run: impl Fn(Field, &mut Dice) -> Job + Sync) -> Vec<Job> {
    let half = SEEDS.start.midpoint(SEEDS.end);
    let some = |seeds| trial::all(seeds, starts, &run);
    std::thread::scope(|scope| {
        let second = scope.spawn(|| some(half..SEEDS.end));
        let mut jobs = some(SEEDS.start..half);
        jobs.extend(second.join().expect("no panic"));
        jobs
    })
}

fn compare(starts: (f64, f64), most: &[Most; 3]) {
    println!("As found at {starts:?} °F\n{HEAD}");
    let fixed = |wait: f64| {
        let jobs = all(starts, |field, dice| fixed_wait(field, dice, wait));
        row(&format!("one turn, wait {wait}"), &jobs)
    };
    let (five, ten) = (fixed(5.0), fixed(10.0));
    for most in most {
        let jobs = all(starts, |field, dice| coached(field, dice, most.interval));
        let coach = row(&format!("coach, {:.0} s", 60.0 * most.interval), &jobs);
        ends(&jobs);
        let of = |row: &Row| coach.mean_minutes / row.mean_minutes;
        let medians = |row: &Row| coach.minutes / row.minutes;
        println!(
            "    minutes: {:.2} of wait 5, {:.2} of wait 10; by medians {:.2}, {:.2}",
            of(&five),
            of(&ten),
            medians(&five),
            medians(&ten)
        );
        safe(&coach);
        assert!(of(&five) < most.of_five && of(&ten) < most.of_ten);
        assert!(coach.off < five.off.min(ten.off));
        assert!(coach.dipped < five.dipped.min(ten.dipped));
    }
}

/// What must hold of every row: the aims of the trial.
fn safe(coach: &Row) {
    assert!(coach.jobs >= 200, "{}", coach.jobs);
    assert!(coach.reached >= 97.0, "{}", coach.reached);
    assert_eq!(coach.settled_below, 0);
    assert!(coach.dipped < 4.0, "{}", coach.dipped);
    assert!(coach.dipped_long == 0.0, "{}", coach.dipped_long);
    assert!(coach.off < 2.0, "{}", coach.off);
    assert!(coach.in_own_band > 85.0, "{}", coach.in_own_band);
}

/// The prototype's trial started at 22 to 40 °F too.
#[test]
fn far_above_the_band_it_is_set_sooner_and_safer_than_by_a_fixed_wait() {
    compare((22.0, 40.0), &FAR);
}

#[test]
fn near_the_band_it_is_safe_and_right_if_not_sooner() {
    compare((12.0, 22.0), &NEAR);
    compare((6.0, 8.0), &UNDER);
}

/// The advice is to turn slowly. A hand that does not gets a deeper dip (`coach/src/dip.rs`), and is
/// still kept from a long one.
#[test]
fn a_stem_turned_at_once_dips_more_often_and_never_for_long() {
    println!("Turned at once, as found at 12 to 22 °F\n{HEAD}");
    for interval in [1.0, 3.0] {
        let jobs = all((12.0, 22.0), |mut field, dice| {
            field.at_once = true;
            coached(field, dice, interval)
        });
        let coach = row(&format!("coach, {:.0} s", 60.0 * interval), &jobs);
        assert!(coach.dipped < 4.0, "{}", coach.dipped);
        assert!(coach.dipped_long == 0.0 && coach.settled_below == 0);
    }
}

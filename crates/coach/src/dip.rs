//! What the model of the plant foretells of superheat and head on the way after a turn.
//!
//! The stem is turned slowly, a quarter each 15 seconds. The bulb lags, so the valve answers a turn
//! of the stem at once and corrects itself a minute later: superheat first goes too far. Turned
//! slowly, each quarter has half corrected itself before the next is made, and the dip is of the
//! size of what a quarter or two do, however far the stem is turned in all. Turned at once, it is as
//! large as the whole move.
//!
//! # Source
//! Fitted to 1551 opening turns of a quarter to two turns on systems of crate `cycle` drawn as in
//! `tests/field`, settling at 5 to 20 °F (dip), and 1187 settling at up to 40 °F (head). Measured
//! again, on other systems, by `tests/foretold.rs`.

/// Seconds that each quarter turn is given.
pub(crate) const SECONDS: f64 = 15.0;

/// A mean and one standard deviation.
pub(crate) type Spread = (f64, f64);

/// How far superheat goes under the value it settles at after an opening turn made slowly: °F, and
/// °F for each °F per turn of gain, each for the mean and for one standard deviation.
struct Dip {
    /// Quarter turns from which the row holds.
    from: u32,
    mean: (f64, f64),
    sd: (f64, f64),
}

const DIPS: [Dip; 3] = [
    Dip {
        from: 4,
        mean: (0.49, 0.20),
        sd: (0.33, 0.13),
    },
    Dip {
        from: 2,
        mean: (0.21, 0.52),
        sd: (0.35, 0.12),
    },
    Dip {
        from: 1,
        mean: (-0.21, 0.49),
        sd: (0.32, 0.06),
    },
];
/// The same for a turn made at once: °F, and share of the move.
const AT_ONCE: Dip = Dip {
    from: 1,
    mean: (1.15, 0.62),
    sd: (0.65, 0.20),
};
/// Highest head on the way: °F of condensing for each °F of superheat won. At one system, evaporator
/// and outdoor air it is a matter of the mass that flows; the spread is between systems.
const HEAD: Spread = (0.14, 0.06);

/// How far superheat dips under the value it settles at, °F.
///
/// - `quarters`: of the opening turn, without its sign.
/// - `gain`: °F per turn, with its standard deviation.
pub(crate) fn dip(quarters: u32, gain: Spread) -> Spread {
    DIPS.iter()
        .find(|row| quarters >= row.from)
        .map_or((0.0, 0.0), |row| row.at(gain))
}

/// The same when the turn is made at once.
pub(crate) fn dip_at_once(turns: f64, gain: Spread) -> Spread {
    AT_ONCE.at((gain.0 * turns.abs(), gain.1 * turns.abs()))
}

/// How far condensing temperature rises while so much superheat is won, °F.
pub(crate) fn head(won: Spread) -> Spread {
    let (mean, sd) = HEAD;
    (mean * won.0, libm::hypot(sd * won.0, mean * won.1))
}

impl Dip {
    fn at(&self, (size, doubt): Spread) -> Spread {
        let (mean, sd) = (
            self.mean.0 + self.mean.1 * size,
            self.sd.0 + self.sd.1 * size,
        );
        (mean.max(0.0), libm::hypot(sd, self.mean.1 * doubt))
    }
}

/// Minutes since the turn was complete, and how far superheat is then past the value it is going to,
/// the slow tail apart, in gains (°F per turn): after one quarter; after two or three; after more.
/// Opening and closing go alike, with the sign of the turn.
const COURSE: [(f64, [Spread; 3]); 7] = [
    (0.0, [(-0.19, 0.02), (0.18, 0.32), (0.46, 0.39)]),
    (0.25, [(0.20, 0.21), (0.60, 0.34), (0.64, 0.41)]),
    (0.5, [(0.30, 0.26), (0.48, 0.41), (0.49, 0.46)]),
    (0.75, [(0.05, 0.22), (0.10, 0.36), (0.14, 0.42)]),
    (1.0, [(-0.10, 0.18), (-0.10, 0.33), (-0.07, 0.39)]),
    (1.5, [(-0.05, 0.18), (-0.05, 0.29), (-0.02, 0.32)]),
    (2.0, [(0.0, 0.14), (0.0, 0.24), (0.05, 0.27)]),
];
/// What is left of it after the last row dies out with this, minutes.
const DIES: f64 = 2.5;

/// How far superheat is past the value it is going to, in gains.
///
/// - `minutes`: since the turn was complete, not negative.
pub(crate) fn course(quarters: u32, minutes: f64) -> Spread {
    let class = match quarters {
        0 | 1 => 0,
        2 | 3 => 1,
        _ => 2,
    };
    let later = COURSE.partition_point(|row| row.0 <= minutes);
    let (from, before) = COURSE[later.max(1) - 1];
    let before = before[class];
    match COURSE.get(later) {
        Some((to, after)) => {
            let share = (minutes - from) / (to - from);
            let after = after[class];
            (
                before.0 + share * (after.0 - before.0),
                before.1 + share * (after.1 - before.1),
            )
        }
        None => {
            let left = libm::exp(-(minutes - from) / DIES);
            (before.0 * left, before.1 * left)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Spread, dip, dip_at_once, head};
    use crate::NINETY;
    use crate::field::Field;
    use crate::plant::Dice;

    /// What one opening turn did, °F.
    struct Turn {
        quarters: u32,
        gain: f64,
        won: f64,
        dip: f64,
        rise: f64,
    }

    /// Opening turns of a quarter to two turns on systems that these constants were not fitted to;
    /// those that hunt by more than 2 °F, or do not move, left out.
    fn turns(starts: (f64, f64), at_once: bool) -> Vec<Turn> {
        (21_000..21_250)
            .filter_map(|seed| {
                let mut dice = Dice::new(seed);
                let mut field = Field::any(&mut dice, starts);
                let quarters = 1 + (dice.between(0.0, 8.0) as u32).min(7);
                field.at_once = at_once;
                field.air.still();
                field.pass(8.0);
                let (before, cool) = (field.superheat(), field.gauge_condensing().f());
                (field.lowest, field.hottest) = (f64::MAX, f64::MIN);
                field.turn(-(quarters as i32));
                field.pass(5.0);
                let (settles, lowest, hottest) = (field.settles(), field.lowest, field.hottest);
                let won = before - settles;
                let quiet = !field.hunts() && won > 0.15 && settles > crate::field::MINIMUM;
                quiet.then_some(Turn {
                    quarters,
                    gain: 4.0 * won / f64::from(quarters),
                    won,
                    dip: settles - lowest,
                    rise: hottest - cool,
                })
            })
            .collect()
    }

    /// Mean of how many standard deviations they are off, and the share over the 95 % limit.
    fn compare(name: &str, turns: &[Turn], of: impl Fn(&Turn) -> (f64, Spread)) -> (f64, f64) {
        let off: Vec<f64> = turns
            .iter()
            .map(|turn| {
                let (came, (mean, sd)) = of(turn);
                (came - mean) / sd
            })
            .collect();
        let count = off.len() as f64;
        let mean = off.iter().sum::<f64>() / count;
        let over = off.iter().filter(|off| **off > NINETY).count() as f64 / count;
        println!(
            "{name}: {count} turns, mean {mean:+.2} sd off, {:.1} % over the 95 % limit",
            100.0 * over
        );
        (mean, over)
    }

    #[test]
    fn dips_and_heads_are_those_of_the_model() {
        let near = turns((9.0, 26.0), false);
        for sizes in [1..=1, 2..=3, 4..=8] {
            let some: Vec<f64> = near
                .iter()
                .filter(|turn| sizes.contains(&turn.quarters))
                .map(|turn| turn.dip)
                .collect();
            let mean = some.iter().sum::<f64>() / some.len() as f64;
            println!(
                "{sizes:?} quarters: {} turns dip by {mean:.2} °F",
                some.len()
            );
        }
        let slow = compare("made slowly", &near, |turn| {
            (turn.dip, dip(turn.quarters, (turn.gain, 0.0)))
        });
        let once = compare("made at once", &turns((9.0, 26.0), true), |turn| {
            (
                turn.dip,
                dip_at_once(f64::from(turn.quarters) / 4.0, (turn.gain, 0.0)),
            )
        });
        for (mean, over) in [slow, once] {
            // Some 200 turns: the mean is good to 0.07, the share to 2 %.
            assert!(mean.abs() < 0.25 && over < 0.10, "{mean} {over}");
        }
        let far = turns((8.0, 40.0), false);
        let (mean, over) = compare("head", &far, |turn| {
            (turn.rise, head((turn.won.max(1.0), 0.0)))
        });
        assert!(mean.abs() < 0.5 && over < 0.12, "{mean} {over}");
    }
}

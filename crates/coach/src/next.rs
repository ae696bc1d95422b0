//! How far to turn next: towards the middle of the band, cut until it is safe.

use crate::dip::{self, Spread};
use crate::forecast::SPREAD;
use crate::gain::Gain;
use crate::{End, NINETY, Quarters, Why};
use quantity::{Temperature, TemperatureDifference};

/// Below this far from the band, °F, the first step is the smaller one.
const NEAR: f64 = 10.0;
/// Largest first step near the band, first step, and step at all, quarter turns. The last is of
/// US Army manuals for expansion valves; the first two common practice, no source.
const FIRST_NEAR: i32 = 2;
const FIRST: i32 = 4;
const LARGEST: i32 = 8;
/// The largest step is only made when the gain is known to this share of itself, one standard
/// deviation: one poor response must not carry the valve two turns. Tried in `tests/many_valves.rs`.
const WELL_KNOWN: f64 = 0.35;
/// Never farther than this from as found, quarter turns: a unit maker's 10 turns in all.
const TRAVEL: i32 = 40;
/// How far the trough must stay over the minimum where that sets the aim, °F. Prototype-tested.
const ABOVE_MINIMUM: f64 = 1.0;
/// Share of the swing's amplitude that counts as its trough in a prediction. Prototype-tested.
const TROUGH: f64 = 0.7;
/// One-sided 90 % limit: 'cannot reach it' is said only when a gain this good would not do.
const HOPEFUL: f64 = 1.28;

/// What the next turn is worked out from, in °F; the stem in quarter turns from as found.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Now {
    pub(crate) settled: f64,
    pub(crate) sd: f64,
    /// Standard deviation of the tools' standing error.
    pub(crate) bias_sd: f64,
    pub(crate) gain: Gain,
    /// Of the swing; zero when quiet.
    pub(crate) amplitude: f64,
    pub(crate) low: f64,
    pub(crate) high: f64,
    pub(crate) minimum: f64,
    pub(crate) position: i32,
    pub(crate) opening_end: Option<i32>,
    pub(crate) closing_end: Option<i32>,
    /// Condensing temperature and its limit.
    pub(crate) condensing: Option<f64>,
    pub(crate) head_limit: f64,
}

/// What to do with the stem.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Move {
    /// Turn by this.
    Turn(Quarters),
    /// Out of the band and no turn passes.
    None,
    /// The travel that is left cannot reach the band.
    OutOfReach,
}

impl Now {
    /// Settled in the band, and the swing's lowest point above the minimum.
    pub(crate) fn at_target(&self) -> bool {
        (self.low..=self.high).contains(&self.settled)
            && self.settled - self.amplitude > self.minimum
    }

    /// Where superheat would settle after a turn, °F, with the standard deviation, the tools'
    /// standing error included.
    pub(crate) fn after(&self, turns: f64) -> (f64, f64) {
        let gain = self.gain.sd_over(turns) * turns;
        let apart = [self.sd, gain, self.bias_sd, SPREAD];
        let variance: f64 = apart.iter().map(|sd| sd * sd).sum();
        (self.settled + self.gain.mean * turns, variance.sqrt())
    }

    /// The next turn, with the reasons that shaped it.
    pub(crate) fn next(&self) -> (Move, Vec<Why>) {
        let f = TemperatureDifference::from_f;
        let trough = TROUGH * self.amplitude;
        let middle = (self.low + self.high) / 2.0;
        let aim = middle.max(self.minimum + trough + ABOVE_MINIMUM);
        let mut why = vec![Why::Aim { target: f(aim) }];
        let sign = if self.settled > aim { -1 } else { 1 };
        let wanted = 4.0 * (self.settled - aim).abs() / self.gain.mean;
        // Opening is rounded down and closing up, each the safe way; out of the band one quarter
        // is the least that helps.
        let wanted = if sign < 0 {
            wanted.floor().max(1.0)
        } else {
            wanted.ceil().max(1.0)
        } as i32;
        let away = (self.settled - self.high).max(self.low - self.settled);
        let (end, left) = self.left(sign);
        let travel = f64::from(left) / 4.0;
        let hopeful = self.gain.mean + HOPEFUL * self.gain.sd_over(travel);
        let short = self.gain.learned && away - HOPEFUL * self.sd > hopeful * travel;
        if left == 0 || short {
            let needed = Quarters::new(sign * wanted);
            why.push(Why::OutOfReach {
                needed,
                left: Quarters::new(sign * left),
                end,
            });
            return (Move::OutOfReach, why);
        }
        let cap = match (self.gain.learned, away <= NEAR) {
            (true, _) if self.gain.sd() < WELL_KNOWN * self.gain.mean => LARGEST,
            (true, _) | (false, false) => FIRST,
            (false, true) => FIRST_NEAR,
        };
        let mut quarters = wanted;
        if quarters > cap {
            quarters = cap;
            why.push(Why::Capped {
                at: Quarters::new(sign * cap),
                first: !self.gain.learned,
            });
        }
        if quarters > left {
            quarters = left;
            why.push(Why::CutForEnd {
                end,
                left: Quarters::new(sign * left),
            });
        }
        while quarters > 0 {
            let by = Quarters::new(sign * quarters);
            match self.objection(by, trough) {
                None => {
                    why.extend(self.slowly(by, trough));
                    return (Move::Turn(by), why);
                }
                // One line for each reason, of the smallest turn that it forbids.
                Some(reason) => {
                    why.retain(|said| {
                        core::mem::discriminant(said) != core::mem::discriminant(&reason)
                    });
                    why.push(reason);
                }
            }
            quarters -= 1;
        }
        why.push(Why::NothingPasses);
        (Move::None, why)
    }

    /// A closing turn away from liquid: half a turn where that stays in the band, else a quarter;
    /// `None` at the closing end.
    pub(crate) fn rescue(&self) -> Option<Quarters> {
        let (_, left) = self.left(1);
        let half = Quarters::new(2);
        match left {
            ..=0 => None,
            1 => Some(Quarters::new(1)),
            _ if self.objection(half, 0.0).is_none() => Some(half),
            _ => Some(Quarters::new(1)),
        }
    }

    /// Quarter turns left in a direction, and the end that is met there.
    fn left(&self, sign: i32) -> (End, i32) {
        let (end, known) = if sign < 0 {
            (End::Opening, self.opening_end.map(i32::saturating_neg))
        } else {
            (End::Closing, self.closing_end)
        };
        let travel = known.map_or(TRAVEL, |known| known.min(TRAVEL));
        (
            end,
            travel
                .saturating_sub(self.position.saturating_mul(sign))
                .max(0),
        )
    }

    /// How an opening turn is to be made; one quarter is made in any case as it should be.
    fn slowly(&self, by: Quarters, trough: f64) -> Option<Why> {
        let turns = by.turns();
        let gain = (self.gain.mean, self.gain.sd_over(turns));
        let lowest =
            |dip| TemperatureDifference::from_f(lowest(self.after(turns), dip, trough).max(0.0));
        (by.get() < -1).then(|| Why::Slowly {
            seconds: dip::SECONDS,
            lowest: lowest(dip::dip(by.get().unsigned_abs(), gain)),
            at_once: lowest(dip::dip_at_once(turns, gain)),
        })
    }

    fn objection(&self, by: Quarters, trough: f64) -> Option<Why> {
        let f = TemperatureDifference::from_f;
        let turns = by.turns();
        let (settles, sd) = self.after(turns);
        if turns > 0.0 {
            let highest = settles + NINETY * self.gain.sd_over(turns) * turns;
            return (highest > self.high).then(|| Why::CutForBandTop {
                turn: by,
                highest: f(highest),
                top: f(self.high),
            });
        }
        let gain = (self.gain.mean, self.gain.sd_over(turns));
        let dip = dip::dip(by.get().unsigned_abs(), gain);
        let lowest = lowest((settles, sd), dip, trough);
        if lowest < self.minimum {
            let minimum = f(self.minimum);
            return Some(Why::CutForMinimum {
                turn: by,
                lowest: f(lowest),
                minimum,
            });
        }
        let won = (-gain.0 * turns, gain.1 * turns.abs());
        let (rise, rise_sd) = dip::head(won);
        let condensing = self.condensing? + rise + NINETY * rise_sd;
        (condensing > self.head_limit).then(|| Why::CutForHead {
            turn: by,
            condensing: Temperature::from_f(condensing),
            limit: Temperature::from_f(self.head_limit),
        })
    }
}

/// The lowest superheat on the way to a settled value, at the 95 % limit, °F.
fn lowest(settles: Spread, dip: Spread, trough: f64) -> f64 {
    settles.0 - dip.0 - trough - NINETY * libm::hypot(settles.1, dip.1)
}

#[cfg(test)]
mod tests {
    use super::{Move, Now, Quarters};
    use crate::gain::Gain;

    /// Worked by hand: half a turn from 10 °F at 2.2 +- 1.1035 °F per turn settles at 8.9; the dip takes
    /// 0.21 + 0.52 x 2.2 = 1.354 more. Standard deviations: of the move 0.552, of what no gain foretells
    /// 0.3, of the dip 0.35 + 0.12 x 2.2 = 0.614 and, by the gain, 0.52 x 1.1035 = 0.574: together
    /// 1.049, and 1.645 of those 1.726. So it may touch 5.82; a quarter turn only 7.24.
    #[test]
    fn opening_is_cut_exactly_where_the_dip_and_the_doubt_touch_the_minimum() {
        let turn = |minimum| {
            let now = Now {
                settled: 10.0,
                sd: 0.0,
                bias_sd: 0.0,
                gain: Gain::usual(),
                amplitude: 0.0,
                low: 6.3,
                high: 7.7,
                minimum,
                position: 0,
                opening_end: None,
                closing_end: None,
                condensing: None,
                head_limit: 140.0,
            };
            now.next().0
        };
        assert_eq!(turn(5.0), Move::Turn(Quarters::new(-2)));
        assert_eq!(turn(5.81), Move::Turn(Quarters::new(-2)));
        assert_eq!(turn(5.83), Move::Turn(Quarters::new(-1)));
    }
}

//! A stand-in for the cycle model, until that exists: superheat alone, with what makes it hard to
//! judge. Each turn acts after a dead time through a first-order lag; a quarter of the change comes
//! as a slow tail of six minutes (house air, oil); opening first undershoots, as the bulb is still
//! warm; load drifts; the tools scatter and have a standing error.
//!
//! Ranges: gain 0.5 to 4 °F per turn (US Army manual; a valve maker's sheet), tail and undershoot as
//! measured on the prototype of the cycle model; the rest are defaults without a source.

#![allow(clippy::disallowed_methods, missing_docs, dead_code)] // shared by several test binaries

/// Random numbers that are the same everywhere: the splitmix64 sequence of Steele, Lea and Flood
/// (2014).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x2545_F491_4F6C_DD1D) ^ 0x9E37_79B9_7F4A_7C15)
    }
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
    /// Normal, mean 0, standard deviation 1 (Box and Muller).
    pub fn normal(&mut self) -> f64 {
        let (a, b) = (
            self.between(1e-12, 1.0),
            self.between(0.0, core::f64::consts::TAU),
        );
        (-2.0 * a.ln()).sqrt() * b.cos()
    }
}

/// One system. °F, minutes, turns clockwise positive.
#[derive(Clone, Debug)]
pub struct Plant {
    pub start: f64,
    pub gain: f64,
    pub bend: f64,
    pub dead: f64,
    pub lag: f64,
    pub dip: f64,
    pub bias: f64,
    pub scatter: f64,
    pub load: (f64, f64, f64),
    pub swing: (f64, f64),
    moves: Vec<(f64, f64, bool)>,
    pub position: f64,
}

const TAIL_SHARE: f64 = 0.25;
const TAIL: f64 = 6.0;
const DIP_AT: f64 = 0.5;

impl Plant {
    /// A system out of the ranges above, as found at some superheat between two.
    pub fn any(dice: &mut Dice, (low, high): (f64, f64)) -> Self {
        let start = dice.between(low, high);
        Self {
            start,
            gain: dice.between(0.5, 4.0),
            bend: dice.between(-0.3, 0.3),
            dead: dice.between(0.1, 0.8),
            lag: 0.4 * 10f64.powf(dice.between(0.0, 1.0)),
            dip: dice.between(0.6, 1.3),
            bias: dice.between(-0.8, 0.8),
            scatter: 0.8,
            load: (
                dice.between(0.0, 0.7),
                dice.between(20.0, 60.0),
                dice.between(0.0, core::f64::consts::TAU),
            ),
            swing: (0.0, 1.0),
            moves: Vec::new(),
            position: 0.0,
        }
    }

    /// A quiet system with round numbers, for cases worked by hand.
    #[allow(dead_code)] // not every test binary that shares this file needs it
    pub fn plain(start: f64, gain: f64) -> Self {
        let mut plant = Self::any(&mut Dice::new(1), (start, start));
        (plant.start, plant.gain, plant.bend, plant.bias) = (start, gain, 0.0, 0.0);
        (plant.dead, plant.lag, plant.dip, plant.load.0) = (0.3, 1.2, 1.2, 0.0);
        plant
    }

    /// Where superheat would settle with the stem at `position`, without load.
    fn curve(&self, position: f64) -> f64 {
        (self.start + self.gain * (position + self.bend * position * position / 20.0)).max(0.0)
    }

    /// Where superheat would settle now.
    pub fn settles(&self, t: f64) -> f64 {
        (self.curve(self.position) + self.drift(t)).max(0.0)
    }

    /// Within the travel of ten turns the band can be made, to its edge.
    pub fn reachable(&self, low: f64, high: f64) -> bool {
        self.curve(-10.0) <= high && self.curve(10.0) >= low
    }

    fn drift(&self, t: f64) -> f64 {
        let (size, period, phase) = self.load;
        size * ((core::f64::consts::TAU * t / period + phase).sin() - phase.sin())
    }

    pub fn turn(&mut self, t: f64, turns: f64) {
        let before = self.curve(self.position);
        self.position += turns;
        self.moves
            .push((t, self.curve(self.position) - before, turns < 0.0));
    }

    fn part(&self, since: f64) -> f64 {
        let x = (since - self.dead).max(0.0);
        1.0 - (1.0 - TAIL_SHARE) * (-x / self.lag).exp() - TAIL_SHARE * (-x / TAIL).exp()
    }

    /// The true superheat at a time.
    pub fn superheat(&self, t: f64) -> f64 {
        let mut y = self.start + self.drift(t);
        for &(at, change, opened) in &self.moves {
            let since = t - at;
            if since <= 0.0 {
                continue;
            }
            y += change * self.part(since);
            if opened {
                let deepest = change * (1.0 + self.dip - self.part(DIP_AT));
                let x = since / DIP_AT;
                y += deepest * x * x * (2.0 - 2.0 * x).exp();
            }
        }
        let (amplitude, period) = self.swing;
        (y + amplitude * (core::f64::consts::TAU * t / period).sin()).max(0.0)
    }

    /// What the tools read.
    pub fn read(&self, t: f64, dice: &mut Dice) -> f64 {
        self.superheat(t) + self.bias + self.scatter * dice.normal()
    }
}

//! Random numbers that are the same everywhere, from a seed.

/// The splitmix64 sequence of Steele, Lea and Flood (2014; cited from memory).
#[derive(Clone, Debug)]
pub(crate) struct Dice(u64);

const GOLDEN: u64 = 0x9E37_79B9_7F4A_7C15;

impl Dice {
    /// A sequence for these numbers taken together: other numbers, an unrelated sequence.
    pub(crate) fn of(keys: &[u64]) -> Self {
        let mut dice = Self(GOLDEN);
        for &key in keys {
            dice.0 ^= key.wrapping_mul(0x2545_F491_4F6C_DD1D);
            dice.0 = dice.next();
        }
        dice
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(GOLDEN);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Even between two numbers.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        // 53 bits: every value that a double holds between 0 and 1, evenly.
        low + (high - low) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// True in this share of draws.
    pub(crate) fn chance(&mut self, share: f64) -> bool {
        self.between(0.0, 1.0) < share
    }

    /// One of several, evenly; `None` of nothing.
    pub(crate) fn pick<T: Copy>(&mut self, of: &[T]) -> Option<T> {
        let place = self.between(0.0, of.len() as f64) as usize;
        of.get(place.min(of.len().saturating_sub(1))).copied()
    }

    /// Normal, mean 0, standard deviation 1 (Box and Muller).
    pub(crate) fn normal(&mut self) -> f64 {
        let (a, b) = (
            self.between(1e-12, 1.0),
            self.between(0.0, core::f64::consts::TAU),
        );
        libm::sqrt(-2.0 * libm::log(a)) * libm::cos(b)
    }
}

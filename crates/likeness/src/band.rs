//! A number with the band in which it lies nine times out of ten.

use serde::{Deserialize, Serialize};

/// Nine out of ten systems like the one that was read lie in it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Band {
    /// One in twenty lies lower.
    pub low: f64,
    /// As many above as below.
    pub middle: f64,
    /// One in twenty lies higher.
    pub high: f64,
}

/// One of several normal distributions.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Part {
    pub(crate) weight: f64,
    pub(crate) middle: f64,
    pub(crate) sd: f64,
}

/// Halvings of the search for a share.
const HALVINGS: usize = 50;
/// The search starts this many standard deviations outside.
const FAR: f64 = 6.0;

impl Band {
    /// Whether this number lies in it.
    pub fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Of a mixture whose weights add up to 1.
    pub(crate) fn of(parts: &[Part]) -> Self {
        Self {
            low: quantile(parts, 0.05),
            middle: quantile(parts, 0.5),
            high: quantile(parts, 0.95),
        }
    }

    /// No part of it is lower than this.
    pub(crate) fn at_least(self, least: f64) -> Self {
        Self {
            low: self.low.max(least),
            middle: self.middle.max(least),
            high: self.high.max(least),
        }
    }

    /// No part of it is higher than this.
    pub(crate) fn at_most(self, most: f64) -> Self {
        Self {
            low: self.low.min(most),
            middle: self.middle.min(most),
            high: self.high.min(most),
        }
    }

    /// Mean and standard deviation of a mixture.
    pub(crate) fn moments(parts: &[Part]) -> (f64, f64) {
        let mean: f64 = parts.iter().map(|part| part.weight * part.middle).sum();
        let variance: f64 = parts
            .iter()
            .map(|part| {
                let off = part.middle - mean;
                part.weight * (part.sd * part.sd + off * off)
            })
            .sum();
        (mean, variance.max(0.0).sqrt())
    }
}

/// Below which this share lies, by halving.
fn quantile(parts: &[Part], share: f64) -> f64 {
    let ends = |sign: f64| {
        parts
            .iter()
            .map(move |part| part.middle + sign * FAR * part.sd)
    };
    let mut low = ends(-1.0).fold(f64::INFINITY, f64::min);
    let mut high = ends(1.0).fold(f64::NEG_INFINITY, f64::max);
    let below = |x: f64| {
        let of = |part: &Part| {
            let scale = core::f64::consts::SQRT_2 * part.sd.max(1e-9);
            part.weight * 0.5 * libm::erfc((part.middle - x) / scale)
        };
        parts.iter().map(of).sum::<f64>()
    };
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if below(middle) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1.6449: the 95 % point of the normal distribution (NIST/SEMATECH e-Handbook, 1.3.6.7.1).
    #[test]
    fn one_part_is_the_normal_distribution() {
        let band = Band::of(&[Part {
            weight: 1.0,
            middle: 10.0,
            sd: 2.0,
        }]);
        assert!((band.low - (10.0 - 2.0 * 1.6449)).abs() < 1e-3, "{band:?}");
        assert!((band.middle - 10.0).abs() < 1e-6 && (band.high - 13.2898).abs() < 1e-3);
    }

    #[test]
    fn two_parts_reach_over_both() {
        let part = |middle| Part {
            weight: 0.5,
            middle,
            sd: 0.1,
        };
        let band = Band::of(&[part(0.0), part(-3.0)]);
        assert!(band.holds(0.0) && band.holds(-3.0) && !band.holds(0.5));
    }
}

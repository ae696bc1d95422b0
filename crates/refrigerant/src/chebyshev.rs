//! A Chebyshev expansion and its slope.

/// `f(x) = sum of c[k] T_k(u)`, with `u` running from -1 to 1 as `x` runs from `low` to `high`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chebyshev {
    low: f64,
    high: f64,
    coefficients: &'static [f64],
}

impl Chebyshev {
    pub(crate) const fn new(low: f64, high: f64, coefficients: &'static [f64]) -> Self {
        Self {
            low,
            high,
            coefficients,
        }
    }

    /// The value at `x`. The caller keeps `x` between `low` and `high`; outside, it means nothing.
    pub(crate) fn value(&self, x: f64) -> f64 {
        sum(self.coefficients, (x - self.low) * self.scale() - 1.0)
    }

    /// Value and slope at `x`, for twice the work.
    pub(crate) fn value_and_slope(&self, x: f64) -> (f64, f64) {
        let (value, slope) = sum_and_slope(self.coefficients, (x - self.low) * self.scale() - 1.0);
        (value, slope * self.scale())
    }

    /// How fast `u` runs with `x`.
    fn scale(&self) -> f64 {
        2.0 / (self.high - self.low)
    }
}

/// The sum of `c[k] T_k(u)`, backwards.
///
/// # Source
/// C. W. Clenshaw, Mathematical Tables and Other Aids to Computation 9 (1955) 118 (cited from
/// memory).
pub(crate) fn sum(coefficients: &[f64], u: f64) -> f64 {
    let [first, rest @ ..] = coefficients else {
        return 0.0;
    };
    let (mut b1, mut b2) = (0.0, 0.0);
    for &c in rest.iter().rev() {
        (b1, b2) = (c + 2.0 * u * b1 - b2, b1);
    }
    first + u * b1 - b2
}

/// The same sum and its slope in `u`: each step of [`sum`], differentiated.
pub(crate) fn sum_and_slope(coefficients: &[f64], u: f64) -> (f64, f64) {
    let [first, rest @ ..] = coefficients else {
        return (0.0, 0.0);
    };
    let (mut b1, mut b2, mut d1, mut d2) = (0.0, 0.0, 0.0, 0.0);
    for &c in rest.iter().rev() {
        (d1, d2) = (2.0 * b1 + 2.0 * u * d1 - d2, d1);
        (b1, b2) = (c + 2.0 * u * b1 - b2, b1);
    }
    (first + u * b1 - b2, b1 + u * d1 - d2)
}

#[cfg(test)]
mod tests {
    use super::Chebyshev;

    /// T_0 = 1, T_1 = u, T_2 = 2u^2 - 1, T_3 = 4u^3 - 3u (Abramowitz and Stegun, table 22.3),
    /// worked by hand at x = 3.5 on 2..6, where u = -0.25 and du/dx = 0.5. Tolerance: rounding.
    #[test]
    fn sums_the_polynomials_of_the_handbook() {
        let series = Chebyshev::new(2.0, 6.0, &[1.0, 2.0, 3.0, 4.0]);
        let value = 1.0 - 2.0 * 0.25 + 3.0 * (2.0 * 0.0625 - 1.0) + 4.0 * (0.75 - 4.0 / 64.0);
        let slope = 2.0 + 3.0 * (4.0 * -0.25) + 4.0 * (12.0 * 0.0625 - 3.0);
        assert!((series.value(3.5) - value).abs() < 1e-14);
        let (same, derivative) = series.value_and_slope(3.5);
        assert!((same - value).abs() < 1e-14);
        assert!((derivative - slope * 0.5).abs() < 1e-14);
    }
}

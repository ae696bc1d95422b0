//! Corners rounded off, so that the solver finds a slope everywhere.

/// Beyond this many widths the rounding is below the last digit of a double.
const FAR: f64 = 36.0;
/// Below this five terms of the series of `ln(1 + x)` are good to the last digit.
const SERIES: f64 = 2e-3;

/// `max(x, 0)` with its corner rounded over `width`: `width ln(1 + e^(x/width))`.
pub(crate) fn softplus(x: f64, width: f64) -> f64 {
    let u = x / width;
    if u.abs() > FAR {
        return x.max(0.0);
    }
    let small = libm::exp(-u.abs());
    let rounding = if small < SERIES {
        small * (1.0 - small * (1.0 / 2.0 - small * (1.0 / 3.0 - small * (0.25 - 0.2 * small))))
    } else {
        libm::log1p(small)
    };
    x.max(0.0) + width * rounding
}

/// The `x` whose [`softplus`] is `y`; `y` is above zero.
pub(crate) fn softplus_inverse(y: f64, width: f64) -> f64 {
    if y > FAR * width {
        y
    } else {
        width * libm::log(libm::expm1(y / width))
    }
}

/// The smaller of two, rounded over `width`; never above either.
pub(crate) fn softmin(a: f64, b: f64, width: f64) -> f64 {
    a - softplus(a - b, width)
}

/// The larger of two, rounded over `width`; never below either.
pub(crate) fn softmax(a: f64, b: f64, width: f64) -> f64 {
    a + softplus(b - a, width)
}

/// `x` held between 0 and 1, with both corners rounded over `width`.
pub(crate) fn unit_clamp(x: f64, width: f64) -> f64 {
    softplus(x, width) - softplus(x - 1.0, width)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounded_corners_meet_the_sharp_ones_away_from_them() {
        for x in [-2.0, -0.3, 0.4, 3.0] {
            assert!((softplus(x, 0.01) - f64::max(x, 0.0)).abs() < 1e-12, "{x}");
            assert!(
                (unit_clamp(x, 0.01) - x.clamp(0.0, 1.0)).abs() < 1e-12,
                "{x}"
            );
            assert!((softmin(x, 1.0, 0.01) - x.min(1.0)).abs() < 1e-12, "{x}");
            assert!((softmax(x, 1.0, 0.01) - x.max(1.0)).abs() < 1e-12, "{x}");
        }
    }

    /// The series meets the logarithm, and both corners are the same one.
    #[test]
    fn rounding_is_the_logarithm_it_stands_for() {
        for u in [-30.0, -6.3, -6.2, -1.0, 0.0, 0.7, 6.2, 6.3, 12.0] {
            let exact = 0.02 * libm::log1p(libm::exp(u));
            let ours = softplus(0.02 * u, 0.02);
            assert!((ours / exact - 1.0).abs() < 1e-14, "{u}: {ours} {exact}");
        }
    }

    #[test]
    fn the_inverse_comes_back() {
        for y in [1e-6, 0.003, 0.2, 5.0] {
            let back = softplus(softplus_inverse(y, 0.012), 0.012);
            assert!((back / y - 1.0).abs() < 1e-9, "{y}: {back}");
        }
    }
}

//! Eigenvalues of a small matrix that is not symmetric.
//!
//! To Hessenberg form by elimination, then shifted QR steps in complex numbers, one eigenvalue
//! split off after the other.
//!
//! # Source
//! G. H. Golub and C. F. Van Loan, Matrix Computations, 7.4 and 7.5 (cited from memory). The tests
//! put each eigenvalue back into its matrix.

use num_complex::Complex;

type C = Complex<f64>;

/// QR steps for one eigenvalue; after each of `STUCK` of them one with an odd shift.
const STEPS: usize = 90;
const STUCK: usize = 15;
/// A number below the diagonal this small against its neighbours is none.
const GONE: f64 = 1e-15;

/// All eigenvalues, in no order; `None` when the steps do not suffice or an entry is no number.
pub(crate) fn eigenvalues<const N: usize>(matrix: &[[f64; N]; N]) -> Option<[C; N]> {
    if matrix.iter().flatten().any(|entry| !entry.is_finite()) {
        return None;
    }
    let mut a = hessenberg(*matrix).map(|row| row.map(|entry| C::new(entry, 0.0)));
    let mut found = [C::ZERO; N];
    let mut last = N;
    let mut steps = 0;
    while last > 0 {
        let end = last - 1;
        let first = (1..=end)
            .rev()
            .find(|&row| {
                let around = a[row][row].norm() + a[row - 1][row - 1].norm();
                a[row][row - 1].norm() <= GONE * around
            })
            .unwrap_or(0);
        if first == end {
            found[end] = a[end][end];
            last = end;
            steps = 0;
            continue;
        }
        if steps == STEPS {
            return None;
        }
        steps += 1;
        let shift = if steps % STUCK == 0 {
            a[end][end] + a[end][end - 1].norm()
        } else {
            nearest(&a, end)
        };
        qr_step(&mut a, first, end, shift);
    }
    Some(found)
}

/// Everything under the first line below the diagonal made zero by row and column operations that
/// keep the eigenvalues.
fn hessenberg<const N: usize>(mut a: [[f64; N]; N]) -> [[f64; N]; N] {
    for column in 0..N.saturating_sub(2) {
        let pivot = column + 1;
        let best = (pivot..N)
            .max_by(|x, y| a[*x][column].abs().total_cmp(&a[*y][column].abs()))
            .unwrap_or(pivot);
        if a[best][column] == 0.0 {
            continue;
        }
        a.swap(pivot, best);
        for row in &mut a {
            row.swap(pivot, best);
        }
        for row in pivot + 1..N {
            let factor = a[row][column] / a[pivot][column];
            let above = a[pivot];
            for (entry, above) in a[row].iter_mut().zip(above) {
                *entry -= factor * above;
            }
            for line in &mut a {
                line[pivot] += factor * line[row];
            }
        }
    }
    a
}

/// The eigenvalue of the last two by two that is nearer to its corner.
fn nearest<const N: usize>(a: &[[C; N]; N], end: usize) -> C {
    let [p, q, r, s] = [
        a[end - 1][end - 1],
        a[end - 1][end],
        a[end][end - 1],
        a[end][end],
    ];
    let half = (p - s) / 2.0;
    let root = (half * half + q * r).sqrt();
    let [one, other] = [s + half + root, s + half - root];
    if (one - s).norm() < (other - s).norm() {
        one
    } else {
        other
    }
}

/// One step on the rows and columns `first` to `end`: rotate to a triangle, and the other way round.
fn qr_step<const N: usize>(a: &mut [[C; N]; N], first: usize, end: usize, shift: C) {
    for (place, row) in a.iter_mut().enumerate().take(end + 1).skip(first) {
        row[place] -= shift;
    }
    let mut turns = [(C::ONE, C::ZERO); N];
    for row in first..end {
        let (x, y) = (a[row][row], a[row + 1][row]);
        let length = libm::hypot(x.norm(), y.norm());
        let (c, s) = if length > 0.0 {
            (x / length, y / length)
        } else {
            (C::ONE, C::ZERO)
        };
        turns[row] = (c, s);
        let (upper, lower) = a.split_at_mut(row + 1);
        let pairs = upper[row].iter_mut().zip(&mut lower[0]);
        for (up, down) in pairs.take(end + 1).skip(row) {
            (*up, *down) = (c.conj() * *up + s.conj() * *down, c * *down - s * *up);
        }
    }
    for (column, (c, s)) in turns.iter().enumerate().take(end).skip(first) {
        for row in a.iter_mut().take((column + 2).min(end + 1)).skip(first) {
            let (left, right) = (row[column], row[column + 1]);
            row[column] = left * c + right * s;
            row[column + 1] = right * c.conj() - left * s.conj();
        }
    }
    for (place, row) in a.iter_mut().enumerate().take(end + 1).skip(first) {
        row[place] += shift;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sorted<const N: usize>(matrix: &[[f64; N]; N]) -> Vec<C> {
        let mut all = eigenvalues(matrix).expect("converges").to_vec();
        all.sort_by(|a, b| a.re.total_cmp(&b.re).then(a.im.total_cmp(&b.im)));
        all
    }

    /// Worked by hand: a triangle has its diagonal; a turn by 90° has ±i; a companion matrix has the
    /// roots of its polynomial, here (x - 1)(x - 2)(x² + 2x + 5).
    #[test]
    fn eigenvalues_known_by_hand() {
        let triangle = sorted(&[[3.0, 9.0, -2.0], [0.0, -1.0, 4.0], [0.0, 0.0, 2.0]]);
        for (value, known) in triangle.iter().zip([-1.0, 2.0, 3.0]) {
            assert!((value - known).norm() < 1e-12, "{triangle:?}");
        }
        let turn = sorted(&[[0.0, -1.0], [1.0, 0.0]]);
        for value in &turn {
            assert!(
                (C::new(value.re, value.im.abs()) - C::I).norm() < 1e-12,
                "{turn:?}"
            );
        }
        assert!((turn[0] + turn[1]).norm() < 1e-12, "{turn:?}");
        // x⁴ - x³ + x² - 11x + 10
        let companion = sorted(&[
            [1.0, -1.0, 11.0, -10.0],
            [1.0, 0.0, 0.0, 0.0],
            [0.0, 1.0, 0.0, 0.0],
            [0.0, 0.0, 1.0, 0.0],
        ]);
        let known = [(-1.0, -2.0), (-1.0, 2.0), (1.0, 0.0), (2.0, 0.0)];
        for (value, (re, im)) in companion.iter().zip(known) {
            assert!((value - C::new(re, im)).norm() < 1e-10, "{companion:?}");
        }
    }

    #[test]
    fn what_is_no_number_has_no_eigenvalues() {
        assert!(eigenvalues(&[[f64::NAN, 1.0], [0.0, 1.0]]).is_none());
    }

    proptest! {
        /// Sum and product of the eigenvalues are trace and determinant.
        #[test]
        fn sum_and_product_are_trace_and_determinant(
            entries in prop::array::uniform25(-3.0..3.0_f64),
        ) {
            let matrix: [[f64; 5]; 5] =
                core::array::from_fn(|row| core::array::from_fn(|column| entries[5 * row + column]));
            let all = eigenvalues(&matrix).expect("converges");
            let sum: C = all.iter().sum();
            let trace: f64 = (0..5).map(|place| matrix[place][place]).sum();
            prop_assert!((sum - trace).norm() < 1e-9, "{sum} {trace}");
            let product: C = all.iter().product();
            let determinant = determinant(matrix);
            prop_assert!((product - determinant).norm() < 1e-8 * (1.0 + determinant.abs()));
        }
    }

    /// By elimination.
    fn determinant(mut a: [[f64; 5]; 5]) -> f64 {
        let mut product = 1.0;
        for pivot in 0..5 {
            let best = (pivot..5)
                .max_by(|x, y| a[*x][pivot].abs().total_cmp(&a[*y][pivot].abs()))
                .expect("rows");
            if best != pivot {
                a.swap(pivot, best);
                product = -product;
            }
            product *= a[pivot][pivot];
            for row in pivot + 1..5 {
                let factor = a[row][pivot] / a[pivot][pivot];
                let above = a[pivot];
                for (entry, above) in a[row].iter_mut().zip(above) {
                    *entry -= factor * above;
                }
            }
        }
        product
    }
}

//! Symmetric systems of a dozen equations.

/// The lower triangle `L` of `L L' = a`; `None` when `a` is not positive definite.
pub(crate) fn cholesky(a: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let n = a.len();
    let mut l = vec![vec![0.0; n]; n];
    for row in 0..n {
        for column in 0..=row {
            let known: f64 = (0..column).map(|k| l[row][k] * l[column][k]).sum();
            let rest = a[row][column] - known;
            l[row][column] = if row == column {
                if !(rest > 0.0 && rest.is_finite()) {
                    return None;
                }
                rest.sqrt()
            } else {
                rest / l[column][column]
            };
        }
    }
    Some(l)
}

/// `x` of `L x = b`.
pub(crate) fn forward(l: &[Vec<f64>], b: &[f64]) -> Vec<f64> {
    let mut x = vec![0.0; b.len()];
    for row in 0..b.len() {
        let known: f64 = (0..row).map(|k| l[row][k] * x[k]).sum();
        x[row] = (b[row] - known) / l[row][row];
    }
    x
}

/// `x` of `L' x = b`.
pub(crate) fn backward(l: &[Vec<f64>], b: &[f64]) -> Vec<f64> {
    let n = b.len();
    let mut x = vec![0.0; n];
    for row in (0..n).rev() {
        let known: f64 = (row + 1..n).map(|k| l[k][row] * x[k]).sum();
        x[row] = (b[row] - known) / l[row][row];
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solution_goes_back_into_its_equations() {
        let a = vec![
            vec![4.0, 1.0, -0.5],
            vec![1.0, 3.0, 0.7],
            vec![-0.5, 0.7, 2.0],
        ];
        let b = [1.0, -2.0, 0.3];
        let l = cholesky(&a).expect("positive definite");
        let x = backward(&l, &forward(&l, &b));
        for (row, b) in a.iter().zip(b) {
            let sum: f64 = row.iter().zip(&x).map(|(a, x)| a * x).sum();
            assert!((sum - b).abs() < 1e-12);
        }
        assert!(cholesky(&[vec![1.0, 2.0], vec![2.0, 1.0]]).is_none());
        assert!(cholesky(&[vec![f64::NAN]]).is_none());
    }
}

//! A square of rationals in two triangles, by Gaussian elimination: quickest for small squares, and right for all.

use trug_model::Q;

/// `PA = LU` by Gaussian elimination; `L` has ones on its diagonal.
#[derive(Clone, Debug)]
pub(super) struct Factors {
    /// Which row of the matrix each row of the factors is.
    order: Vec<usize>,
    /// Both factors in one square.
    factors: Vec<Vec<Q>>,
}

impl Factors {
    /// None where the matrix is singular.
    pub(super) fn of(mut matrix: Vec<Vec<Q>>) -> Option<Factors> {
        let size = matrix.len();
        let mut order: Vec<usize> = (0..size).collect();
        for step in 0..size {
            let chosen = (step..size)
                .filter(|row| !matrix[*row][step].is_zero())
                .min_by_key(|row| matrix[*row].iter().filter(|entry| !entry.is_zero()).count())?;
            matrix.swap(step, chosen);
            order.swap(step, chosen);
            let (done, below) = matrix.split_at_mut(step + 1);
            let pivot_row = &done[step];
            for row in below {
                if row[step].is_zero() {
                    continue;
                }
                let factor = &row[step] / &pivot_row[step];
                for column in step + 1..size {
                    if !pivot_row[column].is_zero() {
                        row[column] -= &factor * &pivot_row[column];
                    }
                }
                row[step] = factor;
            }
        }
        Some(Factors {
            order,
            factors: matrix,
        })
    }

    /// The `x` of `A x = right`.
    pub(super) fn solve(&self, right: &[Q]) -> Vec<Q> {
        let mut result: Vec<Q> = self.order.iter().map(|row| right[*row].clone()).collect();
        for row in 0..result.len() {
            for column in 0..row {
                subtract(&mut result, row, &self.factors[row][column], column);
            }
        }
        for row in (0..result.len()).rev() {
            for column in row + 1..result.len() {
                subtract(&mut result, row, &self.factors[row][column], column);
            }
            result[row] = &result[row] / &self.factors[row][row];
        }
        result
    }

    /// The `y` of `y A = right`.
    pub(super) fn solve_left(&self, right: &[Q]) -> Vec<Q> {
        let mut result = right.to_vec();
        for column in 0..result.len() {
            for row in 0..column {
                subtract(&mut result, column, &self.factors[row][column], row);
            }
            result[column] = &result[column] / &self.factors[column][column];
        }
        for column in (0..result.len()).rev() {
            for row in column + 1..result.len() {
                subtract(&mut result, column, &self.factors[row][column], row);
            }
        }
        let mut in_place = vec![Q::ZERO; result.len()];
        for (value, row) in result.into_iter().zip(&self.order) {
            in_place[*row] = value;
        }
        in_place
    }
}

fn subtract(result: &mut [Q], at: usize, factor: &Q, of: usize) {
    if !factor.is_zero() && !result[of].is_zero() {
        let product = factor * &result[of];
        result[at] -= product;
    }
}

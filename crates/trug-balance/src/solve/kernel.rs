//! The square heart of a basis: its basic shares against its active rows, solved exactly.

use std::cell::OnceCell;

use trug_model::Q;

use super::linear::Whole;
use factors::Factors;
use residues::Residues;

mod factors;
mod residues;

/// From this size on remainders are quicker than rationals.
const LARGE: usize = 8;

/// A square matrix that has an inverse.
#[derive(Clone, Debug)]
pub(super) struct Kernel {
    /// Each row made whole.
    matrix: Vec<Vec<Q>>,
    /// What each row was multiplied with for it.
    scales: Vec<Q>,
    residues: Option<Residues>,
    /// Made where remainders do not suffice.
    factors: OnceCell<Option<Factors>>,
}

impl Kernel {
    /// None where the matrix is singular.
    pub(super) fn of(matrix: Vec<Vec<Q>>) -> Option<Kernel> {
        let rows = matrix.iter().map(|row| Whole::of(row));
        let (matrix, scales): (Vec<Vec<Q>>, Vec<Q>) =
            rows.map(|whole| (whole.values, whole.times)).unzip();
        let is_large = matrix.len() >= LARGE;
        let kernel = Kernel {
            residues: is_large.then(|| Residues::of(&matrix)).flatten(),
            factors: OnceCell::new(),
            matrix,
            scales,
        };
        (kernel.residues.is_some() || kernel.factors().is_some()).then_some(kernel)
    }

    fn factors(&self) -> Option<&Factors> {
        let made = self
            .factors
            .get_or_init(|| Factors::of(self.matrix.clone()));
        made.as_ref()
    }

    /// The `x` of `A x = right`.
    pub(super) fn solve(&self, right: &[Q]) -> Vec<Q> {
        let pairs = right.iter().zip(&self.scales);
        let scaled: Vec<Q> = pairs.map(|(right, scale)| right * scale).collect();
        let whole = Whole::of(&scaled);
        let solved = self
            .residues
            .as_ref()
            .and_then(|residues| residues.solve(&whole.values));
        match solved {
            Some(solved) => {
                let times = &solved.times * &whole.times;
                solved.values.iter().map(|value| value / &times).collect()
            }
            None => self
                .factors()
                .map_or(scaled.clone(), |factors| factors.solve(&scaled)),
        }
    }

    /// The `y` of `y A = right`.
    pub(super) fn solve_left(&self, right: &[Q]) -> Vec<Q> {
        let whole = self.solve_left_whole(right);
        if whole.times == Q::ONE {
            return whole.values;
        }
        let values = whole.values.iter();
        values.map(|value| value / &whole.times).collect()
    }

    /// The same, times a positive number that may make it whole: without the work of lowest terms.
    pub(super) fn solve_left_whole(&self, right: &[Q]) -> Whole {
        let whole = Whole::of(right);
        let solved = self
            .residues
            .as_ref()
            .and_then(|residues| residues.solve_left(&whole.values));
        let solved = solved.map_or_else(
            || Whole {
                values: self
                    .factors()
                    .map_or(right.to_vec(), |factors| factors.solve_left(right)),
                times: Q::ONE,
            },
            |solved| Whole {
                times: &solved.times * &whole.times,
                values: solved.values,
            },
        );
        let pairs = solved.values.iter().zip(&self.scales);
        Whole {
            values: pairs.map(|(value, scale)| value * scale).collect(),
            times: solved.times,
        }
    }
}

//! The simplex method with ranges in machine arithmetic: quick, nearly right, and never believed.
//!
//! It finds the basis that the exact method then proves or goes on from. Its numbers are those of a dictionary (Chvátal 1983): every
//! basic one as a sum over the others. Rows and shares are scaled by powers of two, so that 1e-7 and 1e7 can stand side by side.

use trug_model::Q;

use super::linear::{Basis, Linear};
use super::scaling::Scaling;
use super::watch::Watch;
pub(super) use dictionary::Dictionary;

mod dictionary;

/// A programme in machine numbers, made once and solved at many ranges.
#[derive(Clone, Debug)]
pub(super) struct Sketch {
    costs: Vec<f64>,
    lines: Vec<Vec<f64>>,
    is_equal: Vec<bool>,
    scaling: Scaling,
}

/// What can change without a new sketch.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits<'a> {
    pub(super) ranges: &'a [(Q, Q)],
    /// What each row asks for.
    pub(super) at_least: &'a [Q],
}

/// Where it ended.
#[derive(Clone, Debug)]
pub(super) struct Sketched {
    pub(super) basis: Basis,
    /// Prices of the rows: those of the cost, or where nothing keeps all rows, those that show it.
    pub(super) prices: Vec<f64>,
    pub(super) shares: Vec<f64>,
    pub(super) cost: f64,
    pub(super) end: End,
}

/// How it ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    Cheapest,
    Empty,
    Lost,
}

impl Sketch {
    pub(super) fn of(linear: &Linear) -> Sketch {
        let lines: Vec<Vec<f64>> = linear
            .rows
            .iter()
            .map(|row| row.weights.iter().map(Q::to_f64).collect())
            .collect();
        let scaling = Scaling::of(&lines, linear.costs.len());
        let costs: Vec<f64> = linear.costs.iter().map(Q::to_f64).collect();
        let mut sketch = Sketch {
            costs: costs
                .iter()
                .zip(&scaling.shares)
                .map(|(cost, scale)| cost * scale)
                .collect(),
            lines,
            is_equal: linear.rows.iter().map(|row| row.is_equal).collect(),
            scaling,
        };
        for (rank, line) in sketch.lines.iter_mut().enumerate() {
            let by = sketch.scaling.rows[rank];
            for (weight, scale) in line.iter_mut().zip(&sketch.scaling.shares) {
                *weight *= by * scale;
            }
        }
        sketch
    }

    /// The cheapest vertex at these ranges and limits of the rows, from a basis.
    pub(super) fn solve(&self, at: &Limits, start: Option<&Basis>, watch: &Watch) -> Sketched {
        self.worked_out(at, start, watch).0
    }

    /// The same, with the way it went.
    pub(super) fn worked_out(
        &self,
        at: &Limits,
        start: Option<&Basis>,
        watch: &Watch,
    ) -> (Sketched, Dictionary) {
        let mut dictionary = Dictionary::of(self, at);
        if let Some(basis) = start {
            dictionary.enter_all(basis);
        }
        let end = dictionary.run(watch);
        (dictionary.ended(&self.scaling, end), dictionary)
    }

    /// The cheapest vertex at other ranges, from where another way ended; none where that has become too long to be trusted.
    pub(super) fn further(
        &self,
        mut dictionary: Dictionary,
        ranges: &[(Q, Q)],
        watch: &Watch,
    ) -> Option<(Sketched, Dictionary)> {
        dictionary.set_ranges(self, ranges);
        let end = dictionary.run(watch);
        let is_trusted = end != End::Lost && dictionary.is_trusted();
        is_trusted.then(|| (dictionary.ended(&self.scaling, end), dictionary))
    }
}

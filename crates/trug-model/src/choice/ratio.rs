//! Sums over what can be chosen, and one such sum over another.

use super::OpenShare;
use crate::Q;
use crate::judge::{Mix, Spread};
use crate::view::Interval;

/// One sum over another, both over what can be chosen.
#[derive(Clone, Debug)]
pub struct Ratio {
    /// What is bounded.
    pub above: ChoiceSum,
    /// What it is divided by.
    pub below: ChoiceSum,
}

/// A sum over what can be chosen. Weights are per one whole of a share.
#[derive(Clone, Debug)]
pub struct ChoiceSum {
    /// What one whole of each share adds.
    pub weights: Vec<Q>,
    /// What is fixed.
    pub constant: Q,
    /// Square of one standard deviation of each weight.
    pub variances: Vec<Q>,
    /// The same of what is fixed.
    pub constant_variance: Q,
    /// Whether anything of each weight is unknown.
    pub unknown: Vec<bool>,
    /// Whether anything of what is fixed is unknown.
    pub constant_is_unknown: bool,
}

/// Which end of what is known is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Count {
    /// What is known; nothing for what is not.
    Known,
    /// The least it can be.
    Least,
    /// The most it can be, where that has an end.
    Most,
}

impl Count {
    fn of(self, interval: &Interval) -> Q {
        match self {
            Count::Known => interval.known.clone(),
            Count::Least => interval.low.clone(),
            Count::Most => interval
                .high
                .clone()
                .unwrap_or_else(|| interval.known.clone()),
        }
    }
}

impl ChoiceSum {
    /// The sum at these shares.
    #[must_use]
    pub fn at(&self, shares: &[Q]) -> Q {
        &self.constant + Q::sum_of_products(self.weights.iter().zip(shares))
    }

    /// Whether nothing of what these shares add is unknown.
    #[must_use]
    pub fn is_complete_at(&self, shares: &[Q]) -> bool {
        let mut used = self.unknown.iter().zip(shares);
        !self.constant_is_unknown && used.all(|(unknown, share)| !unknown || share.is_zero())
    }

    pub(super) fn of(
        mix: &Mix<'_>,
        shares: &[OpenShare],
        spread: &Spread,
        count: Count,
    ) -> ChoiceSum {
        let mut fixed = spread.fixed.clone();
        for (rank, (line, (low, _))) in spread.lines.iter().zip(&mix.ranges).enumerate() {
            if !shares.iter().any(|share| share.line == rank) {
                fixed = fixed.plus(&line.times(low));
            }
        }
        let lines: Vec<&Interval> = shares
            .iter()
            .filter_map(|share| spread.lines.get(share.line))
            .collect();
        ChoiceSum {
            weights: lines.iter().map(|line| count.of(line)).collect(),
            constant: count.of(&fixed),
            variances: lines.iter().map(|line| line.variance.clone()).collect(),
            constant_variance: fixed.variance,
            unknown: lines.iter().map(|line| !line.is_complete).collect(),
            constant_is_unknown: !fixed.is_complete,
        }
    }

    /// The same amount whatever is chosen.
    pub(super) fn constant(value: Q, shares: usize) -> ChoiceSum {
        ChoiceSum {
            weights: vec![Q::ZERO; shares],
            constant: value,
            variances: vec![Q::ZERO; shares],
            constant_variance: Q::ZERO,
            unknown: vec![false; shares],
            constant_is_unknown: false,
        }
    }
}

impl Ratio {
    /// The value at these shares; none where nothing is below the line.
    #[must_use]
    pub fn at(&self, shares: &[Q]) -> Option<Q> {
        self.above.at(shares).over(&self.below.at(shares))
    }

    /// Whether nothing of it is unknown at these shares.
    #[must_use]
    pub fn is_complete_at(&self, shares: &[Q]) -> bool {
        self.above.is_complete_at(shares) && self.below.is_complete_at(shares)
    }

    /// A plain sum.
    pub(super) fn plain(above: ChoiceSum) -> Ratio {
        let below = ChoiceSum::constant(Q::ONE, above.weights.len());
        Ratio { above, below }
    }
}

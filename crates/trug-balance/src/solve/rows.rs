//! A bound as a row: how far `above` is on the safe side of `limit · below`.

use trug_model::Q;

use super::linear::{Row, Whole, dot};
use crate::programme::{Bound, End, Sum};

/// The linear part of a bound; what scatters is left out.
pub(crate) fn row_of(bound: &Bound) -> Row {
    let safe = |above: &Q, below: &Q| {
        let margin = above - &bound.limit * below;
        match bound.end {
            End::AtLeast => margin,
            End::AtMost => -margin,
        }
    };
    let pairs = bound.above.weights.iter().zip(&bound.below.weights);
    Row {
        weights: pairs.map(|(above, below)| safe(above, below)).collect(),
        at_least: -safe(&bound.above.constant, &bound.below.constant),
        is_equal: false,
    }
}

/// Squares of the standard deviations of a bound's margin: of each share, and of what is fixed.
pub(crate) fn scatter_of(bound: &Bound) -> (Vec<Q>, Q) {
    let square = &bound.limit * &bound.limit;
    let joined = |above: &Q, below: &Q| above + &square * below;
    let pairs = bound.above.variances.iter().zip(&bound.below.variances);
    (
        pairs.map(|(above, below)| joined(above, below)).collect(),
        joined(
            &bound.above.constant_variance,
            &bound.below.constant_variance,
        ),
    )
}

/// Shares as whole numbers, for many bounds to be judged at.
pub(crate) struct Choice {
    whole: Whole,
    /// Of the whole numbers.
    total: Q,
}

impl Choice {
    pub(crate) fn of(shares: &[Q]) -> Choice {
        let whole = Whole::of(shares);
        Choice {
            total: whole.values.iter().sum(),
            whole,
        }
    }

    /// How far `above` is on the safe side of `limit · below`, what scatters left out, times a positive number.
    pub(crate) fn margin(&self, bound: &Bound) -> Q {
        let margin = self.sum(&bound.above) - &bound.limit * self.sum(&bound.below);
        match bound.end {
            End::AtLeast => margin,
            End::AtMost => -margin,
        }
    }

    fn sum(&self, of: &Sum) -> Q {
        let shares = if of.weights.iter().all(|weight| *weight == Q::ONE) {
            self.total.clone()
        } else {
            dot(&of.weights, &self.whole.values)
        };
        shares + &of.constant * &self.whole.times
    }

    /// Whether the bound is kept exactly, with its margin where it has one, leaving aside whether it holds.
    pub(crate) fn keeps(&self, bound: &Bound) -> bool {
        let margin = self.margin(bound);
        let Some(reliance) = bound
            .reliance
            .as_ref()
            .filter(|reliance| reliance.is_positive())
        else {
            return !margin.is_negative();
        };
        let (variances, constant) = scatter_of(bound);
        let parts = variances
            .iter()
            .zip(&self.whole.values)
            .map(|(variance, share)| variance * share * share);
        let variance = parts.sum::<Q>() + constant * &self.whole.times * &self.whole.times;
        let wanted = reliance * reliance * variance;
        !margin.is_negative() && &margin * &margin >= wanted
    }
}

/// Whether `shares` keep the bound exactly, with its margin where it has one, leaving aside whether it holds.
pub(crate) fn is_kept(bound: &Bound, shares: &[Q]) -> bool {
    Choice::of(shares).keeps(bound)
}

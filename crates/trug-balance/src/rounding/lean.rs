//! The programme without the shares that stay out: what rounding looks at again and again is then only what is used.

use trug_model::Q;

use crate::programme::{Bound, Programme, Sum};
use crate::settled::Use;

/// A programme of used shares alone.
pub(super) struct Lean {
    /// All its shares are used.
    pub(super) programme: Programme,
    /// The optimum of these shares.
    pub(super) optimum: Vec<Q>,
    /// What is written now keeps out what stays out.
    pub(super) may_stay: bool,
    /// Where each share stands in the whole programme.
    places: Vec<usize>,
    count: usize,
}

impl Lean {
    pub(super) fn of(programme: &Programme, optimum: &[Q], uses: &[Use]) -> Lean {
        let is_out = |share: usize| uses.get(share) == Some(&Use::LeftOut);
        let count = programme.shares.len();
        let places: Vec<usize> = (0..count).filter(|share| !is_out(*share)).collect();
        let mut out = programme.shares.iter().enumerate();
        let may_stay = out.all(|(share, asked)| {
            !is_out(share) || asked.is_rest || asked.now.as_ref().is_some_and(Q::is_zero)
        });
        let holds = |bound: &&Bound| bound.if_used.is_none_or(|share| !is_out(share));
        let bounds = programme.bounds.iter().filter(holds);
        Lean {
            optimum: picked(optimum, &places),
            may_stay,
            programme: Programme {
                shares: picked(&programme.shares, &places),
                total: programme.total.clone(),
                bounds: bounds.map(|bound| narrowed(bound, &places)).collect(),
                exclusions: Vec::new(),
                fixed_cost: programme.fixed_cost.clone(),
            },
            places,
            count,
        }
    }

    /// The shares of the whole programme.
    pub(super) fn widened(&self, shares: Vec<Q>) -> Vec<Q> {
        let mut all = vec![Q::ZERO; self.count];
        for (place, share) in self.places.iter().zip(shares) {
            if let Some(slot) = all.get_mut(*place) {
                *slot = share;
            }
        }
        all
    }
}

fn picked<T: Clone>(all: &[T], places: &[usize]) -> Vec<T> {
    let picked = places.iter().filter_map(|place| all.get(*place));
    picked.cloned().collect()
}

fn narrowed(bound: &Bound, places: &[usize]) -> Bound {
    let sum = |sum: &Sum| Sum {
        weights: picked(&sum.weights, places),
        constant: sum.constant.clone(),
        variances: picked(&sum.variances, places),
        constant_variance: sum.constant_variance.clone(),
    };
    Bound {
        above: sum(&bound.above),
        below: sum(&bound.below),
        limit: bound.limit.clone(),
        end: bound.end,
        may_be_relaxed: bound.may_be_relaxed,
        if_used: None,
        reliance: bound.reliance.clone(),
    }
}

//! From what a ration lets one choose to the question in numbers.

use trug_model::Q;
use trug_model::choice::{Choice, ChoiceBound, ChoiceEnd, ChoiceSum, OpenShare};

use crate::programme::{Bound, End, Exclusion, Programme, Share, Sum};

/// The question that a choice puts; none where the price of a share is unknown.
pub(crate) fn question(choice: &Choice) -> Option<Programme> {
    let share = |open: &OpenShare| {
        Some(Share {
            cost: open.price.as_ref()?.over(&choice.whole)?,
            or_none: open.or_none,
            now: open.now.clone(),
            is_rest: open.is_rest,
        })
    };
    let exclusions = choice.exclusions.iter();
    Some(Programme {
        shares: choice.shares.iter().map(share).collect::<Option<_>>()?,
        total: choice.total.clone(),
        fixed_cost: choice.fixed_cost.clone(),
        bounds: choice.bounds.iter().map(bound).collect(),
        exclusions: exclusions
            .map(|exclusion| Exclusion {
                one: exclusion.one.clone(),
                other: exclusion.other.clone(),
            })
            .collect(),
    })
}

fn bound(bound: &ChoiceBound) -> Bound {
    Bound {
        above: sum(&bound.counted.above),
        below: sum(&bound.counted.below),
        limit: bound.limit.clone(),
        end: match bound.end {
            ChoiceEnd::AtLeast => End::AtLeast,
            ChoiceEnd::AtMost => End::AtMost,
        },
        may_be_relaxed: bound.rule.may_be_relaxed(),
        if_used: bound.if_used,
        reliance: bound.reliance.clone().filter(Q::is_positive),
    }
}

fn sum(sum: &ChoiceSum) -> Sum {
    Sum {
        weights: sum.weights.clone(),
        constant: sum.constant.clone(),
        variances: sum.variances.clone(),
        constant_variance: sum.constant_variance.clone(),
    }
}

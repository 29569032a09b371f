//! The question answered: the cheapest shares as they can be written, or why there are none.

use trug_model::Q;

use crate::conflict::conflict;
use crate::programme::{Answer, Bound, Chosen, End, Programme, Sum};
use crate::rounding::{Optimum, cost_of, is_within_tolerance, rounded};
use crate::solve::{Cheapest, Found, Reasons, Stopped, Watch, cheapest};

/// The cheapest shares, rounded to what can be written, with their proof; or what cannot all be kept.
///
/// Nothing is answered that was not checked once more apart from what found it.
#[must_use]
pub fn answer(programme: &Programme, watch: &Watch<'_>) -> Answer {
    match cheapest(programme, watch) {
        Cheapest::Found(found) => chosen(programme, *found, watch),
        Cheapest::Nothing => match conflict(programme, watch) {
            Some(_) if watch.stopped() == Some(Stopped::Cancelled) => unanswered(watch, ""),
            Some(conflict) => Answer::Infeasible(conflict),
            None => unanswered(
                watch,
                "no amounts keep every bound, and the work allowed did not suffice to say which bounds are why",
            ),
        },
        Cheapest::Unanswered(why) => Answer::Unanswered(why),
    }
}

fn chosen(programme: &Programme, found: Found<'_>, watch: &Watch<'_>) -> Answer {
    let least = if is_within_tolerance(programme, &found.cost, &found.cost_bound) {
        &found.cost_bound
    } else {
        &found.cost
    };
    let optimum = Optimum {
        shares: &found.shares,
        is_only: found.is_only,
    };
    // Neither needs the other, and each counts its own work.
    let (Reasons { bounds, costs }, rounded) = rayon::join(
        || found.reasons(watch),
        || rounded(programme, optimum, least, watch),
    );
    if watch.stopped() == Some(Stopped::Cancelled) {
        return unanswered(watch, "");
    }
    let cost = cost_of(programme, &rounded.shares);
    let is_proved = is_within_tolerance(programme, &cost, &found.cost_bound);
    let gap = || unproved(programme, &cost, &found.cost_bound);
    let chosen = Chosen {
        unproved: rounded.unproved.or_else(|| (!is_proved).then(gap)),
        shares: found.shares,
        rounded: rounded.shares,
        cost_bound: found.cost_bound,
        cost,
        bounds,
        costs,
    };
    if is_sound(programme, &chosen) {
        Answer::Chosen(Box::new(chosen))
    } else {
        Answer::Unanswered("the amounts found did not stand the last check".to_owned())
    }
}

fn unanswered(watch: &Watch<'_>, why: &str) -> Answer {
    Answer::Unanswered(match watch.stopped() {
        Some(Stopped::Cancelled) => "the work was cancelled".to_owned(),
        Some(Stopped::Spent) | None => why.to_owned(),
    })
}

/// Why something cheaper is not ruled out.
fn unproved(programme: &Programme, cost: &Q, cost_bound: &Q) -> String {
    let whole = (&programme.fixed_cost + cost).abs();
    let gap = (cost - cost_bound) * Q::int(100);
    let much = gap.over(&whole).map_or_else(
        || "something".to_owned(),
        |percent| format!("up to {} %", percent.readable(2)),
    );
    format!("the work allowed did not suffice to rule out amounts that are cheaper by {much}")
}

/// Whether both choices keep the question, and the bound on the cost is none that they break. Shares no code with what found them.
fn is_sound(programme: &Programme, chosen: &Chosen) -> bool {
    let cost = |shares: &[Q]| {
        let mut cost = Q::ZERO;
        for (share, amount) in programme.shares.iter().zip(shares) {
            cost += &share.cost * amount;
        }
        cost
    };
    is_choice(programme, &chosen.shares)
        && is_choice(programme, &chosen.rounded)
        && cost(&chosen.rounded) == chosen.cost
        && chosen.cost_bound <= chosen.cost
        && chosen.cost_bound <= cost(&chosen.shares)
        && chosen.bounds.len() == programme.bounds.len()
        && chosen.costs.len() == programme.shares.len()
}

/// Whether the shares keep everything.
fn is_choice(programme: &Programme, shares: &[Q]) -> bool {
    if shares.len() != programme.shares.len() || shares.iter().any(Q::is_negative) {
        return false;
    }
    let is_used = |share: &usize| shares.get(*share).is_some_and(|amount| !amount.is_zero());
    let choice = Choice::of(shares);
    let bounds_hold = programme.bounds.iter().all(|bound| match &bound.if_used {
        Some(share) if !is_used(share) => true,
        _ => choice.holds(bound),
    });
    let none_meet = programme.exclusions.iter().all(|exclusion| {
        let one = exclusion.one.iter().any(is_used);
        let other = exclusion.other.is_empty() || exclusion.other.iter().any(is_used);
        !(one && other)
    });
    shares.iter().sum::<Q>() == programme.total && bounds_hold && none_meet
}

/// Shares over one denominator: with large numbers, whole ones are most of the way.
struct Choice {
    parts: Vec<Q>,
    denominator: Q,
    total: Q,
}

impl Choice {
    fn of(shares: &[Q]) -> Choice {
        let wider = |denominator: Q, share: &Q| (share * &denominator).denominator() * denominator;
        let denominator = shares.iter().fold(Q::ONE, wider);
        let parts: Vec<Q> = shares.iter().map(|share| share * &denominator).collect();
        Choice {
            total: parts.iter().sum(),
            parts,
            denominator,
        }
    }

    /// Whether `above ÷ below` is on the right side of its limit, with its margin.
    fn holds(&self, bound: &Bound) -> bool {
        let above = self.sum(&bound.above);
        let below = self.sum(&bound.below);
        if !below.is_positive() {
            return false;
        }
        let spare = match bound.end {
            End::AtLeast => above - &bound.limit * below,
            End::AtMost => &bound.limit * below - above,
        };
        let Some(deviations) = bound.reliance.as_ref().filter(|z| z.is_positive()) else {
            return !spare.is_negative();
        };
        let scatter =
            self.variance(&bound.above) + &bound.limit * &bound.limit * self.variance(&bound.below);
        !spare.is_negative() && &spare * &spare >= deviations * deviations * scatter
    }

    /// Times the denominator.
    fn sum(&self, sum: &Sum) -> Q {
        let is_of_all = sum.weights.iter().all(|weight| *weight == Q::ONE);
        let of_shares = if is_of_all {
            self.total.clone()
        } else {
            Q::sum_of_products(sum.weights.iter().zip(&self.parts))
        };
        of_shares + &sum.constant * &self.denominator
    }

    /// Times the square of the denominator.
    fn variance(&self, sum: &Sum) -> Q {
        let mut variance = &sum.constant_variance * &self.denominator * &self.denominator;
        for (square, share) in sum.variances.iter().zip(&self.parts) {
            variance += square * share * share;
        }
        variance
    }
}

#[cfg(test)]
mod tests;

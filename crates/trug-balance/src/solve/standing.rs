//! How each bound stands at the choice, and what it costs.

use trug_model::Q;

use super::exact::Pivoting;
use super::linear::{Linear, Vertex, dot};
use super::question::{Form, Pattern, Question};
use super::rows::{Choice, row_of, scatter_of};
use super::tightening::Directions;
use super::watch::Watch;
use crate::programme::{Bound, End, Standing};

/// Against what is wanted, so little to spare is nothing: margins of certainty have no exact edge in decimals.
const NOTHING_TO_SPARE: (i64, i64) = (1, 1_000_000);

/// What the bounds are judged at.
pub(super) struct Judged<'a, 'p> {
    pub(super) question: &'a Question<'p>,
    pub(super) pattern: &'a Pattern,
    /// The programme at the pattern.
    pub(super) linear: &'a Linear,
    pub(super) vertex: &'a Vertex,
    /// The choice.
    pub(super) shares: &'a [Q],
    /// The vertex's basis with all that follows from it.
    pub(super) pivoting: Option<&'a Pivoting<'a>>,
}

impl Judged<'_, '_> {
    /// Of every bound, in their order.
    pub(super) fn standings(&self, watch: &Watch) -> Vec<Standing> {
        let is_plain = self.question.cones.is_empty();
        let directions = is_plain
            .then(|| Directions::of(self.linear, self.vertex, self.pivoting?))
            .flatten();
        let choice = Choice::of(self.shares);
        let is_at_vertex = is_plain && self.vertex.shares == self.shares;
        let at_vertex = self.pivoting.filter(|_| is_at_vertex);
        let ranks = 0..self.question.programme.bounds.len();
        ranks
            .map(|rank| {
                let nothing_to_spare = at_vertex.and_then(|at| self.is_tight(rank, at));
                self.standing(rank, nothing_to_spare, &choice, directions.as_ref(), watch)
            })
            .collect()
    }

    /// Whether a bound that holds has nothing to spare at the vertex, whose values are known.
    fn is_tight(&self, rank: usize, at: &Pivoting<'_>) -> Option<bool> {
        if !self.question.holds(rank, self.pattern) {
            return None;
        }
        match self.question.forms.get(rank)? {
            Form::Low(share, end) | Form::High(share, end) => Some(self.shares.get(*share)? == end),
            Form::Row(row) => at.slack(*row).map(Q::is_zero),
        }
    }

    fn standing(
        &self,
        rank: usize,
        nothing_to_spare: Option<bool>,
        choice: &Choice,
        directions: Option<&Directions>,
        watch: &Watch,
    ) -> Standing {
        let bound = &self.question.programme.bounds[rank];
        let is_binding = holds(bound, self.shares)
            && nothing_to_spare.unwrap_or_else(|| self.is_binding(bound, rank, choice));
        if !is_binding || !self.question.holds(rank, self.pattern) {
            return Standing {
                is_binding,
                price: Q::ZERO,
            };
        }
        let form = &self.question.forms[rank];
        let weight = weight_of(bound, form);
        let in_all_sets = directions.and_then(|directions| directions.price(form, &weight, watch));
        let price = in_all_sets.unwrap_or_else(|| self.price_of_margin(rank, &weight));
        Standing {
            is_binding,
            price: (price * eased(bound, self.shares)).max(Q::ZERO),
        }
    }

    fn is_binding(&self, bound: &Bound, rank: usize, choice: &Choice) -> bool {
        let mut cones = self.question.cones.iter();
        let Some(cone) = cones.find(|cone| cone.bound == rank) else {
            return choice.margin(bound).is_zero();
        };
        let margin = row_of(bound).slack(self.shares);
        let squares: Vec<Q> = self.shares.iter().map(|share| share * share).collect();
        let variance = dot(&cone.variances, &squares) + &cone.constant_variance;
        let wanted = &cone.reliance * &cone.reliance * variance;
        let (part, whole) = NOTHING_TO_SPARE;
        &margin * &margin <= wanted * (Q::ONE + Q::ratio(part, whole))
    }

    /// What one more of a bound's margin costs: the price of its row and its tangents, or what its end of a range does to the cost.
    fn price_of_margin(&self, rank: usize, weight: &Q) -> Q {
        let of_end = |share: usize, is_its_end: bool, is_its_side: bool| {
            let rate = self.vertex.rates[share].over(weight);
            rate.filter(|_| is_its_end && is_its_side)
                .unwrap_or(Q::ZERO)
        };
        match &self.question.forms[rank] {
            Form::Low(share, end) => {
                let is_its_end = self.linear.ranges[*share].0 == *end;
                of_end(*share, is_its_end, self.vertex.rates[*share].is_positive())
            }
            Form::High(share, end) => {
                let is_its_end = self.linear.ranges[*share].1 == *end;
                of_end(*share, is_its_end, self.vertex.rates[*share].is_negative())
            }
            Form::Row(_) => {
                let rows = self.question.row_bounds.iter().zip(&self.vertex.row_prices);
                let its = rows.filter(|(bound, _)| **bound == Some(rank));
                its.map(|(_, price)| price).sum()
            }
        }
    }
}

/// What one whole of its share adds to the margin of a bound on one share.
fn weight_of(bound: &Bound, form: &Form) -> Q {
    match form {
        Form::Low(share, _) | Form::High(share, _) => row_of(bound).weights.swap_remove(*share),
        Form::Row(_) => Q::ONE,
    }
}

fn holds(bound: &Bound, shares: &[Q]) -> bool {
    let is_used = |share: usize| shares.get(share).is_none_or(Q::is_positive);
    bound.if_used.is_none_or(is_used)
}

/// By how much the margin grows as the limit eases by one: what is divided by, and the scatter of it.
fn eased(bound: &Bound, shares: &[Q]) -> Q {
    let below = dot(&bound.below.weights, shares) + &bound.below.constant;
    let Some(reliance) = bound
        .reliance
        .as_ref()
        .filter(|reliance| reliance.is_positive())
    else {
        return below;
    };
    let squares: Vec<Q> = shares.iter().map(|share| share * share).collect();
    let scatter = dot(&bound.below.variances, &squares) + &bound.below.constant_variance;
    let (variances, constant) = scatter_of(bound);
    let deviation = (dot(&variances, &squares) + constant).to_f64().sqrt();
    let slope = super::cuts::near(1.0 / deviation) * &bound.limit * scatter * reliance;
    match bound.end {
        End::AtLeast => below + slope,
        End::AtMost => below - slope,
    }
}

//! How each bound stands at the choice, and what it costs.

use trug_model::Q;

use super::linear::{Linear, Vertex, dot};
use super::question::{Form, Pattern, Question};
use super::rows::{row_of, scatter_of};
use crate::programme::{Bound, End, Standing};

/// Against what is wanted, so little to spare is nothing: margins of certainty have no exact edge in decimals.
const NOTHING_TO_SPARE: (i64, i64) = (1, 1_000_000);

/// Of every bound, in their order.
pub(super) fn standings(
    question: &Question,
    pattern: &Pattern,
    linear: &Linear,
    vertex: &Vertex,
    shares: &[Q],
) -> Vec<Standing> {
    let standing = |rank: usize, bound: &Bound| {
        if !holds(bound, shares) {
            return Standing {
                is_binding: false,
                price: Q::ZERO,
            };
        }
        let price = price_of_row(question, linear, vertex, rank) * eased(bound, shares);
        Standing {
            is_binding: is_binding(question, bound, rank, shares),
            price: if question.holds(rank, pattern) {
                price.max(Q::ZERO)
            } else {
                Q::ZERO
            },
        }
    };
    let bounds = question.programme.bounds.iter().enumerate();
    bounds.map(|(rank, bound)| standing(rank, bound)).collect()
}

fn holds(bound: &Bound, shares: &[Q]) -> bool {
    let is_used = |share: usize| shares.get(share).is_none_or(Q::is_positive);
    bound.if_used.is_none_or(is_used)
}

/// What one more of a bound's margin would cost: the price of its row and its tangents, or what its end of a range does to the cost.
fn price_of_row(question: &Question, linear: &Linear, vertex: &Vertex, rank: usize) -> Q {
    let weight = |share: usize| {
        let row = row_of(&question.programme.bounds[rank]);
        row.weights.get(share).cloned().unwrap_or(Q::ONE)
    };
    let of_end = |share: usize, is_there: bool, is_its: bool| {
        let rate = &vertex.rates[share];
        if is_there && is_its {
            rate.over(&weight(share)).unwrap_or(Q::ZERO)
        } else {
            Q::ZERO
        }
    };
    match &question.forms[rank] {
        Form::Low(share, end) => of_end(
            *share,
            linear.ranges[*share].0 == *end,
            vertex.rates[*share].is_positive(),
        ),
        Form::High(share, end) => of_end(
            *share,
            linear.ranges[*share].1 == *end,
            vertex.rates[*share].is_negative(),
        ),
        Form::Row(_) => {
            let rows = question.row_bounds.iter().zip(&vertex.row_prices);
            rows.filter(|(bound, _)| **bound == Some(rank))
                .map(|(_, price)| price)
                .sum()
        }
    }
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

fn is_binding(question: &Question, bound: &Bound, rank: usize, shares: &[Q]) -> bool {
    let margin = row_of(bound).slack(shares);
    let Some(cone) = question.cones.iter().find(|cone| cone.bound == rank) else {
        return margin.is_zero();
    };
    let squares: Vec<Q> = shares.iter().map(|share| share * share).collect();
    let variance = dot(&cone.variances, &squares) + &cone.constant_variance;
    let wanted = &cone.reliance * &cone.reliance * variance;
    let (part, whole) = NOTHING_TO_SPARE;
    &margin * &margin <= wanted * (Q::ONE + Q::ratio(part, whole))
}

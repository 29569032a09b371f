//! A plane that every choice which keeps a bound with its scatter lies on the safe side of.

use trug_model::Q;

use crate::programme::Bound;
use crate::solve::linear::Row;
use crate::solve::rows::{row_of, scatter_of};

/// Decimals of the largest weight that a plane keeps.
const FIGURES: i32 = 13;
/// Of what is asked, the part that is asked for beyond it, so that planes come to an end.
const SPARE: i64 = 1_000_000_000;

/// The plane that touches the bound in the direction of `at`, moved inward by a thousand-millionth.
///
/// `w·x − b ≥ z √(Σ v x² + c)` and, by Cauchy and Schwarz, `√(Σ v x² + c) ≥ (Σ v p x + c) ÷ √(Σ v p² + c)` for every `p`.
pub(crate) fn tangent(bound: &Bound, at: &[Q]) -> Row {
    let mut row = row_of(bound);
    let (variances, constant) = scatter_of(bound);
    let Some(reliance) = bound.reliance.as_ref().filter(|z| z.is_positive()) else {
        return row;
    };
    let near = Q::ratio(1, 1_000_000_000);
    let at: Vec<Q> = at.iter().map(|share| share.round_to(&near)).collect();
    let parts = variances.iter().zip(&at);
    let variance = parts.map(|(variance, share)| variance * share * share);
    let variance = variance.sum::<Q>() + &constant;
    let Some(factor) = reliance.over(&root_above(&variance)) else {
        return row;
    };
    let fine = fineness(&row);
    for ((weight, variance), share) in row.weights.iter_mut().zip(&variances).zip(&at) {
        if !variance.is_zero() && !share.is_zero() {
            *weight = (&*weight - &factor * variance * share).ceil_to(&fine);
        }
    }
    row.at_least = (&row.at_least + &factor * constant).floor_to(&fine);
    row.at_least += spare(bound);
    row
}

/// What a bound that scatters is asked to give beyond what it must.
fn spare(bound: &Bound) -> Q {
    let limit = (&bound.limit * &bound.below.constant).abs();
    let weights = bound.above.weights.iter().map(Q::abs);
    let largest = weights.fold(limit, Q::max);
    largest / Q::int(SPARE)
}

/// A power of ten far below the largest weight.
fn fineness(row: &Row) -> Q {
    let largest = row
        .weights
        .iter()
        .map(Q::abs)
        .fold(row.at_least.abs(), Q::max);
    let mut power = Q::ONE;
    for _ in 0..FIGURES {
        power = power / Q::int(10);
    }
    let mut unit = Q::ONE;
    for _ in 0..60 {
        if largest >= unit || largest.is_zero() {
            break;
        }
        unit = unit / Q::int(10);
    }
    power * unit
}

/// A little more than the square root, or just it; zero of zero.
pub(crate) fn root_above(square: &Q) -> Q {
    if !square.is_positive() {
        return Q::ZERO;
    }
    const TWO_TO_60: i128 = 1 << 60;
    let scaled = square.to_f64().sqrt() * TWO_TO_60 as f64;
    let guess = if (1.0..1e36).contains(&scaled) {
        Q::of_parts(scaled as i128, TWO_TO_60)
    } else {
        square.clone().max(Q::ONE)
    };
    // Newton's step ends above the root from wherever it starts.
    let mut root = guess;
    for _ in 0..2 {
        root = (&root + square / &root) / Q::int(2);
    }
    let fine = fineness(&Row {
        weights: Vec::new(),
        at_least: root.clone(),
        is_equal: false,
    });
    root.ceil_to(&(fine / Q::int(1_000_000)))
}

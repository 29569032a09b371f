//! A linear programme in exact arithmetic: its cheapest vertex with the proof of it, or the proof that it has none.

use trug_model::Q;

use super::exact::Pivoting;
use super::sketch::{Limits, Sketch};
use super::watch::Watch;

/// The least of `costs · x` over all `x` in their ranges that keep every row.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Linear {
    /// What one whole of each share costs.
    pub(crate) costs: Vec<Q>,
    /// From where to where each share may go.
    pub(crate) ranges: Vec<(Q, Q)>,
    /// What they keep together.
    pub(crate) rows: Vec<Row>,
}

/// `weights · x` is at least, or exactly, `at_least`.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    pub(crate) weights: Vec<Q>,
    pub(crate) at_least: Q,
    pub(crate) is_equal: bool,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Solved {
    /// A cheapest vertex.
    Vertex(Vertex),
    /// No choice keeps all rows: weighed with these multipliers, they ask for more than the ranges can give (Farkas). All are zero
    /// where a range is empty in itself.
    Empty(Vec<Q>),
    /// The watch ran out first.
    Unsolved,
}

/// A cheapest vertex and its proof: the prices, weighed with the rows, bound the cost from below by the very same cost.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Vertex {
    pub(crate) shares: Vec<Q>,
    pub(crate) cost: Q,
    /// What a row would cost more if it asked for one more; at least zero, but for rows that are equations.
    pub(crate) row_prices: Vec<Q>,
    /// What a share costs beyond what it is worth at these prices.
    pub(crate) rates: Vec<Q>,
    pub(crate) basis: Basis,
}

/// Where each share, then the slack of each row, stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Basis {
    pub(crate) places: Vec<Place>,
}

/// Where a share or a slack stands at a vertex.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// Between its ends, or on them by chance.
    Basic,
    /// At its lower end.
    Low,
    /// At its upper end.
    High,
}

impl Row {
    /// How much more than asked for `shares` give.
    pub(crate) fn slack(&self, shares: &[Q]) -> Q {
        dot(&self.weights, shares) - &self.at_least
    }

    /// Whether `shares` keep it.
    pub(crate) fn is_kept(&self, shares: &[Q]) -> bool {
        let slack = self.slack(shares);
        slack.is_zero() || (slack.is_positive() && !self.is_equal)
    }
}

impl Basis {
    /// Every share at its lower end, no row active.
    pub(crate) fn of_slacks(linear: &Linear) -> Basis {
        let shares = linear.costs.iter().map(|_| Place::Low);
        let slacks = linear.rows.iter().map(|_| Place::Basic);
        Basis {
            places: shares.chain(slacks).collect(),
        }
    }
}

/// The cheapest vertex, found from `start` where one is given (of the same shares and the first of the same rows).
pub(crate) fn solve(linear: &Linear, start: Option<&Basis>, watch: &Watch) -> Solved {
    let at_least: Vec<Q> = linear.rows.iter().map(|row| row.at_least.clone()).collect();
    let limits = Limits {
        ranges: &linear.ranges,
        at_least: &at_least,
    };
    let sketched = Sketch::of(linear).solve(&limits, start, watch);
    solve_from(linear, &sketched.basis, watch)
}

/// The cheapest vertex in exact arithmetic alone, from a basis that should be near.
pub(super) fn solve_from(linear: &Linear, basis: &Basis, watch: &Watch) -> Solved {
    if linear.ranges.iter().any(|(low, high)| low > high) {
        return Solved::Empty(vec![Q::ZERO; linear.rows.len()]);
    }
    let pivoting = Pivoting::from(linear, basis);
    let pivoting = pivoting.or_else(|| Pivoting::from(linear, &Basis::of_slacks(linear)));
    pivoting.map_or(Solved::Unsolved, |pivoting| pivoting.finish(watch))
}

/// What no choice costs less than, by weak duality: `prices` may be any, if those of rows that are not equations are at least zero.
/// None where one is below.
pub(crate) fn cost_bound(linear: &Linear, prices: &[Q]) -> Option<Q> {
    let prices = Whole::of(prices);
    let mut bound = asked_for(linear, &prices.values)?;
    for (rank, (low, high)) in linear.ranges.iter().enumerate() {
        let rate = &linear.costs[rank] * &prices.times - worth(linear, &prices.values, rank);
        let end = if rate.is_negative() { high } else { low };
        if !end.is_zero() {
            bound += rate * end;
        }
    }
    Some(bound / prices.times)
}

/// Whether `multipliers` prove that no choice keeps all rows (Farkas).
pub(crate) fn proves_empty(linear: &Linear, multipliers: &[Q]) -> bool {
    if linear.ranges.iter().any(|(low, high)| low > high) {
        return true;
    }
    let multipliers = Whole::of(multipliers).values;
    let Some(asked) = asked_for(linear, &multipliers) else {
        return false;
    };
    let given = linear.ranges.iter().enumerate().map(|(rank, (low, high))| {
        let worth = worth(linear, &multipliers, rank);
        if worth.is_negative() {
            worth * low
        } else {
            worth * high
        }
    });
    asked > given.sum::<Q>()
}

/// Whether the vertex keeps everything and its prices prove that nothing is cheaper.
pub(crate) fn is_proved(linear: &Linear, vertex: &Vertex) -> bool {
    let in_range = |(share, (low, high)): (&Q, &(Q, Q))| low <= share && share <= high;
    let shares = Whole::of(&vertex.shares);
    let is_kept = |row: &Row| {
        let given = dot(&row.weights, &shares.values);
        let asked = &row.at_least * &shares.times;
        given == asked || (given > asked && !row.is_equal)
    };
    vertex.shares.iter().zip(&linear.ranges).all(in_range)
        && linear.rows.iter().all(is_kept)
        && dot(&linear.costs, &vertex.shares) == vertex.cost
        && cost_bound(linear, &vertex.row_prices).as_ref() == Some(&vertex.cost)
}

/// Numbers made whole together: sums of whole numbers need no common denominators, which is most of the work of large ones.
pub(super) struct Whole {
    pub(super) values: Vec<Q>,
    /// What each was multiplied with.
    pub(super) times: Q,
}

impl Whole {
    pub(super) fn of(values: &[Q]) -> Whole {
        let mut times = Q::ONE;
        for value in values {
            times = &times * (value * &times).denominator();
        }
        Whole {
            values: values.iter().map(|value| value * &times).collect(),
            times,
        }
    }
}

/// The sum of products.
pub(crate) fn dot(weights: &[Q], shares: &[Q]) -> Q {
    Q::sum_of_products(weights.iter().zip(shares))
}

/// What the rows ask for together, weighed.
fn asked_for(linear: &Linear, prices: &[Q]) -> Option<Q> {
    let mut total = Q::ZERO;
    for (row, price) in linear.rows.iter().zip(prices) {
        if price.is_negative() && !row.is_equal {
            return None;
        }
        if !price.is_zero() {
            total += price * &row.at_least;
        }
    }
    Some(total)
}

/// What one whole of a share gives to all rows, weighed.
pub(crate) fn worth(linear: &Linear, prices: &[Q], share: usize) -> Q {
    let rows = linear.rows.iter().zip(prices);
    Q::sum_of_products(rows.map(|(row, price)| (price, &row.weights[share])))
}

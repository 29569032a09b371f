//! The nearest steps, from a choice with room for them.

use trug_model::Q;

use super::grid::{Grid, Root};
use super::whole::LEAST_STEP;
use crate::settled::nearly;
use crate::solve::Watch;
use crate::solve::linear::{Linear, Solved, solve};
use crate::solve::quick::Quick;

/// Tries with one more plane of what scatters.
const TRIES: usize = 20;

/// Shares in steps that keep everything: the nearest to the cheapest that leaves every row what rounding may take.
pub(super) fn nearest(
    grid: &mut Grid<'_>,
    root: &Root,
    step: &Q,
    watch: &Watch<'_>,
) -> Option<Vec<Q>> {
    let balancing = grid.rest.or_else(|| largest(&root.shares))?;
    for _ in 0..TRIES {
        let roomy = roomy(&grid.settled.linear, root, balancing, step);
        let wanted = vertex_of(&roomy, &grid.quick, root, step, watch)?;
        let shares = snap(grid, &wanted, balancing, step);
        if grid.is_choice(&shares, step) {
            return Some(shares);
        }
        if !grid.settled.cut_off(&shares) {
            return None;
        }
    }
    None
}

/// The cheapest with room: what is rounded next need not be exact, as long as machine numbers tell the steps apart.
fn vertex_of(
    roomy: &Linear,
    quick: &Quick,
    root: &Root,
    step: &Q,
    watch: &Watch<'_>,
) -> Option<Vec<Q>> {
    let is_range = |(low, high): &(Q, Q)| low <= high;
    if step.to_f64() > LEAST_STEP && roomy.ranges.iter().all(is_range) {
        let near = quick.like(roomy).solve(roomy, Some(&root.basis), watch)?;
        let shares = near.vertex?.shares;
        return Some(shares.into_iter().map(nearly).collect());
    }
    match solve(roomy, Some(&root.basis), watch) {
        Solved::Vertex(vertex) => Some(vertex.shares),
        Solved::Empty(_) | Solved::Unsolved => None,
    }
}

fn largest(shares: &[Q]) -> Option<usize> {
    let ranked = shares.iter().enumerate();
    let largest = ranked.reduce(|best, next| if next.1 > best.1 { next } else { best });
    largest.map(|(rank, _)| rank)
}

/// The programme with what rounding may take from every row, and only with the shares that `root` uses.
fn roomy(linear: &Linear, root: &Root, balancing: usize, step: &Q) -> Linear {
    let half = step / Q::int(2);
    let moves = |rank: usize| rank != balancing && !root.shares[rank].is_zero();
    let ranges = linear.ranges.iter().enumerate();
    let ranges = ranges.map(|(rank, (low, high))| match rank {
        _ if moves(rank) => (low.ceil_to(step), high.floor_to(step)),
        _ if rank == balancing => {
            let count = (0..linear.costs.len()).filter(|rank| moves(*rank)).count();
            let room = &half * Q::int(i64::try_from(count).unwrap_or(i64::MAX));
            (low + &room, high - &room)
        }
        _ => (low.clone(), Q::ZERO),
    });
    let rows = linear.rows.iter().map(|row| {
        let mut row = row.clone();
        if !row.is_equal {
            let weights = row.weights.iter().enumerate();
            let taken = weights
                .filter(|(rank, _)| moves(*rank))
                .map(|(_, weight)| (weight - &row.weights[balancing]).abs());
            row.at_least += taken.sum::<Q>() * &half;
        }
        row
    });
    Linear {
        costs: linear.costs.clone(),
        ranges: ranges.collect(),
        rows: rows.collect(),
    }
}

/// The nearest steps; the balancing share takes the difference.
fn snap(grid: &Grid<'_>, shares: &[Q], balancing: usize, step: &Q) -> Vec<Q> {
    let mut snapped: Vec<Q> = shares.iter().map(|share| share.round_to(step)).collect();
    if let Some(share) = snapped.get_mut(balancing) {
        *share = Q::ZERO;
        let others: Q = snapped.iter().sum();
        snapped[balancing] = &grid.programme.total - others;
    }
    snapped
}

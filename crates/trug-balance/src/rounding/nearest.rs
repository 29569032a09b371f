//! The nearest steps, from a choice with room for them, and what small moves make of it.

use trug_model::Q;

use super::grid::Grid;
use crate::solve::Watch;
use crate::solve::linear::{Linear, Row, Solved, Vertex, dot, solve};

/// Moves after which it is good enough.
const MOST_MOVES: usize = 2_000;
/// Tries with one more plane of what scatters.
const TRIES: usize = 20;

/// Shares in steps that keep everything: the nearest to the cheapest that leaves every row what rounding may take.
pub(super) fn nearest(
    grid: &mut Grid<'_>,
    root: &Vertex,
    step: &Q,
    watch: &Watch<'_>,
) -> Option<Vec<Q>> {
    let balancing = grid.rest.or_else(|| largest(&root.shares))?;
    for _ in 0..TRIES {
        let roomy = roomy(&grid.settled.linear, root, balancing, step);
        let Solved::Vertex(vertex) = solve(&roomy, Some(&root.basis), watch) else {
            return None;
        };
        let shares = snap(grid, &vertex.shares, balancing, step);
        if grid.is_choice(&shares, step) {
            return Some(shares);
        }
        if !grid.settled.cut_off(&shares) {
            return None;
        }
    }
    None
}

fn largest(shares: &[Q]) -> Option<usize> {
    let ranked = shares.iter().enumerate();
    let largest = ranked.reduce(|best, next| if next.1 > best.1 { next } else { best });
    largest.map(|(rank, _)| rank)
}

/// The programme with what rounding may take from every row, and only with the shares that `root` uses.
fn roomy(linear: &Linear, root: &Vertex, balancing: usize, step: &Q) -> Linear {
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

/// What a step from one share to another changes.
struct Swap {
    saved: Q,
    up: usize,
    down: usize,
}

/// Moves single steps from one share to another as long as that is cheaper and everything stays kept.
pub(super) fn improve(grid: &Grid<'_>, mut shares: Vec<Q>, step: &Q) -> Vec<Q> {
    let linear = &grid.settled.linear;
    let rows: Vec<&Row> = linear.rows.iter().filter(|row| !row.is_equal).collect();
    let mut slacks: Vec<Q> = rows.iter().map(|row| row.slack(&shares)).collect();
    let swaps = swaps(linear, step);
    for _ in 0..MOST_MOVES {
        let allowed = |swap: &&Swap| {
            let (up, down) = (&shares[swap.up] + step, &shares[swap.down] - step);
            if up > linear.ranges[swap.up].1 || down < linear.ranges[swap.down].0 {
                return false;
            }
            let mut rows = rows.iter().zip(&slacks);
            let is_kept = rows.all(|(row, slack)| {
                let change = (&row.weights[swap.up] - &row.weights[swap.down]) * step;
                !(slack + change).is_negative()
            });
            is_kept && grid.scattered_are_kept(&moved(&shares, swap, step))
        };
        let Some(swap) = swaps.iter().find(allowed) else {
            break;
        };
        shares = moved(&shares, swap, step);
        for (slack, row) in slacks.iter_mut().zip(&rows) {
            *slack += (&row.weights[swap.up] - &row.weights[swap.down]) * step;
        }
    }
    debug_assert!(
        rows.iter()
            .all(|row| dot(&row.weights, &shares) >= row.at_least)
    );
    shares
}

fn moved(shares: &[Q], swap: &Swap, step: &Q) -> Vec<Q> {
    let mut moved = shares.to_vec();
    moved[swap.up] += step;
    moved[swap.down] -= step;
    moved
}

/// Every step from a dearer to a cheaper share, what saves most first.
fn swaps(linear: &Linear, step: &Q) -> Vec<Swap> {
    let is_free = |rank: &usize| linear.ranges[*rank].0 < linear.ranges[*rank].1;
    let free: Vec<usize> = (0..linear.costs.len()).filter(is_free).collect();
    let mut swaps = Vec::new();
    for up in &free {
        for down in &free {
            let saved = (&linear.costs[*down] - &linear.costs[*up]) * step;
            if saved.is_positive() {
                let (up, down) = (*up, *down);
                swaps.push(Swap { saved, up, down });
            }
        }
    }
    swaps.sort_by(|one, other| other.saved.cmp(&one.saved));
    swaps
}

//! What small moves make of shares in steps: a step from one share to another, as long as that is cheaper and everything stays kept.
//!
//! Whole numbers throughout: of a row only how many of its smallest parts a step changes, and how many it has to spare.

use trug_model::Q;

use super::grid::Grid;
use crate::solve::linear::Row;

/// Moves after which it is good enough.
const MOST_MOVES: usize = 2_000;

/// A row made whole.
pub(super) struct WholeRow {
    /// What a step of each share adds, in its smallest parts; none where that is too large a number.
    weights: Option<Vec<i128>>,
    /// What it was multiplied with for it.
    times: Q,
}

/// A row in its smallest parts.
struct Parts<'r> {
    weights: &'r [i128],
    /// What it has to spare, rounded down.
    spare: i128,
}

/// A step from one share to another.
struct Swap {
    saved: Q,
    up: usize,
    down: usize,
}

/// Moves single steps to cheaper shares; `shares` as they are where a row has numbers too large.
pub(super) fn improve(grid: &Grid<'_>, shares: Vec<Q>, step: &Q) -> Vec<Q> {
    let linear = &grid.settled.linear;
    let made = || linear.rows.iter().map(WholeRow::of).collect();
    let known = grid.whole_rows.get_or_init(made);
    let tangents = linear.rows.get(known.len()..).unwrap_or_default();
    let more: Vec<WholeRow> = tangents.iter().map(WholeRow::of).collect();
    let rows = linear.rows.iter().zip(known.iter().chain(&more));
    let rows = rows.filter(|(row, _)| !row.is_equal);
    let parts: Option<Vec<Parts<'_>>> = rows
        .map(|(row, whole)| Parts::of(row, whole, &shares, step))
        .collect();
    let (Some(mut rows), Some(mut room)) = (parts, rooms(grid, &shares, step)) else {
        return shares;
    };
    let swaps = swaps(grid);
    let mut shares = shares;
    for _ in 0..MOST_MOVES {
        let allowed = |swap: &&Swap| {
            room[swap.up].1 > 0
                && room[swap.down].0 > 0
                && rows.iter().all(|row| row.after(swap).is_some())
                && grid.scattered_are_kept_by(|| moved(&shares, swap, step))
        };
        let Some(swap) = swaps.iter().find(allowed) else {
            break;
        };
        shares = moved(&shares, swap, step);
        for (rank, steps) in [(swap.up, 1), (swap.down, -1)] {
            room[rank].0 += steps;
            room[rank].1 -= steps;
        }
        for row in &mut rows {
            row.spare = row.after(swap).unwrap_or(row.spare);
        }
    }
    shares
}

impl WholeRow {
    fn of(row: &Row) -> WholeRow {
        let mut times = Q::ONE;
        for weight in &row.weights {
            times = &times * (weight * &times).denominator();
        }
        let weights = row.weights.iter().map(|weight| whole(weight * &times));
        WholeRow {
            weights: weights.collect(),
            times,
        }
    }
}

fn whole(number: Q) -> Option<i128> {
    number.parts().map(|(whole, _)| whole)
}

impl<'r> Parts<'r> {
    fn of(row: &Row, made: &'r WholeRow, shares: &[Q], step: &Q) -> Option<Parts<'r>> {
        Some(Parts {
            weights: made.weights.as_ref()?,
            spare: whole((row.slack(shares) * &made.times / step).floor())?,
        })
    }

    /// What is to spare after a move; none where the row is not kept then.
    fn after(&self, swap: &Swap) -> Option<i128> {
        let change = self.weights[swap.up].checked_sub(self.weights[swap.down])?;
        let spare = self.spare.checked_add(change)?;
        (spare >= 0).then_some(spare)
    }
}

/// How many steps each share may go down and up.
fn rooms(grid: &Grid<'_>, shares: &[Q], step: &Q) -> Option<Vec<(i128, i128)>> {
    let steps = |span: Q| (span / step).floor().parts().map(|(whole, _)| whole);
    let ranges = grid.settled.linear.ranges.iter().zip(shares);
    let rooms =
        ranges.map(|((low, high), share)| Some((steps(share - low)?, steps(high - share)?)));
    rooms.collect()
}

fn moved(shares: &[Q], swap: &Swap, step: &Q) -> Vec<Q> {
    let mut moved = shares.to_vec();
    moved[swap.up] += step;
    moved[swap.down] -= step;
    moved
}

/// Every step from a dearer to a cheaper share, what saves most first.
fn swaps(grid: &Grid<'_>) -> Vec<Swap> {
    let linear = &grid.settled.linear;
    let is_free = |rank: &usize| linear.ranges[*rank].0 < linear.ranges[*rank].1;
    let free: Vec<usize> = (0..linear.costs.len()).filter(is_free).collect();
    let mut swaps = Vec::new();
    for up in &free {
        for down in &free {
            let saved = &linear.costs[*down] - &linear.costs[*up];
            if saved.is_positive() {
                let (up, down) = (*up, *down);
                swaps.push(Swap { saved, up, down });
            }
        }
    }
    swaps.sort_by(|one, other| other.saved.cmp(&one.saved));
    swaps
}

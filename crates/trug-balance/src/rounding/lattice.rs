//! Steps that keep exact bounds: where a content must be just so much, only some steps will do, and those form a lattice.
//!
//! Shares in steps that keep the equations are `n = U (y, t)` with `U` unimodular, `y` given and any whole numbers `t` (Hermite 1851):
//! with room for it in every other row, the nearest `t` will do.

use trug_model::Q;

use super::grid::{Grid, Root};
use crate::solve::Watch;
use crate::solve::linear::{Linear, Row, Solved, dot, solve};

/// Moves after which it is good enough.
const MOST_MOVES: usize = 2_000;
/// Rounds in which the directions are shortened.
const ROUNDS: usize = 30;
/// More shares than this are not looked at together.
const MOST_SHARES: usize = 24;

/// Whole numbers of steps that keep the equations.
struct Lattice {
    /// Which shares are in it.
    shares: Vec<usize>,
    /// One column each: how the steps of the shares change. Those after `given` leave the equations as they are.
    columns: Vec<Vec<Q>>,
    /// The inverse: one row each.
    rows: Vec<Vec<Q>>,
    given: usize,
}

/// Shares in steps that keep everything; none where there are no exact bounds, or nothing was found.
pub(super) fn on_lattice(
    grid: &Grid<'_>,
    root: &Root,
    step: &Q,
    watch: &Watch<'_>,
) -> Option<Vec<Q>> {
    let linear = &grid.settled.linear;
    let exact = exact_rows(linear);
    if exact.is_empty() {
        return None;
    }
    let is_free =
        |rank: &usize| Some(*rank) != grid.rest && linear.ranges[*rank].0 < linear.ranges[*rank].1;
    let free: Vec<usize> = (0..linear.costs.len()).filter(is_free).collect();
    let is_used = |rank: &&usize| !root.shares[**rank].is_zero();
    let used: Vec<usize> = free.iter().filter(is_used).copied().collect();
    [used, free]
        .into_iter()
        .filter(|shares| shares.len() <= MOST_SHARES)
        .find_map(|shares| {
            let lattice = Lattice::of(grid, &exact, shares);
            lattice.nearest(grid, &exact, root, step, watch)
        })
}

/// Rows that are kept with nothing to spare by every choice: equations, but for the total where the rest takes the difference, and
/// pairs of opposite sides.
fn exact_rows(linear: &Linear) -> Vec<usize> {
    let is_opposite = |one: &Row, other: &Row| {
        one.at_least == -&other.at_least
            && one
                .weights
                .iter()
                .zip(&other.weights)
                .all(|(one, other)| *one == -other)
    };
    let rows = &linear.rows;
    let is_exact = |rank: &usize| {
        let row = &rows[*rank];
        !row.is_equal
            && rows
                .iter()
                .skip(rank + 1)
                .any(|other| is_opposite(row, other))
    };
    (0..rows.len()).filter(is_exact).collect()
}

impl Lattice {
    fn of(grid: &Grid<'_>, exact: &[usize], shares: Vec<usize>) -> Lattice {
        let linear = &grid.settled.linear;
        let mut equations: Vec<Vec<Q>> = Vec::new();
        if grid.rest.is_none() {
            equations.push(vec![Q::ONE; shares.len()]);
        }
        for row in exact {
            let weights = &linear.rows[*row].weights;
            let of_rest = grid.rest.map_or(Q::ZERO, |rest| weights[rest].clone());
            equations.push(
                shares
                    .iter()
                    .map(|share| &weights[*share] - &of_rest)
                    .collect(),
            );
        }
        let unit = |at: usize| {
            let entry = |rank: usize| if rank == at { Q::ONE } else { Q::ZERO };
            (0..shares.len()).map(entry).collect::<Vec<Q>>()
        };
        let mut lattice = Lattice {
            columns: (0..shares.len()).map(unit).collect(),
            rows: (0..shares.len()).map(unit).collect(),
            given: 0,
            shares,
        };
        for equation in &equations {
            lattice.keep(equation);
        }
        lattice.shorten();
        lattice
    }

    /// Sets one more column apart, so that no other changes the equation (Euclid).
    fn keep(&mut self, equation: &[Q]) {
        loop {
            let values: Vec<Q> = self
                .columns
                .iter()
                .map(|column| dot(equation, column))
                .collect();
            let mut changing = (self.given..values.len()).filter(|rank| !values[*rank].is_zero());
            let Some(first) = changing.next() else {
                return;
            };
            let smaller = |best: usize, next: usize| {
                if values[next].abs() < values[best].abs() {
                    next
                } else {
                    best
                }
            };
            let smallest = changing.clone().fold(first, smaller);
            if changing.next().is_none() {
                self.columns.swap(self.given, first);
                self.rows.swap(self.given, first);
                self.given += 1;
                return;
            }
            for rank in self.given..values.len() {
                if rank != smallest && !values[rank].is_zero() {
                    let times = (&values[rank] / &values[smallest]).round_half_even();
                    self.subtract(rank, &times, smallest);
                }
            }
        }
    }

    /// Takes one column off another so many times; the inverse stays the inverse.
    fn subtract(&mut self, from: usize, times: &Q, column: usize) {
        for rank in 0..self.shares.len() {
            let product = times * &self.columns[column][rank];
            self.columns[from][rank] -= product;
            let product = times * &self.rows[from][rank];
            self.rows[column][rank] += product;
        }
    }

    /// Makes the directions short, two by two (Lagrange 1773).
    fn shorten(&mut self) {
        for _ in 0..ROUNDS {
            let mut is_done = true;
            for one in self.given..self.columns.len() {
                for other in self.given..self.columns.len() {
                    let length = dot(&self.columns[other], &self.columns[other]);
                    if one == other || length.is_zero() {
                        continue;
                    }
                    let along = dot(&self.columns[one], &self.columns[other]);
                    let times = (along / length).round_half_even();
                    if !times.is_zero() {
                        self.subtract(one, &times, other);
                        is_done = false;
                    }
                }
            }
            if is_done {
                return;
            }
        }
    }

    fn nearest(
        &self,
        grid: &Grid<'_>,
        exact: &[usize],
        root: &Root,
        step: &Q,
        watch: &Watch<'_>,
    ) -> Option<Vec<Q>> {
        let roomy = self.roomy(grid, exact, step)?;
        let Solved::Vertex(vertex) = solve(&roomy, Some(&root.basis), watch) else {
            return None;
        };
        let steps: Vec<Q> = self
            .shares
            .iter()
            .map(|share| &vertex.shares[*share] / step)
            .collect();
        let mut found: Vec<Q> = vec![Q::ZERO; steps.len()];
        for (rank, (row, column)) in self.rows.iter().zip(&self.columns).enumerate() {
            let mut times = dot(row, &steps);
            if rank >= self.given {
                times = times.round_half_even();
            } else if !times.is_whole() {
                return None; // The equations have no steps in common.
            }
            for (found, change) in found.iter_mut().zip(column) {
                *found += &times * change;
            }
        }
        let mut shares = vertex.shares;
        for (share, steps) in self.shares.iter().zip(found) {
            shares[*share] = steps * step;
        }
        let shares = with_rest(grid, shares);
        grid.is_choice(&shares, step)
            .then(|| self.improve(grid, shares, step))
    }

    /// The programme with the room that rounding takes from every row and range.
    fn roomy(&self, grid: &Grid<'_>, exact: &[usize], step: &Q) -> Option<Linear> {
        let half = step / Q::int(2);
        let changes: Vec<Vec<Q>> = self.directions(grid);
        let room = |weights: &[Q]| {
            let taken = changes.iter().map(|change| dot(weights, change).abs());
            taken.sum::<Q>() * &half
        };
        let mut roomy = grid.settled.linear.clone();
        let count = roomy.costs.len();
        for (rank, (low, high)) in roomy.ranges.iter_mut().enumerate() {
            let mut weights = vec![Q::ZERO; count];
            weights[rank] = Q::ONE;
            let room = room(&weights);
            if room.is_zero() && !self.shares.contains(&rank) && grid.rest != Some(rank) {
                high.clone_from(low); // It is not in the lattice.
            } else {
                (*low, *high) = (&*low + &room, &*high - &room);
            }
            if low > high {
                return None;
            }
        }
        let kept: Vec<Row> = exact.iter().map(|rank| roomy.rows[*rank].clone()).collect();
        for row in &mut roomy.rows {
            let is_exact = row.is_equal || kept.iter().any(|kept| is_side_of(row, kept));
            if !is_exact {
                row.at_least += room(&row.weights);
            }
        }
        Some(roomy)
    }

    /// How one step in each free direction changes the shares, in steps.
    fn directions(&self, grid: &Grid<'_>) -> Vec<Vec<Q>> {
        let free = self.columns.iter().skip(self.given);
        let directions = free.map(|column| {
            let mut direction = vec![Q::ZERO; grid.programme.shares.len()];
            for (share, change) in self.shares.iter().zip(column) {
                direction[*share] = change.clone();
            }
            if let Some(rest) = grid.rest {
                direction[rest] = -column.iter().sum::<Q>();
            }
            direction
        });
        directions.collect()
    }

    /// Moves along the directions as long as that is cheaper and everything stays kept.
    fn improve(&self, grid: &Grid<'_>, mut shares: Vec<Q>, step: &Q) -> Vec<Q> {
        let costs = &grid.settled.linear.costs;
        let down = self.directions(grid).into_iter().filter_map(|direction| {
            let cost = dot(costs, &direction);
            let sign = if cost.is_positive() {
                -step
            } else {
                step.clone()
            };
            let change = || {
                direction
                    .iter()
                    .map(|steps| steps * &sign)
                    .collect::<Vec<Q>>()
            };
            (!cost.is_zero()).then(change)
        });
        let down: Vec<Vec<Q>> = down.collect();
        for _ in 0..MOST_MOVES {
            let moved = down.iter().find_map(|change| {
                let moved: Vec<Q> = shares
                    .iter()
                    .zip(change)
                    .map(|(share, by)| share + by)
                    .collect();
                grid.is_choice(&moved, step).then_some(moved)
            });
            match moved {
                Some(moved) => shares = moved,
                None => break,
            }
        }
        shares
    }
}

/// Whether a row is one side of an exact one, or the other.
fn is_side_of(row: &Row, exact: &Row) -> bool {
    let pairs = row.weights.iter().zip(&exact.weights);
    let is_same = row.at_least == exact.at_least && pairs.clone().all(|(one, other)| one == other);
    let mut opposite = pairs.map(|(one, other)| *one == -other);
    is_same || (row.at_least == -&exact.at_least && opposite.all(|is_so| is_so))
}

/// The rest takes the difference.
fn with_rest(grid: &Grid<'_>, mut shares: Vec<Q>) -> Vec<Q> {
    if let Some(rest) = grid.rest {
        shares[rest] = Q::ZERO;
        let others: Q = shares.iter().sum();
        shares[rest] = &grid.programme.total - others;
    }
    shares
}

//! Of equally cheap shares in steps, those nearest to what is written now, then those whose earlier ones are larger.

use trug_model::Q;

use super::grid::Grid;
use super::whole::Whole;
use crate::solve::Watch;
use crate::solve::linear::{Linear, Row, dot};

/// Nodes looked at for each preference.
const NODES: usize = 40;

/// The preferred ones of all that cost as `shares` do.
pub(super) fn untied(
    grid: &Grid<'_>,
    shares: Vec<Q>,
    cost: &Q,
    step: &Q,
    watch: &Watch<'_>,
) -> Vec<Q> {
    let mut tie = Tie::of(grid, shares, cost);
    let distance = tie.distance_costs();
    tie.prefer(&distance, step, watch);
    tie.hold(&distance);
    for rank in 0..grid.programme.shares.len() {
        let mut earlier = vec![Q::ZERO; distance.len()];
        if let Some(cost) = earlier.get_mut(rank) {
            *cost = Q::int(-1);
        }
        tie.prefer(&earlier, step, watch);
        tie.fix(rank);
    }
    tie.best.truncate(grid.programme.shares.len());
    tie.best
}

/// All choices of one cost: the shares, then how far each lies from what is written now.
struct Tie<'g, 'a> {
    grid: &'g Grid<'a>,
    ranges: Vec<(Q, Q)>,
    rows: Vec<Row>,
    best: Vec<Q>,
}

impl<'g, 'a> Tie<'g, 'a> {
    fn of(grid: &'g Grid<'a>, shares: Vec<Q>, cost: &Q) -> Tie<'g, 'a> {
        let linear = &grid.settled.linear;
        let count = shares.len();
        let mut tie = Tie {
            grid,
            ranges: linear.ranges.clone(),
            rows: linear.rows.clone(),
            best: shares,
        };
        let total = &grid.programme.total;
        let asked = grid.programme.shares.iter().enumerate();
        let now: Vec<(usize, Q)> = asked
            .filter_map(|(rank, share)| Some((rank, share.now.clone().filter(|_| !share.is_rest)?)))
            .collect();
        for (rank, now) in &now {
            let distance = (&tie.best[*rank] - now).abs();
            tie.best.push(distance);
            tie.ranges.push((Q::ZERO, total + now.abs()));
        }
        let width = tie.ranges.len();
        tie.rows
            .iter_mut()
            .for_each(|row| row.weights.resize(width, Q::ZERO));
        for (place, (rank, now)) in now.into_iter().enumerate() {
            for sign in [Q::ONE, Q::int(-1)] {
                let mut weights = vec![Q::ZERO; width];
                weights[count + place] = Q::ONE;
                weights[rank] = sign.clone();
                tie.rows.push(at_least(weights, sign * &now));
            }
        }
        let mut costs: Vec<Q> = linear.costs.iter().map(|cost| -cost).collect();
        costs.resize(width, Q::ZERO);
        tie.rows.push(at_least(costs, -cost));
        tie
    }

    fn distance_costs(&self) -> Vec<Q> {
        let count = self.grid.programme.shares.len();
        let cost = |place: usize| if place < count { Q::ZERO } else { Q::ONE };
        (0..self.ranges.len()).map(cost).collect()
    }

    /// Takes the least of `costs`.
    fn prefer(&mut self, costs: &[Q], step: &Q, watch: &Watch<'_>) {
        let grid = self.grid;
        let mut is_stepped = grid.is_stepped();
        is_stepped.resize(self.ranges.len(), false);
        let whole = Whole {
            linear: Linear {
                costs: costs.to_vec(),
                ranges: self.ranges.clone(),
                rows: self.rows.clone(),
            },
            is_stepped,
            step,
            grid,
            quick: None,
            spacing: Q::ZERO,
            origin: Q::ZERO,
            most: None,
        };
        let known = (self.best.clone(), dot(costs, &self.best));
        if let Some((best, _)) = whole.search(Some(known), NODES, watch).best {
            self.best = best;
        }
    }

    fn fix(&mut self, rank: usize) {
        if let (Some(range), Some(share)) = (self.ranges.get_mut(rank), self.best.get(rank)) {
            *range = (share.clone(), share.clone());
        }
    }

    /// Gives nothing of it away again.
    fn hold(&mut self, costs: &[Q]) {
        let reached = -dot(costs, &self.best);
        self.rows
            .push(at_least(costs.iter().map(|cost| -cost).collect(), reached));
    }
}

fn at_least(weights: Vec<Q>, at_least: Q) -> Row {
    Row {
        weights,
        at_least,
        is_equal: false,
    }
}

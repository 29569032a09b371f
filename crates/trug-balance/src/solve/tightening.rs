//! What it costs to tighten a bound by a little, where a vertex has more than one set of prices.
//!
//! The cost then rises with the largest price of all sets. It is found the other way round: the cheapest direction from the vertex
//! that keeps what is tight and gives the bound one more (the dual of the dual's optimal face).

use trug_model::Q;

use super::exact::Pivoting;
use super::linear::{Basis, Linear, Place, Solved, Vertex, solve_from};
use super::question::Form;
use super::watch::Watch;

/// Further than any direction goes for one more of a bound.
const FAR: i64 = 1_000_000_000_000_000;

/// All directions in which the choice can move from a vertex with several sets of prices.
pub(super) struct Directions {
    /// Shares are steps here; only rows that are tight.
    linear: Linear,
    basis: Basis,
    /// Which row of the programme each row is.
    rows: Vec<usize>,
}

impl Directions {
    /// None where the prices at the vertex are the only ones.
    pub(super) fn of(
        linear: &Linear,
        vertex: &Vertex,
        pivoting: &Pivoting<'_>,
    ) -> Option<Directions> {
        if !pivoting.is_degenerate() {
            return None;
        }
        let ends = linear.ranges.iter().zip(&vertex.shares);
        let ranges = ends.map(|((low, high), share)| {
            let down = if share == low { Q::ZERO } else { Q::int(-FAR) };
            let up = if share == high { Q::ZERO } else { Q::int(FAR) };
            (down, up)
        });
        let is_tight = |rank: &usize| linear.rows[*rank].slack(&vertex.shares).is_zero();
        let rows: Vec<usize> = (0..linear.rows.len()).filter(is_tight).collect();
        let shares = linear.costs.len();
        let of_rows = rows.iter().map(|rank| vertex.basis.places[shares + rank]);
        let places: Vec<Place> = vertex.basis.places[..shares]
            .iter()
            .copied()
            .chain(of_rows)
            .collect();
        let mut tight: Vec<_> = rows.iter().map(|rank| linear.rows[*rank].clone()).collect();
        tight.iter_mut().for_each(|row| row.at_least = Q::ZERO);
        Some(Directions {
            linear: Linear {
                costs: linear.costs.clone(),
                ranges: ranges.collect(),
                rows: tight,
            },
            basis: Basis { places },
            rows,
        })
    }

    /// What one more of a bound's margin costs at first. Where it can have no more, what one less of it saves; none where that is not
    /// found.
    pub(super) fn price(&self, form: &Form, weight: &Q, watch: &Watch) -> Option<Q> {
        let more = self.cost_of(Q::ONE, form, weight, watch);
        more.or_else(|| {
            self.cost_of(Q::int(-1), form, weight, watch)
                .map(|saved| -saved)
        })
    }

    /// The least cost of a direction that gives a bound's margin so much more; none where it is not tight, or none does.
    fn cost_of(&self, more: Q, form: &Form, weight: &Q, watch: &Watch) -> Option<Q> {
        let mut linear = self.linear.clone();
        match form {
            Form::Low(share, _) => linear.ranges[*share].0 = more.over(weight)?,
            Form::High(share, _) => linear.ranges[*share].1 = more.over(weight)?,
            Form::Row(row) => {
                let place = self.rows.iter().position(|rank| rank == row)?;
                linear.rows[place].at_least = more;
            }
        }
        let Solved::Vertex(vertex) = solve_from(&linear, &self.basis, watch) else {
            return None;
        };
        let is_far = |step: &Q| step.abs() >= Q::int(FAR);
        (!vertex.shares.iter().any(is_far)).then_some(vertex.cost)
    }
}

//! A linear programme in machine numbers, for searches that check exactly what they take over.

use std::rc::Rc;

use trug_model::Q;

use super::cuts::near;
use super::linear::{Basis, Linear};
use super::sketch::{Dictionary, End, Limits, Sketch, Sketched};
use super::watch::Watch;

/// A linear programme, made once and solved at many ranges.
#[derive(Clone, Debug)]
pub(crate) struct Quick {
    sketch: Rc<Sketch>,
    at_least: Vec<Q>,
}

/// Where it ended: nearly right, and not proved.
#[derive(Clone, Debug)]
pub(crate) struct Near {
    /// None where nothing seems to keep all rows; the prices show it.
    pub(crate) vertex: Option<NearVertex>,
    /// Of rows that are not equations at least zero, so that they prove what they can.
    pub(crate) prices: Vec<Q>,
}

/// Nearly a cheapest vertex.
#[derive(Clone, Debug)]
pub(crate) struct NearVertex {
    pub(crate) shares: Vec<f64>,
    pub(crate) cost: f64,
    pub(crate) basis: Basis,
    pub(crate) way: Rc<Way>,
}

/// How a vertex was reached: from there, those of ranges a little narrower are near.
#[derive(Debug)]
pub(crate) struct Way(Dictionary);

impl Quick {
    pub(crate) fn of(linear: &Linear) -> Quick {
        Quick {
            sketch: Rc::new(Sketch::of(linear)),
            at_least: linear.rows.iter().map(|row| row.at_least.clone()).collect(),
        }
    }

    /// Of a programme that differs from this one in its ranges and in how much its rows ask for, and perhaps in further rows.
    pub(crate) fn like(&self, linear: &Linear) -> Quick {
        if linear.rows.len() != self.at_least.len() {
            return Quick::of(linear);
        }
        Quick {
            sketch: Rc::clone(&self.sketch),
            at_least: linear.rows.iter().map(|row| row.at_least.clone()).collect(),
        }
    }

    /// None where machine numbers do not suffice, or the watch ran out.
    pub(crate) fn solve(
        &self,
        linear: &Linear,
        start: Option<&Basis>,
        watch: &Watch<'_>,
    ) -> Option<Near> {
        let limits = Limits {
            ranges: &linear.ranges,
            at_least: &self.at_least,
        };
        near_of(linear, self.sketch.worked_out(&limits, start, watch))
    }

    /// The same with other ranges, from where another search ended.
    pub(crate) fn solve_from(
        &self,
        linear: &Linear,
        (way, basis): (&Way, &Basis),
        watch: &Watch<'_>,
    ) -> Option<Near> {
        // Another programme's way, of fewer rows, is none of this one's.
        let way = Some(&way.0).filter(|way| way.rows() == self.at_least.len());
        let further = way
            .and_then(|way| self.sketch.further(way.clone(), &linear.ranges, watch))
            .map(|ended| near_of(linear, ended));
        further.unwrap_or_else(|| self.solve(linear, Some(basis), watch))
    }
}

/// What a search came to; none where it was lost.
fn near_of(linear: &Linear, (sketched, way): (Sketched, Dictionary)) -> Option<Near> {
    let pairs = linear.rows.iter().zip(&sketched.prices);
    let prices = pairs
        .map(|(row, price)| near(if row.is_equal { *price } else { price.max(0.0) }))
        .collect();
    let vertex = match sketched.end {
        End::Lost => return None,
        End::Empty => None,
        End::Cheapest => Some(NearVertex {
            shares: sketched.shares,
            cost: sketched.cost,
            basis: sketched.basis,
            way: Rc::new(Way(way)),
        }),
    };
    Some(Near { vertex, prices })
}

//! One leaf: a pattern with some shares undecided, in machine numbers and exactly.

use trug_model::Q;

use crate::solve::cuts::near;
use crate::solve::linear::{Basis, Linear, Solved, Vertex, cost_bound, proves_empty, solve};
use crate::solve::question::{Pattern, Question};
use crate::solve::sketch::{End, Limits, Sketch, Sketched};
use crate::solve::watch::Watch;

/// Rounds of tangents that bring a choice no nearer to its cones before it is left.
const PATIENCE: usize = 8;

/// How near to its cone a choice must come, against its margin.
const CONE_NEAR: f64 = 1e-9;

/// How much larger margins are made first, and how often eight times that, to find a choice that keeps them.
const FIRST_LARGER: (i64, i64) = (2, 1_000_000_000);
const LARGER_TIMES: usize = 7;

/// A question whose undecided shares are free, and its sketch.
pub(super) struct Relaxed<'q, 'p, 'w> {
    pub(super) question: &'q mut Question<'p>,
    sketch: Sketch,
    pub(super) watch: &'w Watch<'w>,
}

/// A pattern and what it costs at least, in machine numbers.
#[derive(Clone, Debug)]
pub(super) struct Leaf {
    pub(super) pattern: Pattern,
    pub(super) sketched: Sketched,
}

impl<'q, 'p, 'w> Relaxed<'q, 'p, 'w> {
    pub(super) fn of(question: &'q mut Question<'p>, watch: &'w Watch<'w>) -> Relaxed<'q, 'p, 'w> {
        let sketch = sketch_of(question);
        Relaxed {
            question,
            sketch,
            watch,
        }
    }

    /// None where it is proved that nothing is in it.
    pub(super) fn leaf(&mut self, pattern: Pattern, start: Option<&Basis>) -> Option<Leaf> {
        let ranges = self.question.ranges(&pattern);
        if ranges.iter().any(|(low, high)| low > high) {
            return None;
        }
        let sketched = self.sketched(&pattern, &ranges, start);
        let leaf = Leaf { pattern, sketched };
        if leaf.sketched.end == End::Empty {
            let linear = self.linear(&leaf.pattern);
            if proves_empty(&linear, &leaf.prices(&linear)) {
                return None;
            }
        }
        Some(leaf)
    }

    pub(super) fn linear(&self, pattern: &Pattern) -> Linear {
        self.question.linear(pattern, &Q::ONE)
    }

    /// What nothing in a leaf costs less than: by its own prices, else by none.
    pub(super) fn bound(&self, leaf: &Leaf) -> Option<Q> {
        let linear = self.linear(&leaf.pattern);
        let none = || vec![Q::ZERO; linear.rows.len()];
        let is_priced = leaf.sketched.end == End::Cheapest;
        let prices = if is_priced {
            leaf.prices(&linear)
        } else {
            none()
        };
        cost_bound(&linear, &prices)
    }

    /// The machine's cheapest choice, with tangents until every margin of certainty is kept or machine numbers tell no more.
    fn sketched(
        &mut self,
        pattern: &Pattern,
        ranges: &[(Q, Q)],
        start: Option<&Basis>,
    ) -> Sketched {
        let mut basis = start.cloned();
        let mut nearest = f64::INFINITY;
        let mut in_vain = 0;
        loop {
            let at_least = self.question.at_least(pattern);
            let limits = Limits {
                ranges,
                at_least: &at_least,
            };
            let sketched = self.sketch.solve(&limits, basis.as_ref(), self.watch);
            if sketched.end != End::Cheapest || in_vain > PATIENCE {
                return sketched;
            }
            let outside = self.add_tangents(pattern, &sketched.shares);
            if outside == 0.0 {
                return sketched;
            }
            in_vain = if outside < 0.9 * nearest {
                0
            } else {
                in_vain + 1
            };
            nearest = nearest.min(outside);
            basis = Some(sketched.basis);
        }
    }

    /// Tangents where a choice is outside a cone, and how far it is outside the worst of them, against its margin.
    fn add_tangents(&mut self, pattern: &Pattern, shares: &[f64]) -> f64 {
        let mut worst = 0.0;
        for rank in 0..self.question.cones.len() {
            let cone = &self.question.cones[rank];
            let (deviation, margin) = cone.at(shares);
            let wanted = cone.reliance.to_f64() * deviation;
            let outside = (wanted - margin) / wanted;
            if self.question.holds(cone.bound, pattern) && outside > CONE_NEAR {
                let tangent = cone.tangent(rank, shares);
                self.question.add_tangent(tangent);
                worst = f64::max(worst, outside);
            }
        }
        if worst > 0.0 {
            self.sketch = sketch_of(self.question);
        }
        worst
    }
}

impl Leaf {
    /// Its prices as rationals; of a row that is no equation at least zero.
    pub(super) fn prices(&self, linear: &Linear) -> Vec<Q> {
        let pairs = linear.rows.iter().zip(&self.sketched.prices);
        let price =
            |is_equal: bool, price: f64| near(if is_equal { price } else { price.max(0.0) });
        pairs.map(|(row, of)| price(row.is_equal, *of)).collect()
    }
}

/// The cheapest choice with margins so little larger that it keeps those that are asked for exactly, and by how much they are.
pub(super) fn inside(
    question: &Question,
    pattern: &Pattern,
    basis: &Basis,
    watch: &Watch,
) -> Option<(Vertex, Q)> {
    let (part, whole) = FIRST_LARGER;
    let mut larger = Q::ratio(part, whole);
    for _ in 0..LARGER_TIMES {
        let times = Q::ONE + &larger;
        let linear = question.linear(pattern, &times);
        let Solved::Vertex(vertex) = solve(&linear, Some(basis), watch) else {
            return None;
        };
        if question.keeps_all(&vertex.shares) {
            return Some((vertex, times));
        }
        larger = larger * Q::int(8);
    }
    None
}

fn sketch_of(question: &Question) -> Sketch {
    Sketch::of(&question.linear(&question.open_pattern(), &Q::ONE))
}

//! The least of a linear programme some of whose shares are whole numbers of steps: branch and bound (Land and Doig 1960).
//!
//! Machine numbers show the way; what is taken was found exactly.

use std::rc::Rc;

use trug_model::Q;

use super::grid::Grid;
use crate::solve::Watch;
use crate::solve::linear::{Basis, Linear, Solved, Vertex, solve};
use crate::solve::quick::{Near, NearVertex, Quick, Way};

/// A part of a step that machine numbers cannot tell from nothing.
const NEARLY_WHOLE: f64 = 1e-5;
/// A part of the cost that they cannot tell from nothing.
const NEARLY_EQUAL: f64 = 1e-11;
/// The least step at which machine numbers show the way.
pub(super) const LEAST_STEP: f64 = 0.5e-7;

/// A linear programme some of whose shares are whole numbers of steps.
pub(super) struct Whole<'a> {
    pub(super) linear: Linear,
    /// Which shares are.
    pub(super) is_stepped: Vec<bool>,
    pub(super) step: &'a Q,
    /// Whose bounds that scatter are kept too.
    pub(super) grid: &'a Grid<'a>,
    /// The same programme but for ranges and what rows ask for, where there is one in machine numbers.
    pub(super) quick: Option<&'a Quick>,
    /// Costs lie at multiples of it from `origin`; zero is unknown.
    pub(super) spacing: Q,
    pub(super) origin: Q,
    /// What costs more is not wanted; none is without end.
    pub(super) most: Option<Q>,
}

/// What was found.
pub(super) struct Search {
    pub(super) best: Option<(Vec<Q>, Q)>,
    /// Nothing is cheaper, as far as machine numbers tell.
    pub(super) is_complete: bool,
    /// Something else may cost the same.
    pub(super) may_be_tied: bool,
}

struct Node {
    ranges: Vec<(Q, Q)>,
    start: Option<Start>,
}

/// Where the search for a vertex begins.
#[derive(Clone)]
struct Start {
    basis: Basis,
    way: Option<Rc<Way>>,
}

/// What a node came to.
enum Seen {
    /// Nothing in it is wanted.
    Closed,
    /// One share is to be decided: the nearer of the steps beside it, the other, and the basis.
    Between(usize, [Q; 2], Start),
    /// It is to be looked at again, with more rows.
    Again(Basis),
    /// The watch ran out.
    Stopped,
}

impl Whole<'_> {
    /// The cheapest, looking at so many nodes, and at nothing that `known` undercuts.
    pub(super) fn search(
        mut self,
        known: Option<(Vec<Q>, Q)>,
        nodes: usize,
        watch: &Watch<'_>,
    ) -> Search {
        let mut found = Search {
            best: known,
            is_complete: true,
            may_be_tied: false,
        };
        let mut quick = self.quick();
        let mut open = vec![Node {
            ranges: self.snapped(&self.linear.ranges),
            start: None,
        }];
        for _ in 0..nodes {
            let Some(node) = open.pop() else {
                return found;
            };
            if node.ranges.iter().any(|(low, high)| low > high) {
                continue;
            }
            self.linear.ranges = node.ranges;
            let start = node.start.as_ref();
            let near = quick
                .as_ref()
                .and_then(|quick| self.near(quick, start, watch));
            let seen = match near {
                Some(near) => self.look(near, &mut found, watch),
                None => self.look_exactly(start.map(|start| &start.basis), &mut found, watch),
            };
            match seen {
                Seen::Closed => {}
                Seen::Between(share, sides, start) => {
                    self.branch(share, sides, &start, &mut open);
                }
                Seen::Again(basis) => {
                    quick = self.quick();
                    open.push(Node {
                        ranges: self.linear.ranges.clone(),
                        start: Some(Start { basis, way: None }),
                    });
                }
                Seen::Stopped => break,
            }
        }
        found.is_complete = open.is_empty() && watch.stopped().is_none();
        found
    }

    /// In machine numbers, with the ranges of a node.
    fn near(&self, quick: &Quick, start: Option<&Start>, watch: &Watch<'_>) -> Option<Near> {
        match start {
            Some(Start {
                basis,
                way: Some(way),
            }) => quick.solve_from(&self.linear, (way, basis), watch),
            _ => quick.solve(&self.linear, start.map(|start| &start.basis), watch),
        }
    }

    fn quick(&self) -> Option<Quick> {
        let is_told = self.step.to_f64() > LEAST_STEP;
        is_told.then(|| match self.quick {
            Some(quick) => quick.like(&self.linear),
            None => Quick::of(&self.linear),
        })
    }

    /// Ranges whose ends are whole numbers of steps.
    fn snapped(&self, ranges: &[(Q, Q)]) -> Vec<(Q, Q)> {
        let snap = |((low, high), is_stepped): (&(Q, Q), &bool)| match is_stepped {
            true => (low.ceil_to(self.step), high.floor_to(self.step)),
            false => (low.clone(), high.clone()),
        };
        ranges.iter().zip(&self.is_stepped).map(snap).collect()
    }

    /// A node in machine numbers.
    fn look(&mut self, near: Near, found: &mut Search, watch: &Watch<'_>) -> Seen {
        let Some(vertex) = near.vertex else {
            return Seen::Closed;
        };
        let best = found.best.as_ref().map(|(_, cost)| cost);
        if let Some(bar) = best.or(self.most.as_ref()) {
            let is_best = best.is_some();
            let best = bar.to_f64();
            let least = self.nearly_at_least(vertex.cost);
            found.may_be_tied |= is_best && (least - best).abs() <= 1e-9 * best.abs();
            if least >= best - NEARLY_EQUAL * best.abs() {
                return Seen::Closed;
            }
            self.fix_by_cost(&near.prices, best - vertex.cost);
        }
        let step = self.step.to_f64();
        let mut furthest = (0, NEARLY_WHOLE);
        for (rank, share) in vertex.shares.iter().enumerate() {
            let off = (share / step - (share / step).round()).abs();
            if self.is_stepped[rank] && off > furthest.1 {
                furthest = (rank, off);
            }
        }
        let (share, off) = furthest;
        if off <= NEARLY_WHOLE {
            return self.take_nearest(&vertex, found, watch);
        }
        let steps = vertex.shares[share] / step;
        let sides = [steps.floor(), steps.ceil()].map(|steps| self.steps(steps));
        let nearer_first = nearer_first(sides, steps.round() > steps);
        let start = Start {
            basis: vertex.basis,
            way: Some(vertex.way),
        };
        Seen::Between(share, nearer_first, start)
    }

    /// So many steps.
    fn steps(&self, count: f64) -> Q {
        Q::of_parts(count as i128, 1) * self.step
    }

    /// What a choice that costs no less than `cost` costs at least.
    fn nearly_at_least(&self, cost: f64) -> f64 {
        let spacing = self.spacing.to_f64();
        // Nearer to each other than this, machine numbers cannot tell costs apart.
        if spacing <= 1e-7 * cost.abs() {
            return cost;
        }
        let origin = self.origin.to_f64();
        origin + ((cost - origin) / spacing - 1e-3).ceil() * spacing
    }

    /// What nothing cheaper can use for what it costs more is out of the question.
    fn fix_by_cost(&mut self, prices: &[Q], room: f64) {
        let step = self.step.to_f64();
        let pairs = self.linear.rows.iter().zip(prices);
        let priced: Vec<(&[Q], f64)> = pairs
            .filter(|(_, price)| !price.is_zero())
            .map(|(row, price)| (row.weights.as_slice(), price.to_f64()))
            .collect();
        for rank in 0..self.is_stepped.len() {
            if !self.is_stepped[rank] {
                continue;
            }
            let worth: f64 = priced
                .iter()
                .map(|(weights, price)| weights[rank].to_f64() * price)
                .sum();
            let rate = self.linear.costs[rank].to_f64() - worth;
            let reach = (room / rate.abs() / step * (1.0 + 1e-6) + NEARLY_WHOLE).floor();
            if !reach.is_finite() || reach > 1e15 {
                continue;
            }
            let reach = self.steps(reach);
            let (low, high) = &mut self.linear.ranges[rank];
            if rate > 0.0 {
                *high = high.clone().min(&*low + reach);
            } else {
                *low = low.clone().max(&*high - reach);
            }
        }
    }

    /// The steps next to a vertex, with what is in no steps found exactly.
    fn take_nearest(&mut self, vertex: &NearVertex, found: &mut Search, watch: &Watch<'_>) -> Seen {
        let step = self.step.to_f64();
        let ranges = self.linear.ranges.clone();
        for (rank, share) in vertex.shares.iter().enumerate() {
            if self.is_stepped[rank] {
                let snapped = self.steps((share / step).round());
                self.linear.ranges[rank] = (snapped.clone(), snapped);
            }
        }
        let seen = self.look_exactly(Some(&vertex.basis), found, watch);
        let is_taken = matches!(&found.best, Some((shares, _)) if self.is_at_ends(shares));
        self.linear.ranges = ranges;
        match seen {
            Seen::Closed if !is_taken => self.look_exactly(Some(&vertex.basis), found, watch),
            seen => seen,
        }
    }

    /// Whether the steps of these shares are all that is left.
    fn is_at_ends(&self, shares: &[Q]) -> bool {
        let mut ranked = shares.iter().enumerate();
        ranked.all(|(rank, share)| !self.is_stepped[rank] || *share == self.linear.ranges[rank].0)
    }

    /// A node exactly.
    fn look_exactly(
        &mut self,
        start: Option<&Basis>,
        found: &mut Search,
        watch: &Watch<'_>,
    ) -> Seen {
        let vertex = match solve(&self.linear, start, watch) {
            Solved::Vertex(vertex) => vertex,
            Solved::Empty(_) => return Seen::Closed,
            Solved::Unsolved => return Seen::Stopped,
        };
        if let Some((_, best)) = &found.best
            && vertex.cost >= *best
        {
            found.may_be_tied |= vertex.cost == *best;
            return Seen::Closed;
        }
        if self.most.as_ref().is_some_and(|most| vertex.cost > *most) {
            return Seen::Closed;
        }
        if let Some(share) = self.broken(&vertex.shares) {
            let value = &vertex.shares[share];
            let sides = [value.floor_to(self.step), value.ceil_to(self.step)];
            let nearer_first = nearer_first(sides, value.round_to(self.step) > *value);
            let start = Start {
                basis: vertex.basis,
                way: None,
            };
            return Seen::Between(share, nearer_first, start);
        }
        if self.cut_off(&vertex.shares) {
            return Seen::Again(vertex.basis);
        }
        let Vertex { shares, cost, .. } = vertex;
        if !self.grid.is_choice(&shares, self.step) {
            return Seen::Closed;
        }
        found.may_be_tied = true;
        found.best = Some((shares, cost));
        Seen::Closed
    }

    /// The share furthest from a whole number of steps.
    fn broken(&self, shares: &[Q]) -> Option<usize> {
        let mut worst: Option<(usize, Q)> = None;
        for (rank, (share, is_stepped)) in shares.iter().zip(&self.is_stepped).enumerate() {
            if !is_stepped {
                continue;
            }
            let off = (share - share.round_to(self.step)).abs();
            if off.is_positive() && worst.as_ref().is_none_or(|(_, most)| off > *most) {
                worst = Some((rank, off));
            }
        }
        worst.map(|(rank, _)| rank)
    }

    /// Opens the ways down and up, so that the nearer one is looked at first.
    fn branch(&self, share: usize, [nearer, other]: [Q; 2], start: &Start, open: &mut Vec<Node>) {
        let is_up = nearer > other;
        for (end, is_up) in [(other, !is_up), (nearer, is_up)] {
            let mut ranges = self.linear.ranges.clone();
            if let Some((low, high)) = ranges.get_mut(share) {
                if is_up {
                    *low = end;
                } else {
                    *high = end;
                }
            }
            open.push(Node {
                ranges,
                start: Some(start.clone()),
            });
        }
    }

    fn cut_off(&mut self, shares: &[Q]) -> bool {
        let cuts = self.grid.cuts(shares);
        let is_cut = !cuts.is_empty();
        for mut cut in cuts {
            cut.weights.resize(self.linear.costs.len(), Q::ZERO);
            self.linear.rows.push(cut);
        }
        is_cut
    }
}

fn nearer_first([below, above]: [Q; 2], is_up_nearer: bool) -> [Q; 2] {
    if is_up_nearer {
        [above, below]
    } else {
        [below, above]
    }
}

/// The greatest number of which all these are multiples; zero of zeros.
pub(super) fn common_measure(numbers: impl Iterator<Item = Q>) -> Q {
    let mut measure = Q::ZERO;
    for number in numbers {
        let mut rest = number.abs();
        while !rest.is_zero() {
            let left = &measure - measure.floor_to(&rest);
            (measure, rest) = (rest, left);
        }
    }
    measure
}

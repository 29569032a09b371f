//! The least of a linear programme some of whose shares are whole numbers of steps: branch and bound (Land and Doig 1960).

use trug_model::Q;

use super::grid::Grid;
use crate::solve::Watch;
use crate::solve::linear::{Basis, Linear, Solved, Vertex, solve};

/// A linear programme some of whose shares are whole numbers of steps.
pub(super) struct Whole<'a> {
    pub(super) linear: Linear,
    /// Which shares are.
    pub(super) is_stepped: Vec<bool>,
    pub(super) step: &'a Q,
    /// Whose bounds that scatter are kept too.
    pub(super) grid: &'a Grid<'a>,
    /// No two different costs are nearer to each other than this, and they lie at multiples of it from `origin`; zero is unknown.
    pub(super) spacing: Q,
    pub(super) origin: Q,
}

/// What was found.
pub(super) struct Search {
    pub(super) best: Option<(Vec<Q>, Q)>,
    /// Nothing is cheaper.
    pub(super) is_complete: bool,
    /// Something else may cost the same.
    pub(super) may_be_tied: bool,
}

struct Node {
    ranges: Vec<(Q, Q)>,
    basis: Option<Basis>,
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
        let mut open = vec![Node {
            ranges: self.snapped(&self.linear.ranges),
            basis: None,
        }];
        let mut left = nodes;
        while let Some(node) = open.pop() {
            if left == 0 {
                found.is_complete = false;
                break;
            }
            left -= 1;
            self.linear.ranges = node.ranges;
            let vertex = match solve(&self.linear, node.basis.as_ref(), watch) {
                Solved::Vertex(vertex) => vertex,
                Solved::Empty(_) => continue,
                Solved::Unsolved => {
                    found.is_complete = false;
                    break;
                }
            };
            if let Some((_, best)) = &found.best {
                let least = self.at_least(&vertex.cost);
                found.may_be_tied |= least == *best;
                if least >= *best {
                    continue;
                }
                self.fix_by_cost(&vertex, best);
            }
            match self.broken(&vertex.shares) {
                Some(share) => self.branch(&vertex, share, &mut open),
                None if self.cut_off(&vertex.shares) => open.push(Node {
                    ranges: self.linear.ranges.clone(),
                    basis: Some(vertex.basis),
                }),
                None => {
                    found.may_be_tied = true;
                    found.best = Some((vertex.shares, vertex.cost));
                }
            }
        }
        found
    }

    /// Ranges whose ends are whole numbers of steps.
    fn snapped(&self, ranges: &[(Q, Q)]) -> Vec<(Q, Q)> {
        let snap = |((low, high), is_stepped): (&(Q, Q), &bool)| match is_stepped {
            true => (low.ceil_to(self.step), high.floor_to(self.step)),
            false => (low.clone(), high.clone()),
        };
        ranges.iter().zip(&self.is_stepped).map(snap).collect()
    }

    /// What a choice that costs no less than `cost` costs at least.
    fn at_least(&self, cost: &Q) -> Q {
        &self.origin + (cost - &self.origin).ceil_to(&self.spacing)
    }

    /// What no choice cheaper than `best` can use for what it costs more is out of the question.
    fn fix_by_cost(&mut self, vertex: &Vertex, best: &Q) {
        let room = best - &vertex.cost;
        let ends = self.linear.ranges.iter_mut().zip(&vertex.rates);
        for (((low, high), rate), is_stepped) in ends.zip(&self.is_stepped) {
            let Some(reach) = room.over(&rate.abs()).filter(|_| *is_stepped) else {
                continue;
            };
            if rate.is_positive() {
                let end = (&*low + reach).floor_to(self.step);
                *high = high.clone().min(end);
            } else {
                let end = (&*high - reach).ceil_to(self.step);
                *low = low.clone().max(end);
            }
        }
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

    /// Opens the way down and the way up, so that the nearer one is looked at first.
    fn branch(&self, vertex: &Vertex, share: usize, open: &mut Vec<Node>) {
        let Some(value) = vertex.shares.get(share) else {
            return;
        };
        let half = |is_up: bool| {
            let mut ranges = self.linear.ranges.clone();
            if let Some((low, high)) = ranges.get_mut(share) {
                if is_up {
                    *low = value.ceil_to(self.step);
                } else {
                    *high = value.floor_to(self.step);
                }
            }
            Node {
                ranges,
                basis: Some(vertex.basis.clone()),
            }
        };
        let is_up_nearer = value.round_to(self.step) > *value;
        open.push(half(!is_up_nearer));
        open.push(half(is_up_nearer));
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

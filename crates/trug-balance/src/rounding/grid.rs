//! The cheapest shares that are whole numbers of a step.

use std::cell::OnceCell;

use trug_model::Q;

use super::cost_of;
use super::lattice::on_lattice;
use super::lean::Lean;
use super::moves::{WholeRow, improve};
use super::nearest::nearest;
use super::ties::untied;
use super::whole::{Whole, common_measure};
use crate::programme::Programme;
use crate::settled::{Kept, Reached, Settled, Use, tangent};
use crate::solve::Watch;
use crate::solve::linear::{Basis, Linear, Row, Vertex};
use crate::solve::quick::Quick;
use crate::solve::rows::is_kept;

/// Nodes looked at for each number of decimals, where few shares can be chosen: enough for the cheapest.
const NODES: usize = 600;
/// Shares that are few.
const FEW: usize = 6;
/// Work for more shares than that: a node takes about the square of their number, and what small moves found is bettered the more
/// seldom the more there are.
const WORK: usize = 80_000;
/// The same where the nearest steps are too dear, so that finer ones will most likely be needed.
const DOUBTFUL_WORK: usize = WORK / 4;
/// Nodes looked at where machine numbers do not show the way, and only if there is nothing yet.
const FINE_NODES: usize = 60;
/// So near to a choice, machine numbers are at it.
const NEAR: f64 = 1e-9;
/// Steps below this are fine.
const FINE: (i64, i64) = (1, 20_000_000);

/// A programme whose shares are to be whole numbers of a step, all but the rest.
pub(super) struct Grid<'a> {
    pub(super) programme: &'a Programme,
    pub(super) settled: Settled<'a>,
    pub(super) rest: Option<usize>,
    optimum: &'a [Q],
    /// What is written now keeps out what is out.
    may_stay: bool,
    /// Rows that are asked for; those after them are tangents.
    asked_rows: usize,
    root: Option<Root>,
    /// The programme in machine numbers, as it was without tangents.
    pub(super) quick: Quick,
    /// Its rows in whole numbers, made when first asked for.
    pub(super) whole_rows: OnceCell<Vec<WholeRow>>,
}

/// The cheapest choice, found without regard to what is written now.
#[derive(Clone)]
pub(super) struct Root {
    pub(super) shares: Vec<Q>,
    pub(super) basis: Basis,
}

impl<'a> Grid<'a> {
    /// Where the optimum `is_only`, nothing else as cheap, it is where the search begins.
    pub(super) fn new(lean: &'a Lean, is_only: bool, watch: &Watch<'_>) -> Grid<'a> {
        let programme = &lean.programme;
        let costs: Vec<Q> = programme
            .shares
            .iter()
            .map(|share| share.cost.clone())
            .collect();
        let uses = vec![Use::Used; costs.len()];
        let mut settled = Settled::of(programme, &costs, &uses, &Kept::all(programme));
        let asked_rows = settled.linear.rows.len();
        let is_only = is_only && settled.scattered().next().is_none();
        let quick = Quick::of(&settled.linear);
        let known = is_only.then(|| Root::at(&settled.linear, &quick, &lean.optimum, watch));
        let root = match known.flatten() {
            None => Root::reached(&mut settled, watch),
            known => known,
        };
        Grid {
            programme,
            settled,
            rest: programme.shares.iter().position(|share| share.is_rest),
            optimum: &lean.optimum,
            may_stay: lean.may_stay,
            asked_rows,
            root,
            quick,
            whole_rows: OnceCell::new(),
        }
    }

    /// The cheapest shares in steps; of equally cheap ones what is written now, or what is nearest to it. Where some cost at most
    /// `near`, they are looked for among those.
    pub(super) fn cheapest(&mut self, step: &Q, near: &Q, watch: &Watch<'_>) -> Option<Vec<Q>> {
        let now = self
            .now(step)
            .map(|now| (cost_of(self.programme, &now), now));
        let now_if_within = |cost: &Q| now.filter(|(least, _)| least <= cost).map(|(_, now)| now);
        if self.is_choice(self.optimum, step) {
            let now = now_if_within(&cost_of(self.programme, self.optimum));
            return now.or_else(|| Some(self.optimum.to_vec()));
        }
        if self.rest.is_none() && !is_multiple(&self.programme.total, step) {
            return None;
        }
        let root = self.root.clone()?;
        let known = match nearest(self, &root, step, watch) {
            Some(shares) => Some(improve(self, shares, step)),
            None => on_lattice(self, &root, step, watch),
        };
        let known = known.map(|shares| {
            let cost = cost_of(self.programme, &shares);
            (shares, cost)
        });
        let (known, too_dear) = match known {
            Some(known) if known.1 > *near => (None, Some(known)),
            known => (known, None),
        };
        let is_fine = *step <= Q::ratio(FINE.0, FINE.1);
        let nodes = match (&known, &too_dear) {
            (None, None) if is_fine => FINE_NODES,
            _ if is_fine => 0,
            (None, Some(_)) => self.nodes(DOUBTFUL_WORK),
            _ => self.nodes(WORK),
        };
        let mut whole = self.whole(step);
        whole.most = too_dear.is_some().then(|| near.clone());
        let search = whole.search(known, nodes, watch);
        let Some((shares, cost)) = search.best else {
            let (shares, cost) = too_dear?;
            return now_if_within(&cost).or(Some(shares));
        };
        if let Some(now) = now_if_within(&cost) {
            return Some(now);
        }
        if search.is_complete && search.may_be_tied {
            return Some(untied(self, shares, &cost, step, watch));
        }
        Some(shares)
    }

    /// How many nodes are worth a look.
    fn nodes(&self, work: usize) -> usize {
        let ranges = self.settled.linear.ranges.iter();
        match ranges.filter(|(low, high)| low < high).count() {
            0..=FEW => NODES,
            free => (work / (free * free * free)).min(NODES),
        }
    }

    /// The question whose shares are whole numbers of steps.
    pub(super) fn whole<'s>(&'s self, step: &'s Q) -> Whole<'s> {
        let free = |rank: &usize| self.settled.linear.ranges[*rank].1.is_positive();
        let costs = &self.settled.linear.costs;
        let base = self
            .rest
            .or_else(|| (0..costs.len()).find(free))
            .unwrap_or(0);
        let base_cost = costs.get(base).cloned().unwrap_or(Q::ZERO);
        let differences = (0..costs.len())
            .filter(free)
            .map(|rank| (&costs[rank] - &base_cost) * step);
        Whole {
            linear: self.settled.linear.clone(),
            is_stepped: self.is_stepped(),
            step,
            grid: self,
            quick: Some(&self.quick),
            spacing: common_measure(differences),
            origin: base_cost * &self.programme.total,
            most: None,
        }
    }

    pub(super) fn is_stepped(&self) -> Vec<bool> {
        self.programme
            .shares
            .iter()
            .map(|share| !share.is_rest)
            .collect()
    }

    /// Planes that `shares` lie beyond, though they keep all rows.
    pub(super) fn cuts(&self, shares: &[Q]) -> Vec<Row> {
        let shares = shares
            .get(..self.programme.shares.len())
            .unwrap_or_default();
        let broken = self
            .settled
            .scattered()
            .filter(|bound| !is_kept(bound, shares));
        broken.map(|bound| tangent(bound, shares)).collect()
    }

    /// Whether the shares, the first of these, are whole numbers of steps and keep everything.
    pub(super) fn is_choice(&self, shares: &[Q], step: &Q) -> bool {
        let Some(shares) = shares.get(..self.programme.shares.len()) else {
            return false;
        };
        let mut stepped = shares.iter().zip(&self.programme.shares);
        let mut ranged = shares.iter().zip(&self.settled.linear.ranges);
        stepped.all(|(share, asked)| asked.is_rest || is_multiple(share, step))
            && ranged.all(|(share, (low, high))| low <= share && share <= high)
            && self
                .settled
                .linear
                .rows
                .iter()
                .take(self.asked_rows)
                .all(|row| row.is_kept(shares))
            && self.scattered_are_kept(shares)
    }

    /// The same of shares that are only made where something scatters.
    pub(super) fn scattered_are_kept_by(&self, shares: impl FnOnce() -> Vec<Q>) -> bool {
        self.settled.scattered().next().is_none() || self.scattered_are_kept(&shares())
    }

    pub(super) fn scattered_are_kept(&self, shares: &[Q]) -> bool {
        self.settled.scattered().all(|bound| is_kept(bound, shares))
    }

    /// What is written now, where that is a choice in steps.
    fn now(&self, step: &Q) -> Option<Vec<Q>> {
        if !self.may_stay {
            return None;
        }
        let shares = self.programme.shares.iter();
        let now = shares.map(|share| match share.is_rest {
            true => Some(Q::ZERO),
            false => share.now.clone(),
        });
        let mut now = now.collect::<Option<Vec<Q>>>()?;
        if let Some(rest) = self.rest {
            let others: Q = now.iter().sum();
            *now.get_mut(rest)? = &self.programme.total - others;
        }
        self.is_choice(&now, step).then_some(now)
    }
}

impl Root {
    /// At a choice known to be the cheapest; none where machine numbers lead elsewhere.
    fn at(linear: &Linear, quick: &Quick, shares: &[Q], watch: &Watch<'_>) -> Option<Root> {
        let is_range = |(low, high): &(Q, Q)| low <= high;
        if !linear.ranges.iter().all(is_range) {
            return None;
        }
        let vertex = quick.solve(linear, None, watch)?.vertex?;
        let mut pairs = vertex.shares.iter().zip(shares);
        let is_there = pairs.all(|(near, share)| (near - share.to_f64()).abs() <= NEAR);
        is_there.then(|| Root {
            shares: shares.to_vec(),
            basis: vertex.basis,
        })
    }

    fn reached(settled: &mut Settled<'_>, watch: &Watch<'_>) -> Option<Root> {
        match settled.reach(None, watch) {
            Reached::Choice(Vertex { shares, basis, .. }) => Some(Root { shares, basis }),
            Reached::Empty(_) | Reached::Unsolved => None,
        }
    }
}

fn is_multiple(number: &Q, step: &Q) -> bool {
    number.over(step).is_some_and(|steps| steps.is_whole())
}

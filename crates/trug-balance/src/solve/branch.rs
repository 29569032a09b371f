//! Which shares are used: branch and bound (Land and Doig 1960), the leaf of least cost first.
//!
//! Machine arithmetic finds the way; nothing is cut off but by a bound in exact arithmetic, which the prices of any leaf give (weak
//! duality). The least over all leaves is what no choice costs less than.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use trug_model::Q;

use super::cuts::near;
use super::linear::{
    Basis, Linear, Solved, Vertex, cost_bound, is_proved, proves_empty, solve, solve_from,
};
use super::question::{Pattern, Question};
use super::sketch::{End, Limits, Sketch, Sketched};
use super::watch::Watch;

/// Rounds of tangents that bring a choice no nearer to its cones before it is left.
const PATIENCE: usize = 8;

/// How near to its cone a choice must come, against its margin.
const CONE_NEAR: f64 = 1e-9;

/// A share of the whole that counts as used, in machine numbers.
const LEAST_USED: f64 = 1e-9;

/// The best that was found, and what was proved.
#[derive(Clone, Debug)]
pub(super) struct Search<'p> {
    /// None where no choice was found.
    pub(super) best: Option<Best<'p>>,
    /// No choice costs less; none where there is no choice at all.
    pub(super) bound: Option<Q>,
    /// Every leaf was looked at.
    pub(super) is_complete: bool,
}

/// A choice that keeps everything exactly.
#[derive(Clone, Debug)]
pub(super) struct Best<'p> {
    pub(super) vertex: Vertex,
    /// What is used in it.
    pub(super) pattern: Pattern,
    /// With the tangents it stands at.
    pub(super) question: Question<'p>,
    /// The programme at the pattern, of which it is a cheapest vertex.
    pub(super) linear: Linear,
}

/// A leaf that may hold something cheaper.
#[derive(Clone, Debug)]
struct Leaf {
    pattern: Pattern,
    sketched: Sketched,
}

/// What is not yet settled at a leaf.
enum Choice {
    Use(usize),
    Exclude(usize),
}

/// Leaves in order of cost, then of age.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Key(f64, usize);

impl Eq for Key {}

impl Ord for Key {
    fn cmp(&self, other: &Key) -> Ordering {
        self.0.total_cmp(&other.0).then(self.1.cmp(&other.1))
    }
}

impl PartialOrd for Key {
    fn partial_cmp(&self, other: &Key) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The cheapest choice over all patterns below `root`.
pub(super) fn search<'p>(question: &mut Question<'p>, root: Pattern, watch: &Watch) -> Search<'p> {
    let mut searching = Searching::of(question, watch);
    searching.open(root, None);
    searching.run();
    searching.ended()
}

struct Searching<'q, 'p, 'w> {
    question: &'q mut Question<'p>,
    sketch: Sketch,
    watch: &'w Watch<'w>,
    leaves: BTreeMap<Key, Leaf>,
    opened: usize,
    best: Option<Best<'p>>,
    /// The least that any leaf closed so far may cost; none where none may hold a choice.
    bound: Option<Q>,
    is_complete: bool,
}

impl<'q, 'p, 'w> Searching<'q, 'p, 'w> {
    fn of(question: &'q mut Question<'p>, watch: &'w Watch<'w>) -> Searching<'q, 'p, 'w> {
        let sketch = sketch_of(question);
        Searching {
            question,
            sketch,
            watch,
            leaves: BTreeMap::new(),
            opened: 0,
            best: None,
            bound: None,
            is_complete: true,
        }
    }

    fn run(&mut self) {
        while let Some((_, leaf)) = self.leaves.pop_first() {
            if self.is_dear(&leaf) {
                continue;
            }
            if !self.watch.node() {
                self.is_complete = false;
                self.close_unseen(&leaf);
                continue;
            }
            self.split(leaf);
        }
    }

    fn ended(self) -> Search<'p> {
        let cost = self.best.as_ref().map(|best| best.vertex.cost.clone());
        let bound = match (self.bound, cost) {
            (Some(bound), Some(cost)) => Some(bound.min(cost)),
            (bound, cost) => bound.or(cost),
        };
        Search {
            best: self.best,
            bound,
            is_complete: self.is_complete,
        }
    }

    /// Solves a pattern in machine numbers and keeps it as a leaf, unless nothing is in it.
    fn open(&mut self, pattern: Pattern, start: Option<&Basis>) {
        if self
            .question
            .ranges(&pattern)
            .iter()
            .any(|(low, high)| low > high)
        {
            return;
        }
        let sketched = self.sketch(&pattern, start);
        let leaf = Leaf { pattern, sketched };
        if leaf.sketched.end == End::Empty {
            let linear = self.linear(&leaf.pattern);
            if proves_empty(&linear, &leaf.prices(&linear)) {
                return;
            }
        }
        self.opened += 1;
        let cost = if leaf.sketched.end == End::Cheapest {
            leaf.sketched.cost
        } else {
            f64::NEG_INFINITY
        };
        self.leaves.insert(Key(cost, self.opened), leaf);
    }

    /// The machine's cheapest choice, with tangents until every margin of certainty is kept or machine numbers tell no more.
    fn sketch(&mut self, pattern: &Pattern, start: Option<&Basis>) -> Sketched {
        let ranges = self.question.ranges(pattern);
        let mut basis = start.cloned();
        let mut nearest = f64::INFINITY;
        let mut in_vain = 0;
        loop {
            let at_least = self.question.at_least(pattern);
            let limits = Limits {
                ranges: &ranges,
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

    fn linear(&self, pattern: &Pattern) -> Linear {
        self.question.linear(pattern, &Q::ONE)
    }

    /// Closes a leaf that is proved to cost no less than the best; false where it may.
    fn is_dear(&mut self, leaf: &Leaf) -> bool {
        let Some(best) = &self.best else {
            return false;
        };
        let cost = &best.vertex.cost;
        let least = cost - self.slack(cost);
        if leaf.sketched.end != End::Cheapest
            || leaf.sketched.cost < least.to_f64() - 1e-7 * cost.to_f64().abs()
        {
            return false;
        }
        let linear = self.linear(&leaf.pattern);
        match cost_bound(&linear, &leaf.prices(&linear)) {
            Some(bound) if bound >= least => {
                self.close(bound);
                true
            }
            _ => false,
        }
    }

    /// What is not worth looking for: nothing, but where a margin of certainty is kept only nearly to the last digit.
    fn slack(&self, cost: &Q) -> Q {
        if self.question.cones.is_empty() {
            Q::ZERO
        } else {
            cost.abs() * Q::ratio(1, 10_000_000)
        }
    }

    fn close(&mut self, bound: Q) {
        self.bound = Some(match self.bound.take() {
            Some(least) => least.min(bound),
            None => bound,
        });
    }

    fn close_unseen(&mut self, leaf: &Leaf) {
        let linear = self.linear(&leaf.pattern);
        let none = vec![Q::ZERO; linear.rows.len()];
        let by_prices = (leaf.sketched.end == End::Cheapest)
            .then(|| cost_bound(&linear, &leaf.prices(&linear)));
        if let Some(bound) = by_prices.flatten().or_else(|| cost_bound(&linear, &none)) {
            self.close(bound);
        }
    }

    /// Closes a leaf with its own cheapest choice, or opens two in its place.
    fn split(&mut self, leaf: Leaf) {
        if leaf.sketched.end == End::Cheapest
            && let Some(choice) = self.unsettled(&leaf.pattern, &leaf.sketched.shares)
        {
            return self.branch(&leaf.pattern, &choice, &leaf.sketched.basis);
        }
        let (lean, basis) = self.question.lean(&leaf.sketched.basis);
        let linear = lean.linear(&leaf.pattern, &Q::ONE);
        let vertex = match solve_from(&linear, &basis, self.watch) {
            // The prices are weighed apart from the method that found them.
            Solved::Vertex(vertex) if is_proved(&linear, &vertex) => vertex,
            Solved::Empty(multipliers) if proves_empty(&linear, &multipliers) => return,
            Solved::Vertex(_) | Solved::Empty(_) | Solved::Unsolved => {
                self.is_complete = false;
                return self.close_unseen(&leaf);
            }
        };
        let best = self.best.as_ref();
        if best.is_some_and(|best| vertex.cost >= best.vertex.cost) {
            return self.close(vertex.cost);
        }
        if let Some(choice) = self.unsettled_exactly(&leaf.pattern, &vertex.shares) {
            return self.branch(&leaf.pattern, &choice, &leaf.sketched.basis);
        }
        self.close(vertex.cost.clone());
        self.take(&lean, vertex);
    }

    /// Takes a choice as the best so far, if it is, and keeps every margin.
    fn take(&mut self, lean: &Question<'p>, vertex: Vertex) {
        let pattern = self.question.pattern_of(&vertex.shares);
        let inside = if self.question.cones.is_empty() {
            Some((vertex, Q::ONE))
        } else {
            inside(lean, &pattern, &vertex.basis, self.watch)
        };
        let kept = inside.filter(|(vertex, _)| self.question.keeps_all(&vertex.shares));
        let Some((vertex, larger)) = kept else {
            self.is_complete = false;
            return;
        };
        let best = self.best.as_ref();
        if best.is_none_or(|best| vertex.cost < best.vertex.cost) {
            let linear = lean.linear(&pattern, &larger);
            self.best = Some(Best {
                vertex,
                pattern,
                question: lean.clone(),
                linear,
            });
        }
    }

    fn branch(&mut self, pattern: &Pattern, choice: &Choice, basis: &Basis) {
        let mut one = pattern.clone();
        let mut other = pattern.clone();
        match choice {
            Choice::Use(share) => {
                one.used[*share] = true;
                other.out[*share] = true;
            }
            Choice::Exclude(rank) => {
                let exclusion = &self.question.programme.exclusions[*rank];
                exclusion
                    .one
                    .iter()
                    .for_each(|share| one.out[*share] = true);
                exclusion
                    .other
                    .iter()
                    .for_each(|share| other.out[*share] = true);
            }
        }
        self.open(one, Some(basis));
        self.open(other, Some(basis));
    }

    /// The first exclusion that is not kept, or the share that is furthest from being used or left out as it must.
    fn unsettled(&self, pattern: &Pattern, shares: &[f64]) -> Option<Choice> {
        let programme = self.question.programme;
        let least = LEAST_USED * programme.total.to_f64();
        let any = |side: &[usize]| side.iter().any(|share| shares[*share] > least);
        let is_broken =
            |exclusion: &crate::programme::Exclusion| any(&exclusion.one) && any(&exclusion.other);
        if let Some(rank) = programme.exclusions.iter().position(is_broken) {
            return Some(Choice::Exclude(rank));
        }
        let mut worst: Option<(f64, usize)> = None;
        for (rank, bound) in programme.bounds.iter().enumerate() {
            let Some(share) = bound.if_used.filter(|share| self.is_open(pattern, *share)) else {
                continue;
            };
            let missing = self.question.missing(rank, shares);
            if shares[share] > least
                && missing > 1e-9
                && worst.is_none_or(|(most, _)| missing > most)
            {
                worst = Some((missing, share));
            }
        }
        worst.map(|(_, share)| Choice::Use(share))
    }

    /// The same in exact arithmetic.
    fn unsettled_exactly(&self, pattern: &Pattern, shares: &[Q]) -> Option<Choice> {
        let programme = self.question.programme;
        let any = |side: &[usize]| side.iter().any(|share| shares[*share].is_positive());
        let is_broken =
            |exclusion: &crate::programme::Exclusion| any(&exclusion.one) && any(&exclusion.other);
        if let Some(rank) = programme.exclusions.iter().position(is_broken) {
            return Some(Choice::Exclude(rank));
        }
        programme.bounds.iter().find_map(|bound| {
            let share = bound
                .if_used
                .filter(|share| self.is_open(pattern, *share))?;
            let is_broken = shares[share].is_positive() && !super::rows::is_kept(bound, shares);
            is_broken.then_some(Choice::Use(share))
        })
    }

    fn is_open(&self, pattern: &Pattern, share: usize) -> bool {
        !pattern.used[share] && !pattern.out[share]
    }
}

impl Leaf {
    /// Its prices as rationals; of a row that is no equation at least zero.
    fn prices(&self, linear: &Linear) -> Vec<Q> {
        let pairs = linear.rows.iter().zip(&self.sketched.prices);
        pairs
            .map(|(row, price)| near(if row.is_equal { *price } else { price.max(0.0) }))
            .collect()
    }
}

/// The cheapest choice with margins so little larger that it keeps those that are asked for exactly, and by how much they are.
fn inside(
    question: &Question,
    pattern: &Pattern,
    basis: &Basis,
    watch: &Watch,
) -> Option<(Vertex, Q)> {
    let mut larger = Q::ratio(2, 1_000_000_000);
    for _ in 0..7 {
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

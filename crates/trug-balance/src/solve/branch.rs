//! Which shares are used: branch and bound (Land and Doig 1960), the leaf of least cost first.
//!
//! Machine arithmetic finds the way; nothing is cut off but by a bound in exact arithmetic, which the prices of any leaf give (weak
//! duality). The least over all leaves is what no choice costs less than.

mod relaxed;
mod unsettled;

use std::cmp::Ordering;
use std::collections::BTreeMap;

use trug_model::Q;

use super::linear::{Basis, Linear, Solved, Vertex, is_proved, proves_empty, solve_from};
use super::question::{Pattern, Question};
use super::sketch::End;
use super::ties::is_only;
use super::watch::Watch;
use relaxed::{Leaf, Relaxed, inside};
use unsettled::{Choice, unsettled, unsettled_exactly};

/// After so many leaves one is followed straight down, for a choice to measure the others by.
const DIVE_EVERY: usize = 100;

/// So near in cost, in machine numbers, a leaf may hold a choice as cheap as the best.
const NEARLY_AS_CHEAP: f64 = 1e-9;

/// The best that was found, and what was proved.
#[derive(Clone, Debug)]
pub(super) struct Search<'p> {
    /// None where no choice was found.
    pub(super) best: Option<Best<'p>>,
    /// No choice costs less; none where there is no choice at all.
    pub(super) bound: Option<Q>,
    /// Every leaf was looked at.
    pub(super) is_complete: bool,
    /// Another pattern may hold a choice as cheap.
    pub(super) may_be_tied: bool,
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
    let mut searching = Searching {
        relaxed: Relaxed::of(question, watch),
        leaves: BTreeMap::new(),
        opened: 0,
        best: None,
        bound: None,
        next_cost: f64::INFINITY,
        is_complete: true,
    };
    searching.open(root, None);
    searching.run();
    searching.ended()
}

struct Searching<'q, 'p, 'w> {
    relaxed: Relaxed<'q, 'p, 'w>,
    leaves: BTreeMap<Key, Leaf>,
    opened: usize,
    best: Option<Best<'p>>,
    /// The least that any leaf closed so far may cost; none where none may hold a choice.
    bound: Option<Q>,
    /// The least cost of a leaf that was closed because it is no cheaper, or of a choice that is not alone in its leaf.
    next_cost: f64,
    is_complete: bool,
}

impl<'p> Searching<'_, 'p, '_> {
    fn run(&mut self) {
        let mut seen = 0;
        while let Some((_, leaf)) = self.leaves.pop_first() {
            if self.is_dear(&leaf) {
                continue;
            }
            if !self.relaxed.watch.is_wanted() {
                return self.give_up();
            }
            if !self.relaxed.watch.node() {
                self.is_complete = false;
                self.close_unseen(&leaf);
                continue;
            }
            if seen % DIVE_EVERY == 0 {
                self.dive(leaf.clone());
            }
            seen += 1;
            self.split(leaf);
        }
    }

    /// Nobody waits for what the leaves that are left would prove, so nothing is.
    fn give_up(&mut self) {
        self.is_complete = false;
        self.best = None;
        self.bound = None;
    }

    fn ended(self) -> Search<'p> {
        let cost = self.best.as_ref().map(|best| best.vertex.cost.clone());
        let nearly = cost.as_ref().map_or(0.0, |cost| {
            let cost = cost.to_f64();
            cost + NEARLY_AS_CHEAP * (1.0 + cost.abs())
        });
        let bound = match (self.bound, cost) {
            (Some(bound), Some(cost)) => Some(bound.min(cost)),
            (bound, cost) => bound.or(cost),
        };
        Search {
            best: self.best,
            bound,
            is_complete: self.is_complete,
            may_be_tied: self.next_cost <= nearly,
        }
    }

    fn open(&mut self, pattern: Pattern, start: Option<&Basis>) {
        let Some(leaf) = self.relaxed.leaf(pattern, start) else {
            return;
        };
        self.opened += 1;
        let is_known = leaf.sketched.end == End::Cheapest;
        let cost = if is_known {
            leaf.sketched.cost
        } else {
            f64::NEG_INFINITY
        };
        self.leaves.insert(Key(cost, self.opened), leaf);
    }

    /// Closes a leaf that is proved to cost no less than the best; false where it may.
    fn is_dear(&mut self, leaf: &Leaf) -> bool {
        let Some(best) = &self.best else {
            return false;
        };
        let cost = &best.vertex.cost;
        let least = cost - self.slack(cost);
        let nearly = least.to_f64() - 1e-7 * cost.to_f64().abs();
        if leaf.sketched.end != End::Cheapest || leaf.sketched.cost < nearly {
            return false;
        }
        let bound = self.relaxed.bound(leaf).filter(|bound| *bound >= least);
        let is_dear = bound.is_some();
        if let Some(bound) = bound {
            self.close(bound);
            self.next_cost = self.next_cost.min(leaf.sketched.cost);
        }
        is_dear
    }

    /// What is not worth looking for: nothing, but where a margin of certainty is kept only nearly to the last digit.
    fn slack(&self, cost: &Q) -> Q {
        if self.relaxed.question.cones.is_empty() {
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
        if let Some(bound) = self.relaxed.bound(leaf) {
            self.close(bound);
        }
    }

    /// Closes a leaf with its own cheapest choice, or opens two in its place.
    fn split(&mut self, leaf: Leaf) {
        if let Some(choice) = self.undecided(&leaf) {
            let [one, other] = self.branches(&leaf.pattern, choice);
            self.open(one, Some(&leaf.sketched.basis));
            return self.open(other, Some(&leaf.sketched.basis));
        }
        let (lean, basis) = self.relaxed.question.lean(&leaf.sketched.basis);
        let linear = lean.linear(&leaf.pattern, &Q::ONE);
        let vertex = match solve_from(&linear, &basis, self.relaxed.watch) {
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
            self.next_cost = self.next_cost.min(vertex.cost.to_f64());
            return self.close(vertex.cost);
        }
        if let Some(choice) =
            unsettled_exactly(self.relaxed.question, &leaf.pattern, &vertex.shares)
        {
            let [one, other] = self.branches(&leaf.pattern, choice);
            self.open(one, Some(&leaf.sketched.basis));
            return self.open(other, Some(&leaf.sketched.basis));
        }
        self.close(vertex.cost.clone());
        if !is_only(&linear, &vertex) {
            self.next_cost = self.next_cost.min(vertex.cost.to_f64());
        }
        self.is_complete &= self.take(&lean, vertex);
    }

    /// Follows the cheaper branch down to a choice.
    fn dive(&mut self, mut leaf: Leaf) {
        if self.undecided(&leaf).is_none() {
            return;
        }
        while let Some(choice) = self.undecided(&leaf) {
            let branches = self.branches(&leaf.pattern, choice);
            let basis = leaf.sketched.basis;
            let leaves = branches.map(|pattern| self.relaxed.leaf(pattern, Some(&basis)));
            let known = leaves
                .into_iter()
                .flatten()
                .filter(|leaf| leaf.sketched.end == End::Cheapest);
            let cheaper = known.reduce(|one, other| {
                if other.sketched.cost < one.sketched.cost {
                    other
                } else {
                    one
                }
            });
            match cheaper {
                Some(cheaper) => leaf = cheaper,
                None => return,
            }
        }
        let (lean, basis) = self.relaxed.question.lean(&leaf.sketched.basis);
        let linear = lean.linear(&leaf.pattern, &Q::ONE);
        if let Solved::Vertex(vertex) = solve_from(&linear, &basis, self.relaxed.watch) {
            self.take(&lean, vertex);
        }
    }

    /// Takes a choice as the best so far, if it is; false where it does not keep everything.
    fn take(&mut self, lean: &Question<'p>, vertex: Vertex) -> bool {
        let pattern = lean.pattern_of(&vertex.shares);
        let inside = if lean.cones.is_empty() {
            Some((vertex, Q::ONE))
        } else {
            inside(lean, &pattern, &vertex.basis, self.relaxed.watch)
        };
        let Some((vertex, larger)) = inside.filter(|(vertex, _)| lean.keeps_all(&vertex.shares))
        else {
            return false;
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
        true
    }

    fn undecided(&self, leaf: &Leaf) -> Option<Choice> {
        let is_known = leaf.sketched.end == End::Cheapest;
        let choice = || unsettled(self.relaxed.question, &leaf.pattern, &leaf.sketched.shares);
        is_known.then(choice).flatten()
    }

    fn branches(&self, pattern: &Pattern, choice: Choice) -> [Pattern; 2] {
        let mut one = pattern.clone();
        let mut other = pattern.clone();
        match choice {
            Choice::Use(share) => {
                one.used[share] = true;
                other.out[share] = true;
            }
            Choice::Exclude(rank) => {
                let exclusion = &self.relaxed.question.programme.exclusions[rank];
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
        [one, other]
    }
}

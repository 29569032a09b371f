//! Amounts of carrier for a tree whose shape is known: such that every step keeps its ratio, and the largest ratio is as low as can be found.
//!
//! Every ratio is a fraction of sums, so raising one amount first lowers the largest ratio and then raises it again: from a start that
//! gives each mix just what it needs, single amounts are moved along what the scales can give while that helps. Ratios are
//! compared from the largest down, so a move that only helps the second largest counts too and the next can go on from there.

use std::cmp::Ordering;

use super::bound::{Ratio, compare};
use super::question::{Answer, Blend, Mix, Question};

/// Moves after which a tree is left as it is.
const MOST_MOVES: usize = 400;

/// The shape of a plan: which steps there are, what goes into each, and where carrier enters. Parts stand before what they are in.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sketch {
    nodes: Vec<Node>,
    pub(crate) roots: Vec<Root>,
}

/// A small ingredient, or a step on the way to a pre-blend.
#[derive(Clone, Debug)]
struct Node {
    leaf: Option<usize>,
    mass: i128,
    parts: Vec<usize>,
    has_carrier: bool,
    /// What it needs to reach, as far as the search knows.
    low: i128,
    /// What it must reach, because of what it may not meet early.
    floor: i128,
}

/// A pre-blend: its parts, and between what it may weigh.
#[derive(Clone, Debug)]
pub(crate) struct Root {
    pub(crate) parts: Vec<usize>,
    pub(crate) low: i128,
    pub(crate) high: i128,
}

impl Sketch {
    /// Adds a small ingredient.
    pub(crate) fn leaf(&mut self, rank: usize, mass: i128, floor: i128) -> usize {
        self.nodes.push(Node {
            leaf: Some(rank),
            mass,
            parts: Vec::new(),
            has_carrier: false,
            low: mass,
            floor,
        });
        self.nodes.len() - 1
    }

    /// Adds a step.
    pub(crate) fn mix(
        &mut self,
        parts: Vec<usize>,
        has_carrier: bool,
        low: i128,
        floor: i128,
    ) -> usize {
        self.nodes.push(Node {
            leaf: None,
            mass: 0,
            parts,
            has_carrier,
            low,
            floor,
        });
        self.nodes.len() - 1
    }

    /// Raises what a node must reach before it meets others.
    pub(crate) fn raise_floor(&mut self, node: usize, floor: i128) {
        let node = &mut self.nodes[node];
        node.floor = node.floor.max(floor);
        node.low = node.low.max(floor);
    }

    /// How many weighings it needs beyond those that every plan needs.
    pub(crate) fn weighings(&self) -> usize {
        let carriers = self.nodes.iter().filter(|node| node.has_carrier).count();
        carriers + self.roots.len().saturating_sub(1)
    }

    /// How many steps it takes beyond the one pre-blend that every plan has.
    pub(crate) fn steps(&self) -> usize {
        let mixes = self.nodes.iter().filter(|node| node.leaf.is_none()).count();
        mixes + self.roots.len().saturating_sub(1)
    }
}

/// A tree with its amounts.
#[derive(Clone, Debug)]
pub(crate) struct Filled {
    sketch: Sketch,
    carriers: Vec<i128>,
    roots: Vec<i128>,
    score: Score,
}

/// How good amounts are: first whether they break anything, then the ratios from the largest down.
#[derive(Clone, Debug)]
struct Score {
    /// The worst of what is exceeded, over its bound; one where nothing is.
    broken: Ratio,
    ratios: Vec<Ratio>,
}

impl Score {
    fn is_better_than(&self, other: &Score) -> bool {
        let mut order = compare(self.broken, other.broken);
        for (mine, theirs) in self.ratios.iter().zip(&other.ratios) {
            order = order.then_with(|| compare(*mine, *theirs));
        }
        order == Ordering::Less
    }
}

impl Filled {
    /// How many weighings it needs beyond those that every plan needs.
    pub(crate) fn weighings(&self) -> usize {
        self.sketch.weighings()
    }

    /// How many steps it takes beyond the one pre-blend that every plan has.
    pub(crate) fn steps(&self) -> usize {
        self.sketch.steps()
    }

    /// The largest ratio up to the pre-blends.
    pub(crate) fn largest_ratio(&self) -> Ratio {
        self.score.ratios.first().copied().unwrap_or((1, 1))
    }

    /// The tree as an answer.
    pub(crate) fn answer(&self, is_proved: bool) -> Answer {
        // The last takes what rounding leaves of the carriers: the one with the most room.
        let room = |root: usize| {
            let bounds = &self.sketch.roots[root];
            let output = self.roots[root];
            (bounds.high - output).min(output - bounds.low)
        };
        let mut order: Vec<usize> = (0..self.roots.len()).collect();
        order.sort_by_key(|root| room(*root));
        let blend = |root: usize| Blend {
            parts: self.mixes(&self.sketch.roots[root].parts),
            output: self.roots[root],
        };
        let blends = order.into_iter().map(blend).collect();
        Answer { blends, is_proved }
    }

    fn mixes(&self, parts: &[usize]) -> Vec<Mix> {
        let mix = |part: &usize| {
            let node = &self.sketch.nodes[*part];
            match node.leaf {
                Some(rank) => Mix::Alone(rank),
                None => Mix::Of {
                    parts: self.mixes(&node.parts),
                    carrier: self.carriers[*part],
                },
            }
        };
        parts.iter().map(mix).collect()
    }
}

/// Amounts for the tree; none where none were found that keep everything.
pub(crate) fn fill(question: &Question, sketch: &Sketch) -> Option<Filled> {
    let roots = outputs_of_roots(question, sketch)?;
    let carriers = start(question, sketch, &roots)?;
    let score = score(question, sketch, &roots, &carriers);
    let mut filled = Filled {
        sketch: sketch.clone(),
        carriers,
        roots,
        score,
    };
    filled.climb(question);
    compare(filled.score.broken, (1, 1))
        .is_le()
        .then_some(filled)
}

/// As equal as the bounds of the pre-blends allow, and together what is wanted.
fn outputs_of_roots(question: &Question, sketch: &Sketch) -> Option<Vec<i128>> {
    let mut order: Vec<usize> = (0..sketch.roots.len()).collect();
    order.sort_by_key(|root| sketch.roots[*root].high);
    let mut outputs: Vec<i128> = sketch.roots.iter().map(|root| root.low).collect();
    let mut left = question.output - outputs.iter().sum::<i128>();
    if left < 0 {
        return None;
    }
    // Raise the lowest first, to the level of the next, until nothing is left.
    while left > 0 {
        let can_rise = |root: &usize| outputs[*root] < sketch.roots[*root].high;
        let lowest = order
            .iter()
            .copied()
            .filter(can_rise)
            .min_by_key(|root| outputs[*root])?;
        let above = order
            .iter()
            .map(|root| outputs[*root])
            .filter(|output| *output > outputs[lowest])
            .min();
        let room = sketch.roots[lowest].high - outputs[lowest];
        let step = above.map_or(left, |above| above - outputs[lowest]);
        let alike = order
            .iter()
            .filter(|root| outputs[**root] == outputs[lowest])
            .count();
        let share = (left / i128::try_from(alike).unwrap_or(1)).max(1);
        let raise = step.min(room).min(share);
        outputs[lowest] += raise;
        left -= raise;
    }
    Some(outputs)
}

/// What every mix needs and no more, in amounts that the scales can give.
fn start(question: &Question, sketch: &Sketch, roots: &[i128]) -> Option<Vec<i128>> {
    let nodes = &sketch.nodes;
    let mut targets: Vec<i128> = nodes.iter().map(|node| node.low.max(node.floor)).collect();
    for (root, output) in sketch.roots.iter().zip(roots) {
        let need = question.bound.least(*output);
        for part in &root.parts {
            targets[*part] = targets[*part].max(need);
        }
    }
    for rank in (0..nodes.len()).rev() {
        let node = &nodes[rank];
        let need = question.bound.least(targets[rank]);
        for part in &node.parts {
            targets[*part] = targets[*part].max(need);
        }
        if !node.has_carrier && !node.parts.is_empty() {
            // Without carrier of its own it is as heavy as its parts: one of them must make up what lacks.
            let together: i128 = node.parts.iter().map(|part| targets[*part]).sum();
            let lacks = targets[rank] - together;
            let lightest = node
                .parts
                .iter()
                .copied()
                .filter(|part| sketch.can_grow(*part));
            if let Some(part) = lightest.min_by_key(|part| targets[*part]) {
                targets[part] += lacks.max(0);
            }
        }
    }
    let mut carriers = vec![0; nodes.len()];
    let mut outputs = vec![0; nodes.len()];
    for (rank, node) in nodes.iter().enumerate() {
        let parts: i128 = node.parts.iter().map(|part| outputs[*part]).sum();
        if node.has_carrier {
            let wanted = (targets[rank] - parts).max(1);
            let grid = &question.grid;
            carriers[rank] = grid.at_least(wanted).or_else(|| grid.at_most(wanted))?;
        }
        outputs[rank] = node.mass + parts + carriers[rank];
    }
    Some(carriers)
}

impl Sketch {
    fn can_grow(&self, node: usize) -> bool {
        let node = &self.nodes[node];
        node.has_carrier || node.parts.iter().any(|part| self.can_grow(*part))
    }
}

fn score(question: &Question, sketch: &Sketch, roots: &[i128], carriers: &[i128]) -> Score {
    let mut score = Score {
        broken: (1, 1),
        ratios: Vec::with_capacity(sketch.nodes.len()),
    };
    let mut outputs = vec![0; sketch.nodes.len()];
    let mut early = 0;
    for (rank, node) in sketch.nodes.iter().enumerate() {
        let parts: i128 = node.parts.iter().map(|part| outputs[*part]).sum();
        outputs[rank] = node.mass + parts + carriers[rank];
        early += carriers[rank];
        score.keep(node.floor, outputs[rank]);
        let smallest = node.parts.iter().map(|part| outputs[*part]).min();
        if let Some(smallest) = smallest {
            score.ratio(question, outputs[rank], smallest);
        }
    }
    score.keep(early, question.early);
    for (root, output) in sketch.roots.iter().zip(roots) {
        let parts = root.parts.iter().map(|part| outputs[*part]);
        score.keep(parts.clone().sum(), *output);
        if let Some(smallest) = parts.min() {
            score.ratio(question, *output, smallest);
        }
    }
    score.ratios.sort_by(|a, b| compare(*b, *a));
    score
}

impl Score {
    /// Notes that `small` is to be no more than `large`.
    fn keep(&mut self, small: i128, large: i128) {
        if small > large {
            let broken = (small, large.max(1));
            if compare(broken, self.broken).is_gt() {
                self.broken = broken;
            }
        }
    }

    fn ratio(&mut self, question: &Question, output: i128, input: i128) {
        let input = input.max(1);
        self.keep(output, question.bound.most(input));
        self.ratios.push((output, input));
    }
}

impl Filled {
    /// Moves amounts while that helps.
    fn climb(&mut self, question: &Question) {
        let with_carrier: Vec<usize> = (0..self.sketch.nodes.len())
            .filter(|rank| self.sketch.nodes[*rank].has_carrier)
            .collect();
        let mut moves = 0;
        let mut has_moved = true;
        while has_moved && moves < MOST_MOVES {
            has_moved = false;
            for rank in &with_carrier {
                for upward in [true, false] {
                    while moves < MOST_MOVES && self.try_move(question, *rank, upward) {
                        moves += 1;
                        has_moved = true;
                    }
                }
            }
        }
    }

    fn try_move(&mut self, question: &Question, rank: usize, upward: bool) -> bool {
        let now = self.carriers[rank];
        let next = if upward {
            question.grid.at_least(now + 1)
        } else {
            question.grid.at_most(now - 1)
        };
        let Some(next) = next else {
            return false;
        };
        self.carriers[rank] = next;
        let moved = score(question, &self.sketch, &self.roots, &self.carriers);
        let is_better = moved.is_better_than(&self.score);
        if is_better {
            self.score = moved;
        } else {
            self.carriers[rank] = now;
        }
        is_better
    }
}

//! The fewest steps for up to seven small ingredients, proved.
//!
//! **What is searched.** Every plan is a tree: its leaves are the small ingredients, each weighed once; every inner node is a step that
//! mixes some leaves and earlier mixes, with or without carrier; the root is the pre-blend, of known mass. A step that mixes the set
//! S of ingredients has an output of what S weighs plus the carrier that entered on the way, *however that came about*. So all that the rest of a plan can see of a
//! sub-tree is the set, how many steps it took, how many of them added carrier, and what outputs it can have.
//!
//! **Why it is complete.** For every set and every number of steps the table holds the outputs that can be had, as intervals: the step that makes the mix
//! splits S into blocks, and all splits are tried, each block with every interval that its own set has. Given intervals [l, h] of the
//! blocks, an output O can be had where each block can be brought to at least O / R and all together weigh no more than O. The
//! set of such O is an interval again, since O - Σ max(l, O / R) is concave in O. An interval that lies inside one of no more steps and no
//! more carriers is left out: it can do nothing the other cannot. A pair that is apart only raises the least that the two blocks must reach
//! in the split that parts them. By induction every tree lies in the table.
//!
//! The table lets carrier enter in any amount from the smallest weighable one, so it may allow a plan that two significant figures
//! do not; it never forbids one that they do. A plan with as few steps as the table allows, with amounts
//! the scales can give, is therefore proved to be of the fewest steps. Where no amounts are found for the trees of so many steps that the table
//! shows, every tree with every amount is tried (see `thorough`); where even that would take too long, the answer says that it is not proved.
//!
//! A plan that was found otherwise bounds the steps from above: a way that could not be brought to the pre-blend's need within them, were
//! every step left to dilute as far as it may, is left out too.

use std::cell::Cell;

use super::bound::{Bound, compare};
use super::fill::{Filled, Root, Sketch, fill};
use super::question::{Answer, Question};
use super::thorough::{self, Outcome};

/// More steps than this are not looked for: the ratio of a step is then too near to one.
const MOST_STEPS: u32 = 40;
/// So many trees of the fewest steps are tried for amounts that the scales can give.
const MOST_SKETCHES: usize = 400;

/// The outputs that a set of ingredients can have after so many steps.
#[derive(Clone, Debug)]
struct Way {
    steps: u32,
    carriers: u32,
    low: i128,
    high: i128,
    blocks: Vec<Block>,
    has_carrier: bool,
}

/// A set on its way into a step, made in a certain way.
#[derive(Clone, Copy, Debug)]
struct Block {
    set: usize,
    way: usize,
    low: i128,
    high: i128,
}

struct Table<'q> {
    question: &'q Question,
    bound: Bound,
    weights: Vec<i128>,
    ways: Vec<Vec<Way>>,
    /// No more steps than this are of use.
    most_steps: u32,
    /// So many splits may still be looked at.
    effort: Cell<u64>,
}

/// The best answer, with no more steps than the one that is known; none where no tree keeps the ratio, or where looking would take
/// more than so many splits.
pub(crate) fn search(question: &Question, known: Option<&Filled>, effort: u64) -> Option<Answer> {
    let known_steps = known.and_then(|known| u32::try_from(known.steps()).ok());
    let most_steps = known_steps.unwrap_or(MOST_STEPS);
    let mut table = Table::new(question, question.bound, most_steps, effort);
    let mut is_proved = true;
    let mut left = effort;
    let mut idle = 0;
    for steps in 0..=most_steps {
        let has_grown = table.grow(steps);
        idle = if has_grown { 0 } else { idle + 1 };
        if table.is_exhausted() || idle > question.masses.len() {
            return None;
        }
        let sketches = table.sketches(steps);
        let mut first = sketches.iter().find_map(|sketch| fill(question, sketch));
        if known_steps == Some(steps) {
            let candidates = first.into_iter().chain(known.cloned());
            first = candidates.min_by_key(Filled::weighings);
        } else if first.is_none() && !sketches.is_empty() {
            // The table allows what two significant figures may not: only trying every amount can tell.
            match thorough::search(question, steps, &mut left) {
                Outcome::Found(found) => first = Some(found),
                Outcome::Proved => {}
                Outcome::GaveUp => is_proved = false,
            }
        }
        if let Some(first) = first {
            let best = improve(question, first, steps, effort);
            return Some(best.answer(is_proved));
        }
    }
    None
}

/// The fewest steps that could bring `mass` to `need`, were each to dilute as far as it may.
pub(crate) fn fewest(bound: &Bound, mass: i128, need: i128) -> u32 {
    let mut reached = mass;
    let mut steps = 0;
    while reached < need && steps < MOST_STEPS {
        let next = bound.most(reached);
        if next <= reached {
            return MOST_STEPS;
        }
        reached = next;
        steps += 1;
    }
    steps
}

/// Lowers the largest ratio as far as plans with as few steps and weighings allow.
fn improve(question: &Question, first: Filled, steps: u32, effort: u64) -> Filled {
    let mut best = first;
    for _ in 0..12 {
        let largest = best.largest_ratio();
        if compare(largest, question.spread).is_le() {
            break;
        }
        let bound = Bound {
            ratio: largest,
            is_strict: true,
        };
        let mut table = Table::new(question, bound, steps, effort / 8);
        for more in 0..=steps {
            table.grow(more);
        }
        let better = table
            .sketches(steps)
            .iter()
            .filter_map(|sketch| fill(question, sketch))
            .filter(|filled| filled.weighings() <= best.weighings())
            .filter(|filled| compare(filled.largest_ratio(), largest).is_lt())
            .min_by(|a, b| compare(a.largest_ratio(), b.largest_ratio()));
        match better {
            Some(better) => best = better,
            None => break,
        }
    }
    best
}

impl<'q> Table<'q> {
    fn new(question: &'q Question, bound: Bound, most_steps: u32, effort: u64) -> Table<'q> {
        let sets = 1_usize << question.masses.len();
        let weight = |set: usize| -> i128 {
            let members = (0..question.masses.len()).filter(|rank| set >> rank & 1 == 1);
            members.map(|rank| question.masses[rank]).sum()
        };
        Table {
            question,
            bound,
            weights: (0..sets).map(weight).collect(),
            ways: vec![Vec::new(); sets],
            most_steps,
            effort: Cell::new(effort),
        }
    }

    fn is_exhausted(&self) -> bool {
        self.effort.get() == 0
    }

    fn all(&self) -> usize {
        self.ways.len() - 1
    }

    /// Adds what takes exactly so many steps; says whether there was any.
    fn grow(&mut self, steps: u32) -> bool {
        if steps == 0 {
            for (rank, mass) in self.question.masses.iter().enumerate() {
                self.ways[1 << rank].push(Way {
                    steps: 0,
                    carriers: 0,
                    low: *mass,
                    high: *mass,
                    blocks: Vec::new(),
                    has_carrier: false,
                });
            }
            return true;
        }
        let need = self.bound.least(self.question.smallest_blend());
        let mut has_grown = false;
        for set in 1..self.ways.len() {
            let mut found = Vec::new();
            self.splits(set, set, steps - 1, &mut Vec::new(), &mut |blocks| {
                found.extend(self.outputs(set, steps, blocks));
            });
            for way in found {
                if steps + fewest(&self.bound, way.high, need) > self.most_steps {
                    continue;
                }
                let is_known = self.ways[set].iter().any(|other| other.covers(&way));
                if !is_known {
                    self.ways[set].push(way);
                    has_grown = true;
                }
            }
        }
        has_grown
    }

    /// Every split of `rest` into blocks whose ways take `steps` steps in all, together with the blocks chosen so far.
    fn splits(
        &self,
        set: usize,
        rest: usize,
        steps: u32,
        chosen: &mut Vec<Block>,
        visit: &mut dyn FnMut(&[Block]),
    ) {
        if rest == 0 {
            if steps == 0 {
                visit(chosen);
            }
            return;
        }
        self.effort.set(self.effort.get().saturating_sub(1));
        if self.is_exhausted() {
            return;
        }
        let first = rest & rest.wrapping_neg();
        let others = rest ^ first;
        let mut more = others;
        loop {
            let block = first | more;
            let floor = self.floor(block, set);
            for (index, way) in self.ways[block].iter().enumerate() {
                let low = way.low.max(floor);
                if way.steps > steps || low > way.high {
                    continue;
                }
                chosen.push(Block {
                    set: block,
                    way: index,
                    low,
                    high: way.high,
                });
                if self.can_mix(chosen) {
                    self.splits(set, rest ^ block, steps - way.steps, chosen, visit);
                }
                chosen.pop();
            }
            if more == 0 {
                break;
            }
            more = (more - 1) & others;
        }
    }

    /// What a block must reach before it meets the rest of its set.
    fn floor(&self, block: usize, set: usize) -> i128 {
        let holds = |sets: usize, rank: usize| sets >> rank & 1 == 1;
        let elsewhere = set & !block;
        let mut floor = 0;
        for apart in &self.question.apart {
            if holds(block, apart.one) && holds(elsewhere, apart.other) {
                floor = floor.max(apart.one_in);
            }
            if holds(block, apart.other) && holds(elsewhere, apart.one) {
                floor = floor.max(apart.other_in);
            }
        }
        floor
    }

    fn can_mix(&self, blocks: &[Block]) -> bool {
        let low: i128 = blocks.iter().map(|block| block.low).sum();
        let narrowest = blocks.iter().map(|block| block.high).min().unwrap_or(0);
        low <= self.bound.most(narrowest)
    }

    /// The least output of a mix of these blocks; none where none keeps the ratio.
    ///
    /// A relaxation by less than a unit for each block: what is rounded is rounded towards allowing.
    fn least_output(&self, blocks: &[Block]) -> Option<i128> {
        let mut lows: Vec<i128> = blocks.iter().map(|block| block.low).collect();
        lows.sort_unstable();
        let (over, under) = self.bound.ratio;
        let mut rest: i128 = lows.iter().sum();
        for (lifted, low) in lows.iter().enumerate() {
            // The smallest so many are lifted to O / R: O = rest + lifted O / R.
            let lifted = i128::try_from(lifted).unwrap_or(i128::MAX);
            let left = over - lifted * under;
            if left <= 0 {
                return None;
            }
            let output = rest * over / left;
            if output * under <= low * over {
                return Some(output);
            }
            rest -= low;
        }
        None
    }

    /// The outputs of one step that mixes these blocks, without carrier and with it.
    fn outputs(&self, set: usize, steps: u32, blocks: &[Block]) -> Vec<Way> {
        let mut ways = Vec::new();
        let Some(least) = self.least_output(blocks) else {
            return ways;
        };
        let narrowest = blocks.iter().map(|block| block.high).min().unwrap_or(0);
        let most = self.bound.most(narrowest);
        let carriers: u32 = blocks
            .iter()
            .map(|block| self.ways[block.set][block.way].carriers)
            .sum();
        let highs: i128 = blocks.iter().map(|block| block.high).sum();
        let mut add = |low: i128, high: i128, has_carrier: bool| {
            if low <= high {
                ways.push(Way {
                    steps,
                    carriers: carriers + u32::from(has_carrier),
                    low,
                    high,
                    blocks: blocks.to_vec(),
                    has_carrier,
                });
            }
        };
        if blocks.len() > 1 {
            add(least, most.min(highs), false);
        }
        if let Some(smallest) = self.question.grid.smallest() {
            let lows: i128 = blocks.iter().map(|block| block.low).sum();
            let filled = self.weights[set] + self.question.early;
            add(least.max(lows + smallest), most.min(filled), true);
        }
        ways
    }

    /// The trees of exactly so many steps that the table allows: of one pre-blend, or of separate ones where something is apart.
    fn sketches(&self, steps: u32) -> Vec<Sketch> {
        let mut found = self.single(steps);
        if self.question.can_separate() {
            found.extend(self.separate(steps));
        }
        // Fewest weighings first; sorting is stable, so names stay in order.
        found.sort_by_key(Sketch::weighings);
        found.truncate(MOST_SKETCHES);
        found
    }

    fn single(&self, steps: u32) -> Vec<Sketch> {
        let output = self.question.output;
        let need = self.bound.least(output);
        let budget = self.weights[self.all()] + self.question.early;
        let mut found = Vec::new();
        self.splits(
            self.all(),
            self.all(),
            steps,
            &mut Vec::new(),
            &mut |blocks| {
                let lifted = blocks.iter().map(|block| block.low.max(need));
                let is_enough = blocks.iter().all(|block| block.high >= need);
                if is_enough && lifted.sum::<i128>() <= budget {
                    let mut sketch = Sketch::default();
                    self.root(&mut sketch, blocks, (output, output), self.all());
                    found.push(sketch);
                }
            },
        );
        found
    }

    /// Two or more pre-blends, spread together.
    fn separate(&self, steps: u32) -> Vec<Sketch> {
        let mut found = Vec::new();
        self.groups(self.all(), steps, &mut Vec::new(), &mut found);
        found
    }

    fn groups(
        &self,
        rest: usize,
        steps: u32,
        chosen: &mut Vec<(usize, Vec<Block>, i128, i128)>,
        found: &mut Vec<Sketch>,
    ) {
        if rest == 0 {
            let lows: i128 = chosen.iter().map(|group| group.2).sum();
            let highs: i128 = chosen.iter().map(|group| group.3).sum();
            let output = self.question.output;
            if steps == 0 && chosen.len() > 1 && lows <= output && output <= highs {
                let mut sketch = Sketch::default();
                for (set, blocks, low, high) in chosen.iter() {
                    self.root(&mut sketch, blocks, (*low, *high), *set);
                }
                found.push(sketch);
            }
            return;
        }
        if found.len() >= MOST_SKETCHES || self.is_exhausted() {
            return;
        }
        let first = rest & rest.wrapping_neg();
        let others = rest ^ first;
        let mut more = others;
        loop {
            let set = first | more;
            // Every pre-blend but the first is a step more.
            let own = u32::from(!chosen.is_empty());
            for inner in 0..=steps.saturating_sub(own) {
                if inner + own > steps {
                    break;
                }
                let mut ways = Vec::new();
                self.splits(set, set, inner, &mut Vec::new(), &mut |blocks| {
                    ways.extend(self.pre_blend(set, blocks));
                });
                for (blocks, low, high) in ways {
                    chosen.push((set, blocks, low, high));
                    self.groups(rest ^ set, steps - own - inner, chosen, found);
                    chosen.pop();
                }
            }
            if more == 0 {
                break;
            }
            more = (more - 1) & others;
        }
    }

    /// What a pre-blend of its own of these blocks can weigh.
    fn pre_blend(&self, set: usize, blocks: &[Block]) -> Option<(Vec<Block>, i128, i128)> {
        let lows: i128 = blocks.iter().map(|block| block.low).sum();
        let reach = (0..self.question.masses.len())
            .filter(|rank| set >> rank & 1 == 1)
            .map(|rank| self.question.reach[rank])
            .max()
            .unwrap_or(0);
        let low = self
            .least_output(blocks)?
            .max(lows + 1)
            .max(self.floor(set, self.all()))
            .max(self.question.spreadable)
            .max(reach);
        let narrowest = blocks.iter().map(|block| block.high).min().unwrap_or(0);
        let high = self.bound.most(narrowest);
        (low <= high).then(|| (blocks.to_vec(), low, high))
    }

    fn root(&self, sketch: &mut Sketch, blocks: &[Block], outputs: (i128, i128), set: usize) {
        let parts = blocks
            .iter()
            .map(|block| self.draw(sketch, *block, set))
            .collect();
        sketch.roots.push(Root {
            parts,
            low: outputs.0,
            high: outputs.1,
        });
    }

    /// Draws the tree of one block; ends with the rank of its node.
    fn draw(&self, sketch: &mut Sketch, block: Block, set: usize) -> usize {
        let way = &self.ways[block.set][block.way];
        let floor = self.floor(block.set, set);
        if way.blocks.is_empty() {
            let rank = block.set.trailing_zeros() as usize;
            return sketch.leaf(rank, self.question.masses[rank], floor);
        }
        let parts = way
            .blocks
            .iter()
            .map(|inner| self.draw(sketch, *inner, block.set))
            .collect();
        sketch.mix(parts, way.has_carrier, way.low.max(floor), floor)
    }
}

impl Way {
    /// Whether this way can do all that the other can, with no more steps and carriers.
    fn covers(&self, other: &Way) -> bool {
        self.steps <= other.steps
            && self.carriers <= other.carriers
            && self.low <= other.low
            && other.high <= self.high
    }
}

//! What every set of small ingredients can come out as after so many steps (see `exhaustive` for why it is complete).

use std::cell::Cell;

use super::bound::Bound;
use super::question::Question;

/// More steps than this are not looked for: the ratio of a step is then too near to one.
pub(super) const MOST_STEPS: u32 = 40;

/// The outputs that a set of ingredients can have after so many steps.
#[derive(Clone, Debug)]
pub(super) struct Way {
    pub(super) steps: u32,
    pub(super) carriers: u32,
    pub(super) low: i128,
    pub(super) high: i128,
    pub(super) blocks: Vec<Block>,
    pub(super) has_carrier: bool,
}

/// A set on its way into a step, made in a certain way.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block {
    pub(super) set: usize,
    pub(super) way: usize,
    pub(super) low: i128,
    pub(super) high: i128,
}

pub(super) struct Table<'q> {
    pub(super) question: &'q Question,
    pub(super) bound: Bound,
    pub(super) weights: Vec<i128>,
    pub(super) ways: Vec<Vec<Way>>,
    /// No more steps than this are of use.
    pub(super) most_steps: u32,
    /// So many splits may still be looked at.
    pub(super) effort: Cell<u64>,
}

/// The fewest steps that could bring `mass` to `need`, were each to dilute as far as it may.
pub(super) fn fewest(bound: &Bound, mass: i128, need: i128) -> u32 {
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

impl<'q> Table<'q> {
    pub(super) fn new(
        question: &'q Question,
        bound: Bound,
        most_steps: u32,
        effort: u64,
    ) -> Table<'q> {
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

    pub(super) fn is_exhausted(&self) -> bool {
        self.effort.get() == 0
    }

    pub(super) fn all(&self) -> usize {
        self.ways.len() - 1
    }

    /// Adds what takes exactly so many steps; says whether there was any.
    pub(super) fn grow(&mut self, steps: u32) -> bool {
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
    pub(super) fn splits(
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
    pub(super) fn floor(&self, block: usize, set: usize) -> i128 {
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

    pub(super) fn can_mix(&self, blocks: &[Block]) -> bool {
        let low: i128 = blocks.iter().map(|block| block.low).sum();
        let narrowest = blocks.iter().map(|block| block.high).min().unwrap_or(0);
        low <= self.bound.most(narrowest)
    }

    /// The least output of a mix of these blocks; none where none keeps the ratio.
    ///
    /// A relaxation by less than a unit for each block: what is rounded is rounded towards allowing.
    pub(super) fn least_output(&self, blocks: &[Block]) -> Option<i128> {
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
    pub(super) fn outputs(&self, set: usize, steps: u32, blocks: &[Block]) -> Vec<Way> {
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
}

impl Way {
    /// Whether this way can do all that the other can, with no more steps and carriers.
    pub(super) fn covers(&self, other: &Way) -> bool {
        self.steps <= other.steps
            && self.carriers <= other.carriers
            && self.low <= other.low
            && other.high <= self.high
    }
}

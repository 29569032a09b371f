//! Draws the trees that the table allows: one pre-blend, or separate ones where something is apart.

use super::fill::{Root, Sketch};
use super::table::{Block, Table};

/// So many trees of the fewest steps are tried for amounts that the scales can give.
const MOST_SKETCHES: usize = 400;

impl Table<'_> {
    /// The trees of exactly so many steps that the table allows: of one pre-blend, or of separate ones where something is apart.
    pub(super) fn sketches(&self, steps: u32) -> Vec<Sketch> {
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

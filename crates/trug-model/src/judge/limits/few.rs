//! Sums of the inclusions of a few lines, judged without walking over the others.

use std::collections::BTreeMap;

use smol_str::SmolStr;

use crate::Q;
use crate::judge::mix::{Mix, Spread};
use crate::ration::{Inclusion, Ration};
use crate::view::Interval;

/// A sum of inclusions of the 100 %, tops included.
#[derive(Clone, Debug)]
pub(crate) struct Inclusions {
    /// What each line counts, by its rank: those that count nothing are not here.
    lines: Vec<(usize, Q)>,
    /// What is on top counts the same whatever is chosen.
    fixed: Q,
}

impl Inclusions {
    /// The 100 % itself.
    pub(super) fn whole() -> Inclusions {
        Inclusions {
            lines: Vec::new(),
            fixed: Q::ONE,
        }
    }

    /// The same over every line of the ration.
    pub(crate) fn spread(&self, mix: &Mix<'_>) -> Spread {
        let mut spread = mix.constant(Interval::exactly(self.fixed.clone()));
        for (rank, counts) in &self.lines {
            if let Some(line) = spread.lines.get_mut(*rank) {
                *line = Interval::exactly(counts.clone());
            }
        }
        spread
    }

    /// The same over the lines of these ranks, and one more that counts nothing.
    fn gathered(&self, ranks: &[usize]) -> Spread {
        let mut lines = vec![Interval::ZERO; ranks.len() + 1];
        for (rank, counts) in &self.lines {
            if let Ok(at) = ranks.binary_search(rank) {
                lines[at] = Interval::exactly(counts.clone());
            }
        }
        Spread {
            lines,
            fixed: Interval::exactly(self.fixed.clone()),
        }
    }
}

/// The lines of a ration, ready to look at a few of them at a time.
pub(super) struct FewOf<'ration> {
    mix: Mix<'ration>,
    /// Shares near the written ones.
    middle: Vec<Q>,
    /// The ends of all lines' ranges, each added up.
    ends: (Q, Q),
    ranks: BTreeMap<&'ration str, Vec<usize>>,
}

impl<'ration> FewOf<'ration> {
    pub(super) fn new(ration: &'ration Ration) -> FewOf<'ration> {
        let mix = Mix::of(ration);
        let mut ranks: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (rank, line) in ration.lines.iter().enumerate() {
            ranks.entry(line.name.as_str()).or_default().push(rank);
        }
        FewOf {
            middle: mix.middle(),
            ends: (
                mix.ranges.iter().map(|(low, _)| low).sum(),
                mix.ranges.iter().map(|(_, high)| high).sum(),
            ),
            ranks,
            mix,
        }
    }

    /// A sum of lines by their names, each times a number.
    pub(super) fn sum(&self, terms: &[(Q, SmolStr)]) -> Inclusions {
        let mut counts: BTreeMap<usize, Q> = BTreeMap::new();
        for (factor, name) in terms {
            for rank in self.ranks.get(name.as_str()).into_iter().flatten() {
                *counts.entry(*rank).or_default() += factor;
            }
        }
        self.inclusions(counts)
    }

    /// What an ingredient makes up, wherever it sits.
    pub(super) fn of_inclusion(&self, inclusion: &Inclusion<'_>) -> Inclusions {
        let fractions = inclusion.fractions.iter().cloned();
        self.inclusions(inclusion.ranks.iter().copied().zip(fractions).collect())
    }

    fn inclusions(&self, counts: BTreeMap<usize, Q>) -> Inclusions {
        let mut sum = Inclusions {
            lines: Vec::with_capacity(counts.len()),
            fixed: Q::ZERO,
        };
        for (rank, counts) in counts {
            let line = &self.mix.ration.lines[rank];
            if line.on_top {
                sum.fixed += counts * &line.low;
            } else {
                sum.lines.push((rank, counts));
            }
        }
        sum
    }

    /// The sum at the shares near the written ones.
    pub(super) fn at_middle(&self, sum: &Inclusions) -> Q {
        let lines = sum.lines.iter();
        &sum.fixed + Q::sum_of_products(lines.map(|(rank, counts)| (counts, &self.middle[*rank])))
    }

    /// The lines of two sums as a mix of their own, in which one line stands for all the others: what those are does not change
    /// the sums.
    pub(super) fn gathered(
        &self,
        (above, below): &(Inclusions, Inclusions),
    ) -> (Mix<'ration>, (Spread, Spread)) {
        let both = above.lines.iter().chain(&below.lines);
        let mut ranks: Vec<usize> = both.map(|(rank, _)| *rank).collect();
        ranks.sort_unstable();
        ranks.dedup();
        let mut ranges: Vec<(Q, Q)> = Vec::with_capacity(ranks.len() + 1);
        let (mut low, mut high) = self.ends.clone();
        for rank in &ranks {
            let range = &self.mix.ranges[*rank];
            low -= &range.0;
            high -= &range.1;
            ranges.push(range.clone());
        }
        ranges.push((low, high));
        let spreads = (above.gathered(&ranks), below.gathered(&ranks));
        (self.mix.with_ranges(ranges), spreads)
    }
}

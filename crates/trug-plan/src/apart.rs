//! Which ingredients may not meet early, and where a draft lets them.

use trug_findings::{Finding, Place};
use trug_model::Q;

use crate::amounts::Case;
use crate::draft::Draft;
use crate::findings::mix;
use crate::order::Order;
use crate::plan::Class;

/// Two ingredients that must each be diluted before they meet.
#[derive(Clone, Debug)]
pub(crate) struct Pair {
    pub(crate) first: usize,
    pub(crate) second: usize,
    /// Each must be in an output so many times its mass.
    pub(crate) times: Q,
    pub(crate) place: Place,
}

impl Pair {
    /// The other of the two, where `rank` is one of them.
    pub(crate) fn partner_of(&self, rank: usize) -> Option<usize> {
        match rank {
            _ if rank == self.first => Some(self.second),
            _ if rank == self.second => Some(self.first),
            _ => None,
        }
    }
}

/// Every pair once, with the strictest of what is written.
pub(crate) fn pairs(order: &Order) -> Vec<Pair> {
    let mut pairs: Vec<Pair> = Vec::new();
    for (rank, ingredient) in order.ingredients.iter().enumerate() {
        for apart in &ingredient.apart {
            if apart.from == rank || apart.from >= order.ingredients.len() {
                continue;
            }
            pairs.push(Pair {
                first: rank.min(apart.from),
                second: rank.max(apart.from),
                times: apart.times.clone(),
                place: apart.place,
            });
        }
    }
    pairs.sort_by(|a, b| {
        (a.first, a.second)
            .cmp(&(b.first, b.second))
            .then_with(|| b.times.cmp(&a.times))
    });
    pairs.dedup_by_key(|pair| (pair.first, pair.second));
    pairs
}

/// Of which of a pair the dilution is asked: not of bulk.
pub(crate) fn is_asked(case: &Case, rank: usize) -> bool {
    case.class(rank) != Class::Bulk
}

/// What the draft does not keep apart.
pub(crate) fn judge(case: &Case, draft: &Draft) -> Vec<Finding> {
    let mut findings = Vec::new();
    for pair in &case.pairs {
        let Some(meeting) = draft.first_common(pair.first, pair.second) else {
            continue;
        };
        let missed = [(pair.first, pair.second), (pair.second, pair.first)]
            .into_iter()
            .filter(|(rank, _)| is_asked(case, *rank))
            .find_map(|(rank, other)| {
                let mass = draft.mass_of(rank);
                let output = draft.smallest_input_with(rank, meeting)?;
                let reached = output.over(&mass)?;
                (reached < pair.times).then_some((rank, other, reached))
            });
        if let Some((rank, other, reached)) = missed {
            findings.push(mix::apart(case, pair, rank, other, &reached));
        }
    }
    findings
}

//! The least of a sum over all ways to settle which shares are used.

use std::collections::BTreeSet;

use trug_model::Q;

use super::{Kept, Reached, Settled, Use};
use crate::programme::{Exclusion, Part, Programme};
use crate::solve::Watch;
use crate::solve::linear::Vertex;
use crate::solve::rows::is_kept;

/// What came of it.
#[derive(Clone, Debug)]
pub(crate) enum Least {
    /// A choice that nothing undercuts.
    Choice(Vec<Q>, Q),
    /// These parts together leave none.
    Nothing(BTreeSet<Part>),
    /// The work allowed did not suffice.
    Unsolved,
}

/// What is open about a choice: the two ways to settle it, and the exclusion that asks for it.
struct Branch {
    ways: [Vec<(usize, Use)>; 2],
    asked_by: Option<usize>,
}

/// The least of `costs · shares` over all choices that keep what is asked for.
pub(crate) fn least(programme: &Programme, costs: &[Q], kept: &Kept, watch: &Watch<'_>) -> Least {
    let mut best: Option<(Vec<Q>, Q)> = None;
    let mut reasons = BTreeSet::new();
    let mut open = vec![vec![Use::Open; programme.shares.len()]];
    while let Some(uses) = open.pop() {
        let mut settled = Settled::of(programme, costs, &uses, kept);
        let vertex = match settled.reach(None, watch) {
            Reached::Choice(vertex) => vertex,
            Reached::Empty(parts) => {
                reasons.extend(parts);
                continue;
            }
            Reached::Unsolved => return Least::Unsolved,
        };
        if best.as_ref().is_some_and(|(_, cost)| vertex.cost >= *cost) {
            continue;
        }
        let Some(branch) = branch(programme, kept, &uses, &vertex) else {
            best = Some((vertex.shares, vertex.cost));
            continue;
        };
        if !watch.node() {
            return Least::Unsolved;
        }
        reasons.extend(branch.asked_by.map(Part::Exclusion));
        for way in branch.ways {
            let mut settled = uses.clone();
            way.iter()
                .for_each(|(share, state)| settled[*share] = *state);
            open.push(settled);
        }
    }
    match best {
        Some((shares, cost)) => Least::Choice(shares, cost),
        None => Least::Nothing(reasons),
    }
}

/// What the choice leaves open, where it is a choice only for that.
fn branch(programme: &Programme, kept: &Kept, uses: &[Use], vertex: &Vertex) -> Option<Branch> {
    let is_used = |share: &usize| {
        vertex
            .shares
            .get(*share)
            .is_some_and(|used| !used.is_zero())
    };
    let bounds = programme.bounds.iter().zip(&kept.bounds);
    for bound in bounds.filter_map(|(bound, is_asked)| is_asked.then_some(bound)) {
        let Some(share) = bound.if_used else { continue };
        let is_open = uses.get(share) == Some(&Use::Open);
        if is_open && is_used(&share) && !is_kept(bound, &vertex.shares) {
            return Some(Branch {
                ways: [vec![(share, Use::LeftOut)], vec![(share, Use::Used)]],
                asked_by: None,
            });
        }
    }
    let exclusions = programme.exclusions.iter().zip(&kept.exclusions);
    for (rank, (Exclusion { one, other }, is_asked)) in exclusions.enumerate() {
        let is_broken = one.iter().any(is_used) && (other.is_empty() || other.iter().any(is_used));
        if *is_asked && is_broken {
            let out =
                |shares: &[usize]| shares.iter().map(|share| (*share, Use::LeftOut)).collect();
            let one_out = out(one);
            return Some(Branch {
                ways: [
                    if other.is_empty() {
                        out(one)
                    } else {
                        out(other)
                    },
                    one_out,
                ],
                asked_by: Some(rank),
            });
        }
    }
    None
}

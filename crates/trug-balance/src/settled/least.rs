//! The least of a sum over all ways to settle which shares are used: branch and bound (Land and Doig 1960).
//!
//! Machine numbers show the way; nothing is closed but by an exact proof.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

use trug_model::Q;

use super::{Kept, Reached, Settled, Use};
use crate::programme::{Exclusion, Part, Programme};
use crate::solve::Watch;
use crate::solve::linear::{Basis, cost_bound, proves_empty};
use crate::solve::quick::Quick;
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

/// What came of one way to settle things.
enum Leaf {
    Choice(Vec<Q>, Q),
    Dear,
    Empty(BTreeSet<Part>),
    Open(Branch, f64),
    Unsolved,
}

/// The cheapest first; of equals, the latest.
#[derive(Clone, Copy, Debug)]
struct Key(f64, usize);

impl Ord for Key {
    fn cmp(&self, other: &Key) -> Ordering {
        self.0.total_cmp(&other.0).then(other.1.cmp(&self.1))
    }
}

impl PartialOrd for Key {
    fn partial_cmp(&self, other: &Key) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Key {
    fn eq(&self, other: &Key) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Key {}

/// The least of `costs · shares` over all choices that keep what is asked for.
pub(crate) fn least(programme: &Programme, costs: &[Q], kept: &Kept, watch: &Watch<'_>) -> Least {
    let is_any_enough = costs.iter().all(Q::is_zero);
    let mut best: Option<(Vec<Q>, Q)> = None;
    let mut reasons = BTreeSet::new();
    let mut leaves = BTreeMap::new();
    leaves.insert(Key(0.0, 0), vec![Use::Open; programme.shares.len()]);
    let mut opened = 0;
    while let Some((_, uses)) = leaves.pop_first() {
        let settled = Settled::of(programme, costs, &uses, kept);
        let dearest = best.as_ref().map(|(_, cost)| cost);
        match leaf(settled, programme, kept, &uses, dearest, watch) {
            Leaf::Choice(shares, cost) => best = Some((shares, cost)),
            Leaf::Dear => {}
            Leaf::Empty(parts) => reasons.extend(parts),
            Leaf::Unsolved => return Least::Unsolved,
            Leaf::Open(branch, cost) => {
                if !watch.node() {
                    return Least::Unsolved;
                }
                reasons.extend(branch.asked_by.map(Part::Exclusion));
                for way in branch.ways {
                    let mut settled = uses.clone();
                    for (share, state) in way {
                        settled[share] = state;
                    }
                    opened += 1;
                    leaves.insert(Key(cost, opened), settled);
                }
            }
        }
        if is_any_enough && best.is_some() {
            break;
        }
    }
    match best {
        Some((shares, cost)) => Least::Choice(shares, cost),
        None => Least::Nothing(reasons),
    }
}

/// One way to settle things.
fn leaf(
    settled: Settled<'_>,
    programme: &Programme,
    kept: &Kept,
    uses: &[Use],
    dearest: Option<&Q>,
    watch: &Watch<'_>,
) -> Leaf {
    let open = |shares: &[Q]| branch(programme, kept, uses, shares);
    let mut start: Option<Basis> = None;
    let linear = &settled.linear;
    let is_range = |(low, high): &(Q, Q)| low <= high;
    if linear.ranges.iter().all(is_range)
        && let Some(near) = Quick::of(linear).solve(linear, None, watch)
    {
        let Some(vertex) = near.vertex else {
            if proves_empty(linear, &near.prices) {
                return Leaf::Empty(settled.reasons(&near.prices));
            }
            return exact(settled, &open, dearest, None, watch);
        };
        let is_dear = |dearest: &Q| {
            vertex.cost >= dearest.to_f64() - 1e-9 * vertex.cost.abs()
                && cost_bound(linear, &near.prices).is_some_and(|bound| bound >= *dearest)
        };
        if dearest.is_some_and(is_dear) {
            return Leaf::Dear;
        }
        let shares: Vec<Q> = vertex.shares.iter().map(|share| nearly(*share)).collect();
        if let Some(branch) = open(&shares) {
            return Leaf::Open(branch, vertex.cost);
        }
        start = Some(vertex.basis);
    }
    exact(settled, &open, dearest, start.as_ref(), watch)
}

fn exact(
    mut settled: Settled<'_>,
    open: &dyn Fn(&[Q]) -> Option<Branch>,
    dearest: Option<&Q>,
    start: Option<&Basis>,
    watch: &Watch<'_>,
) -> Leaf {
    match settled.reach(start, watch) {
        Reached::Choice(vertex) => {
            if dearest.is_some_and(|dearest| vertex.cost >= *dearest) {
                return Leaf::Dear;
            }
            match open(&vertex.shares) {
                Some(branch) => Leaf::Open(branch, vertex.cost.to_f64()),
                None => Leaf::Choice(vertex.shares, vertex.cost),
            }
        }
        Reached::Empty(parts) => Leaf::Empty(parts),
        Reached::Unsolved => Leaf::Unsolved,
    }
}

/// A machine number to twelve decimals; what is nothing there is nothing.
pub(crate) fn nearly(share: f64) -> Q {
    const MILLION_MILLION: f64 = 1e12;
    if share < 1e-9 {
        return Q::ZERO;
    }
    Q::of_parts((share * MILLION_MILLION).round() as i128, 1_000_000_000_000)
}

/// What the choice leaves open, where it is a choice only for that.
fn branch(programme: &Programme, kept: &Kept, uses: &[Use], shares: &[Q]) -> Option<Branch> {
    let is_used = |share: &usize| shares.get(*share).is_some_and(|used| !used.is_zero());
    let bounds = programme.bounds.iter().zip(&kept.bounds);
    for bound in bounds.filter_map(|(bound, is_asked)| is_asked.then_some(bound)) {
        let Some(share) = bound.if_used else { continue };
        let is_open = uses.get(share) == Some(&Use::Open);
        if is_open && is_used(&share) && !is_kept(bound, shares) {
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
            let out = |side: &[usize]| {
                let shares = side.iter().filter(|share| **share < uses.len());
                shares.map(|share| (*share, Use::LeftOut)).collect()
            };
            return Some(Branch {
                ways: [out(if other.is_empty() { one } else { other }), out(one)],
                asked_by: Some(rank),
            });
        }
    }
    None
}

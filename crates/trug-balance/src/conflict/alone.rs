//! One bound loosened, as little as will do.

use trug_model::Q;

use crate::programme::{Bound, End, Part, Programme, Relaxation, Sum};
use crate::settled::{Kept, Least, least};
use crate::solve::Watch;
use crate::solve::rows::is_kept;

/// Steps of Dinkelbach's method, each of which ends at another vertex; so many are never needed.
const STEPS: usize = 100;
/// Halvings of what a bound that scatters is loosened by.
const HALVINGS: usize = 40;
/// By which parts of itself a change may be larger, so that what scatters is kept with a little to spare.
pub(super) const ROOM: [i64; 4] = [1_000_000, 100_000, 10_000, 1_000];
/// Doublings of what a bound that scatters is loosened by, until it is enough.
const DOUBLINGS: usize = 60;

/// Each bound of a conflict that may be relaxed, loosened so far that there is a choice: the smallest relative change first. False
/// where the work allowed did not suffice for all of them.
pub(super) fn relaxations(
    programme: &Programme,
    parts: &[Part],
    watch: &Watch<'_>,
) -> (Vec<Relaxation>, bool) {
    let mut found = Vec::new();
    let mut are_all = true;
    for part in parts {
        let Part::Bound(rank) = *part else { continue };
        let bound = programme.bounds.get(rank);
        let Some(bound) = bound.filter(|bound| bound.may_be_relaxed) else {
            continue;
        };
        match loosened(programme, rank, bound, watch) {
            None => are_all = false,
            Some(None) => {}
            Some(Some(to)) => {
                let cost = cost_with(programme, &[(rank, to.clone())], watch);
                let change = relative_change(&bound.limit, &to);
                let bound = rank;
                found.push((change, Relaxation { bound, to, cost }));
            }
        }
    }
    found.sort_by(|(one, _), (other, _)| one.cmp(other));
    let found = found.into_iter().map(|(_, relaxation)| relaxation);
    (found.collect(), are_all)
}

/// By how much a limit changes as a part of itself; of zero, in units of its own.
pub(crate) fn relative_change(from: &Q, to: &Q) -> Q {
    let change = (to - from).abs();
    change.over(&from.abs()).unwrap_or(change)
}

/// What the cheapest choice costs with these limits instead; none where there is none or it was not found.
pub(super) fn cost_with(
    programme: &Programme,
    limits: &[(usize, Q)],
    watch: &Watch<'_>,
) -> Option<Q> {
    let loosened = with_limits(programme, limits);
    let costs: Vec<Q> = loosened
        .shares
        .iter()
        .map(|share| share.cost.clone())
        .collect();
    match least(&loosened, &costs, &Kept::all(&loosened), watch) {
        Least::Choice(_, cost) => Some(cost),
        Least::Nothing(_) | Least::Unsolved => None,
    }
}

fn with_limits(programme: &Programme, limits: &[(usize, Q)]) -> Programme {
    let mut loosened = programme.clone();
    for (rank, limit) in limits {
        if let Some(bound) = loosened.bounds.get_mut(*rank) {
            bound.limit = limit.clone();
        }
    }
    loosened
}

/// The limit nearest to the one asked for at which all else can be kept; an inner none where none is.
fn loosened(
    programme: &Programme,
    rank: usize,
    bound: &Bound,
    watch: &Watch<'_>,
) -> Option<Option<Q>> {
    let mut others = Kept::all(programme);
    others.set(Part::Bound(rank), false);
    if bound.reliance.is_some() {
        return with_scatter(programme, rank, bound, &others, watch);
    }
    let Some(reached) = furthest(programme, bound, &others, watch)? else {
        return Some(None);
    };
    if programme
        .bounds
        .iter()
        .all(|bound| bound.reliance.is_none())
    {
        return Some(Some(reached));
    }
    a_little_looser(programme, rank, bound, &reached, watch)
}

/// A limit as near to the one reached as other bounds that scatter let be told: they are kept with a little to spare, here more, there
/// less.
fn a_little_looser(
    programme: &Programme,
    rank: usize,
    bound: &Bound,
    reached: &Q,
    watch: &Watch<'_>,
) -> Option<Option<Q>> {
    let change = reached - &bound.limit;
    for part in ROOM {
        let limit = reached + &change * Q::ratio(1, part);
        if is_enough(programme, &[(rank, limit.clone())], watch)? {
            return Some(Some(limit));
        }
    }
    Some(None)
}

/// The greatest value of `above ÷ below` that a choice reaches, or the least, as the bound wants it (Dinkelbach 1967).
fn furthest(
    programme: &Programme,
    bound: &Bound,
    kept: &Kept,
    watch: &Watch<'_>,
) -> Option<Option<Q>> {
    let mut ratio = bound.limit.clone();
    for _ in 0..STEPS {
        // How far `above` is on the wrong side of `ratio · below`.
        let pairs = bound.above.weights.iter().zip(&bound.below.weights);
        let costs: Vec<Q> = pairs
            .map(|(above, below)| match bound.end {
                End::AtLeast => &ratio * below - above,
                End::AtMost => above - &ratio * below,
            })
            .collect();
        let shares = match least(programme, &costs, kept, watch) {
            Least::Choice(shares, _) => shares,
            Least::Nothing(_) => return Some(None),
            Least::Unsolved => return None,
        };
        let below = value(&bound.below, &shares);
        if !below.is_positive() {
            return Some(None);
        }
        let reached = value(&bound.above, &shares) / below;
        if reached == ratio {
            return Some(Some(ratio));
        }
        ratio = reached;
    }
    None
}

/// The value of a sum.
pub(super) fn value(sum: &Sum, shares: &[Q]) -> Q {
    let parts = sum.weights.iter().zip(shares);
    parts.map(|(weight, share)| weight * share).sum::<Q>() + &sum.constant
}

/// The same for a bound that scatters, within a thousand-millionth: no ratio of sums says how far it is kept.
fn with_scatter(
    programme: &Programme,
    rank: usize,
    bound: &Bound,
    others: &Kept,
    watch: &Watch<'_>,
) -> Option<Option<Q>> {
    let without_margin = Bound {
        reliance: None,
        ..bound.clone()
    };
    // A choice reaches no further than this, and mostly less.
    let Some(bright) = furthest(programme, &without_margin, others, watch)? else {
        return Some(None);
    };
    let is_looser = |limit: &Q| match bound.end {
        End::AtLeast => *limit < bound.limit,
        End::AtMost => *limit > bound.limit,
    };
    let mut tight = if is_looser(&bright) {
        bright
    } else {
        bound.limit.clone()
    };
    let Some(mut loose) = loose_enough(programme, rank, bound, &tight, watch)? else {
        return Some(None);
    };
    for _ in 0..HALVINGS {
        let between = (&tight + &loose) / Q::int(2);
        let between = between.round_to(&fineness(&(&tight - &loose).abs()));
        if between == tight || between == loose {
            break;
        }
        if is_enough(programme, &[(rank, between.clone())], watch)? {
            loose = between;
        } else {
            tight = between;
        }
        if (&tight - &loose).abs()
            <= loose.abs().max(bound.limit.abs()) * Q::ratio(1, 1_000_000_000)
        {
            break;
        }
    }
    Some(Some(loose))
}

/// A power of ten, a thousandth of `width` or less.
fn fineness(width: &Q) -> Q {
    let mut unit = Q::ONE;
    for _ in 0..60 {
        if unit <= width / Q::int(1000) {
            break;
        }
        unit = unit / Q::int(10);
    }
    unit
}

fn loose_enough(
    programme: &Programme,
    rank: usize,
    bound: &Bound,
    from: &Q,
    watch: &Watch<'_>,
) -> Option<Option<Q>> {
    let size = bound.limit.abs().max((from - &bound.limit).abs());
    let mut change = if size.is_zero() {
        Q::ratio(1, 100)
    } else {
        size / Q::int(100)
    };
    for _ in 0..DOUBLINGS {
        let limit = match bound.end {
            End::AtLeast => from - &change,
            End::AtMost => from + &change,
        };
        if is_enough(programme, &[(rank, limit.clone())], watch)? {
            return Some(Some(limit));
        }
        change = change * Q::int(2);
    }
    Some(None)
}

/// Whether there is a choice with these limits; none where the work allowed did not suffice.
pub(super) fn is_enough(
    programme: &Programme,
    limits: &[(usize, Q)],
    watch: &Watch<'_>,
) -> Option<bool> {
    let loosened = with_limits(programme, limits);
    let costs = vec![Q::ZERO; programme.shares.len()];
    match least(&loosened, &costs, &Kept::all(&loosened), watch) {
        Least::Choice(shares, _) => {
            debug_assert!(
                loosened
                    .bounds
                    .iter()
                    .all(|bound| bound.if_used.is_some() || is_kept(bound, &shares))
            );
            Some(true)
        }
        Least::Nothing(_) => Some(false),
        Least::Unsolved => None,
    }
}

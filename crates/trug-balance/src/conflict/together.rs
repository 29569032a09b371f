//! Bounds loosened together, where none suffices alone: the least sum of relative changes.

use trug_model::Q;

use super::alone::{ROOM, cost_with, is_enough, relative_change, value};
use crate::programme::{Bound, End, Programme, Relaxation, Share, Sum};
use crate::settled::{Kept, Least, least};
use crate::solve::Watch;
use crate::solve::rows::{is_kept, row_of};

/// Rounds in which what ratios are divided by is taken from the choice before.
const ROUNDS: usize = 6;

/// What was added to a bound so that it can give way.
struct Slack {
    bound: usize,
    /// How much of `above` one whole of the added share makes up for.
    scale: Q,
}

/// The bounds to loosen together, the smallest relative change first; none where even that does not suffice.
///
/// What a ratio gives way by is first counted in its sum at an even blend, then at the choice found, as long as that gets better.
pub(super) fn relaxations(programme: &Programme, watch: &Watch<'_>) -> Option<Vec<Relaxation>> {
    let slacks = slacks(programme);
    let given_way = with_slacks(programme, &slacks);
    let mut kept = Kept::all(&given_way);
    kept.total = false;
    let mut at = even_blend(programme);
    let mut best: Option<(Q, Vec<(usize, Q)>)> = None;
    for _ in 0..ROUNDS {
        let costs = costs(programme, &slacks, &at);
        let Least::Choice(shares, _) = least(&given_way, &costs, &kept, watch) else {
            break;
        };
        at = shares.into_iter().take(programme.shares.len()).collect();
        let limits = limits(programme, &slacks, &at);
        let changes = limits.iter().filter_map(|(rank, to)| {
            Some(relative_change(&programme.bounds.get(*rank)?.limit, to))
        });
        let sum: Q = changes.sum();
        if best.as_ref().is_some_and(|(least, _)| sum >= *least) {
            break;
        }
        best = Some((sum, limits));
    }
    let (_, limits) = best?;
    let limits = enough(programme, limits, watch)?;
    let cost = cost_with(programme, &limits, watch)?;
    let mut relaxations: Vec<Relaxation> = limits
        .into_iter()
        .map(|(bound, to)| Relaxation {
            bound,
            to,
            cost: Some(cost.clone()),
        })
        .collect();
    relaxations.sort_by_key(|relaxation| {
        let from = programme
            .bounds
            .get(relaxation.bound)
            .map(|bound| &bound.limit);
        from.map(|from| relative_change(from, &relaxation.to))
    });
    Some(relaxations)
}

/// The limits, a little looser where something scatters, with which there is a choice.
fn enough(
    programme: &Programme,
    limits: Vec<(usize, Q)>,
    watch: &Watch<'_>,
) -> Option<Vec<(usize, Q)>> {
    if programme
        .bounds
        .iter()
        .all(|bound| bound.reliance.is_none())
    {
        return is_enough(programme, &limits, watch)?.then_some(limits);
    }
    let looser = |part: i64| -> Vec<(usize, Q)> {
        let with_room = limits.iter().filter_map(|(rank, to)| {
            let change = to - &programme.bounds.get(*rank)?.limit;
            Some((*rank, to + change * Q::ratio(1, part)))
        });
        with_room.collect()
    };
    for part in ROOM {
        let limits = looser(part);
        if is_enough(programme, &limits, watch)? {
            return Some(limits);
        }
    }
    None
}

fn slacks(programme: &Programme) -> Vec<Slack> {
    let bounds = programme.bounds.iter().enumerate();
    let relaxed = bounds.filter(|(_, bound)| bound.may_be_relaxed);
    let slack = |(bound, asked): (usize, &Bound)| {
        let row = row_of(asked);
        let weights = row.weights.iter().map(Q::abs).fold(Q::ZERO, Q::max);
        let scatter = asked.above.variances.iter().chain(&asked.below.variances);
        let scatter = scatter.fold(asked.above.constant_variance.clone(), |most, variance| {
            most.max(variance.clone())
        });
        let reliance = asked.reliance.as_ref().map_or(Q::ZERO, Q::abs);
        let count = Q::int(i64::try_from(row.weights.len() + 1).unwrap_or(i64::MAX));
        // More than any choice can lack.
        let margin = reliance * (Q::ONE + scatter) * (Q::ONE + asked.limit.abs()) * count;
        let scale = row.at_least.abs() + weights * &programme.total + margin;
        Slack { bound, scale }
    };
    relaxed
        .map(slack)
        .filter(|slack| slack.scale.is_positive())
        .collect()
}

/// The programme with one more share for each bound that can give way, and its total as two bounds.
fn with_slacks(programme: &Programme, slacks: &[Slack]) -> Programme {
    let count = programme.shares.len();
    let width = count + slacks.len();
    let mut given_way = programme.clone();
    given_way.total = programme.total.clone().max(Q::ONE);
    given_way.shares.resize(
        width,
        Share {
            cost: Q::ZERO,
            or_none: false,
            now: None,
            is_rest: false,
        },
    );
    for bound in &mut given_way.bounds {
        for sum in [&mut bound.above, &mut bound.below] {
            sum.weights.resize(width, Q::ZERO);
            sum.variances.resize(width, Q::ZERO);
        }
    }
    for (place, slack) in slacks.iter().enumerate() {
        if let Some(bound) = given_way.bounds.get_mut(slack.bound) {
            bound.above.weights[count + place] = match bound.end {
                End::AtLeast => slack.scale.clone(),
                End::AtMost => -&slack.scale,
            };
        }
    }
    let total = |end: End| Bound {
        above: plain(
            (0..width)
                .map(|rank| if rank < count { Q::ONE } else { Q::ZERO })
                .collect(),
            Q::ZERO,
        ),
        below: plain(vec![Q::ZERO; width], Q::ONE),
        limit: programme.total.clone(),
        end,
        may_be_relaxed: false,
        if_used: None,
        reliance: None,
    };
    given_way
        .bounds
        .extend([total(End::AtLeast), total(End::AtMost)]);
    given_way
}

fn plain(weights: Vec<Q>, constant: Q) -> Sum {
    Sum {
        variances: vec![Q::ZERO; weights.len()],
        constant_variance: Q::ZERO,
        weights,
        constant,
    }
}

fn even_blend(programme: &Programme) -> Vec<Q> {
    let count = i64::try_from(programme.shares.len()).unwrap_or(i64::MAX);
    let each = programme.total.over(&Q::int(count)).unwrap_or(Q::ZERO);
    vec![each; programme.shares.len()]
}

/// What giving way costs: the relative change of the limit, where `below` is as it is at `at`.
fn costs(programme: &Programme, slacks: &[Slack], at: &[Q]) -> Vec<Q> {
    let mut costs = vec![Q::ZERO; programme.shares.len()];
    costs.extend(slacks.iter().map(|slack| {
        let Some(bound) = programme.bounds.get(slack.bound) else {
            return Q::ONE;
        };
        let below = value(&bound.below, at);
        let change = slack
            .scale
            .over(&below)
            .unwrap_or_else(|| slack.scale.clone())
            .abs();
        change.over(&bound.limit.abs()).unwrap_or(change)
    }));
    costs
}

/// The limits that the bounds which give way at a choice need.
fn limits(programme: &Programme, slacks: &[Slack], at: &[Q]) -> Vec<(usize, Q)> {
    let needed = |slack: &Slack| {
        let bound = programme.bounds.get(slack.bound)?;
        let is_idle = bound
            .if_used
            .is_some_and(|share| at.get(share).is_some_and(Q::is_zero));
        if is_idle || is_kept(bound, at) {
            return None;
        }
        Some((slack.bound, limit_at(bound, at)?))
    };
    slacks.iter().filter_map(needed).collect()
}

/// The limit that a choice just keeps; with scatter, one that it keeps within a thousand-millionth.
fn limit_at(bound: &Bound, at: &[Q]) -> Option<Q> {
    let reached = value(&bound.above, at).over(&value(&bound.below, at))?;
    if bound.reliance.is_none() {
        return Some(reached);
    }
    let with = |limit: &Q| Bound {
        limit: limit.clone(),
        ..bound.clone()
    };
    let away = |change: &Q| match bound.end {
        End::AtLeast => &reached - change,
        End::AtMost => &reached + change,
    };
    let mut enough = reached
        .abs()
        .max(bound.limit.abs())
        .max(Q::ratio(1, 1_000_000));
    let mut doublings = 0;
    while !is_kept(&with(&away(&enough)), at) {
        enough = enough * Q::int(2);
        doublings += 1;
        if doublings > 60 {
            return None;
        }
    }
    let mut too_little = Q::ZERO;
    for _ in 0..50 {
        let between = (&too_little + &enough) / Q::int(2);
        if is_kept(&with(&away(&between)), at) {
            enough = between;
        } else {
            too_little = between;
        }
    }
    // Planes keep a little to spare: so does this.
    Some(away(&(enough * Q::ratio(1_000_001, 1_000_000))))
}

//! Of equally cheap choices with different shares used, the one to be taken: the same search, for the least distance to what is written
//! now, then for the largest earlier shares, with the cost held where it is.

use trug_model::Q;

use super::branch::{Search, search};
use super::question::Question;
use super::watch::Watch;

/// None where the first is as good as any, or the work allowed ends.
pub(super) fn chosen(
    question: &Question,
    cost: &Q,
    now: &[Option<Q>],
    watch: &Watch,
) -> Option<Vec<Q>> {
    let count = question.programme.shares.len();
    let mut held = question.clone();
    held.add_floor(held.costs.iter().map(|cost| -cost).collect(), -cost);
    let mut shares = None;
    if now.iter().any(Option::is_some) {
        held.add_distances(now);
        let distances: Vec<Q> = (0..held.costs.len())
            .map(|rank| if rank < count { Q::ZERO } else { Q::ONE })
            .collect();
        let (nearest, distance, is_only) = least(&mut held, distances.clone(), watch)?;
        shares = Some(nearest);
        if is_only && distance.is_zero() {
            return shares;
        }
        held.add_floor(distances.iter().map(|weight| -weight).collect(), -distance);
    }
    for share in 0..count {
        let largest: Vec<Q> = (0..held.costs.len())
            .map(|rank| if rank == share { Q::int(-1) } else { Q::ZERO })
            .collect();
        let Some((with_largest, least, _)) = least(&mut held, largest.clone(), watch) else {
            break;
        };
        shares = Some(with_largest);
        held.add_floor(largest.iter().map(|weight| -weight).collect(), -least);
    }
    shares.map(|mut shares| {
        shares.truncate(count);
        shares
    })
}

/// The choice of least `costs`, what it costs, and whether no other pattern may be as good.
fn least(held: &mut Question, costs: Vec<Q>, watch: &Watch) -> Option<(Vec<Q>, Q, bool)> {
    held.costs = costs;
    let root = held.open_pattern();
    let Search {
        best,
        is_complete,
        may_be_tied,
        ..
    } = search(held, root, watch);
    let vertex = best.filter(|_| is_complete)?.vertex;
    Some((vertex.shares, vertex.cost, !may_be_tied))
}

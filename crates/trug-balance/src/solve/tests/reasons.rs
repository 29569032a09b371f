//! Prices, ranges of costs and the choice among ties, against solving again with a little changed.

use trug_model::Q;

use super::blends::{at_least_where_used, bound, programme, sum, with_patterns};
use super::{Cheapest, Found, cheapest};
use crate::programme::{End, Programme};
use crate::solve::linear::dot;
use crate::solve::watch::Watch;

fn found(programme: &Programme) -> Option<Found> {
    match cheapest(programme, &Watch::usual(&|| false)) {
        Cheapest::Found(found) => Some(found),
        Cheapest::Nothing => None,
        Cheapest::Unanswered(why) => panic!("{why}"),
    }
}

fn little() -> Q {
    Q::ratio(1, 1_000_000_000)
}

/// The least cost, with the cost of one share changed; and what the choice then costs.
fn at_cost(programme: &Programme, found: &Found, share: usize, cost: Q) -> (Q, Q) {
    let mut changed = programme.clone();
    changed.shares[share].cost = cost;
    let costs: Vec<Q> = changed
        .shares
        .iter()
        .map(|share| share.cost.clone())
        .collect();
    (
        self::found(&changed).unwrap().cost,
        dot(&costs, &found.shares),
    )
}

#[test]
fn a_price_is_what_a_tighter_limit_costs() {
    let mut priced = 0;
    for seed in 0..80 {
        let programme = programme(seed, 3 + seed as usize % 8, 1 + seed as usize % 7);
        let Some(choice) = found(&programme) else {
            continue;
        };
        for (rank, standing) in choice.bounds.iter().enumerate() {
            let mut tighter = programme.clone();
            let limit = &mut tighter.bounds[rank].limit;
            *limit = match programme.bounds[rank].end {
                End::AtLeast => &*limit + little(),
                End::AtMost => &*limit - little(),
            };
            if let Some(then) = found(&tighter) {
                assert_eq!(
                    then.cost - &choice.cost,
                    &standing.price * little(),
                    "seed {seed}, bound {rank}"
                );
            }
            assert!(
                standing.is_binding || standing.price.is_zero(),
                "seed {seed}, bound {rank}"
            );
            priced += usize::from(standing.price.is_positive());
        }
    }
    assert!(priced > 100, "{priced}");
}

fn check_costs(seed: u64, programme: &Programme) -> usize {
    let Some(choice) = found(programme) else {
        return 0;
    };
    let mut ends = 0;
    for (share, range) in choice.costs.iter().enumerate() {
        let own = &programme.shares[share].cost;
        let with = |cost: Q| at_cost(programme, &choice, share, cost);
        if let Some(low) = &range.low {
            assert!(low <= own);
            let (least, ours) = with(low.clone());
            assert_eq!(least, ours, "seed {seed}, share {share} at its low");
            let (least, ours) = with(low - little());
            assert!(least < ours, "seed {seed}, share {share} below its low");
            ends += 1;
        } else {
            let (least, ours) = with(own - Q::int(1_000_000));
            assert_eq!(least, ours, "seed {seed}, share {share} far below");
        }
        if let Some(high) = &range.high {
            assert!(high >= own);
            let (least, ours) = with(high.clone());
            assert_eq!(least, ours, "seed {seed}, share {share} at its high");
            let (least, ours) = with(high + little());
            assert!(least < ours, "seed {seed}, share {share} above its high");
            ends += 1;
        } else {
            let (least, ours) = with(own + Q::int(1_000_000));
            assert_eq!(least, ours, "seed {seed}, share {share} far above");
        }
        let expected = if choice.used[share] {
            &None
        } else {
            &range.low
        };
        assert_eq!(&range.enters_below, expected);
    }
    ends
}

#[test]
fn a_choice_stays_between_its_costs_and_no_longer() {
    let ends: usize = (0..60)
        .map(|seed| {
            check_costs(
                seed,
                &programme(seed, 3 + seed as usize % 6, 1 + seed as usize % 5),
            )
        })
        .sum();
    assert!(ends > 100, "{ends}");
}

#[test]
fn with_or_none_too() {
    let ends: usize = (0..25)
        .map(|seed| {
            let count = 4 + seed as usize % 4;
            check_costs(seed, &with_patterns(seed, count, 1 + seed as usize % 4, 3))
        })
        .sum();
    assert!(ends > 60, "{ends}");
}

#[test]
fn degenerate_vertices_too() {
    let ends: usize = (0..25)
        .map(|seed| {
            let mut programme = programme(seed, 5, 3);
            // Bounds that meet at the choice: any one of them said again, and one through it.
            if let Some(choice) = found(&programme) {
                let weights: Vec<Q> = (1..6).map(|rank| Q::ratio(rank * rank % 7, 10)).collect();
                let value = dot(&weights, &choice.shares);
                programme
                    .bounds
                    .push(bound(sum(weights), End::AtLeast, value));
                let again = programme.bounds.iter().rev().nth(1).cloned().unwrap();
                programme.bounds.push(again);
            }
            check_costs(seed, &programme)
        })
        .sum();
    assert!(ends > 60, "{ends}");
}

/// Shares of the same cost, and nothing asked.
fn all_alike(count: usize) -> Programme {
    let mut programme = programme(1, count, 0);
    programme.bounds.clear();
    programme
        .shares
        .iter_mut()
        .for_each(|share| share.cost = Q::ONE);
    programme
}

#[test]
fn of_equally_cheap_choices_the_nearest_to_now_is_taken() {
    let mut programme = all_alike(4);
    let now = [
        Q::ratio(1, 10),
        Q::ratio(2, 10),
        Q::ratio(3, 10),
        Q::ratio(4, 10),
    ];
    for (share, now) in programme.shares.iter_mut().zip(&now) {
        share.now = Some(now.clone());
    }
    assert_eq!(found(&programme).unwrap().shares, now);
    programme.shares[3].now = None;
    programme.shares[3].cost = Q::int(2);
    let shares = found(&programme).unwrap().shares;
    // The last must leave 0.4 to the others: 0.4 away from now however it is spread, so the first takes it.
    assert_eq!(
        shares,
        [Q::ratio(5, 10), Q::ratio(2, 10), Q::ratio(3, 10), Q::ZERO]
    );
}

#[test]
fn then_earlier_shares_are_larger() {
    let mut programme = all_alike(3);
    assert_eq!(
        found(&programme).unwrap().shares,
        [Q::ONE, Q::ZERO, Q::ZERO]
    );
    for (share, most) in [(0, 3), (1, 4)] {
        let mut weights = vec![Q::ZERO; 3];
        weights[share] = Q::ONE;
        programme
            .bounds
            .push(bound(sum(weights), End::AtMost, Q::ratio(most, 10)));
    }
    let shares = found(&programme).unwrap().shares;
    assert_eq!(shares, [Q::ratio(3, 10), Q::ratio(4, 10), Q::ratio(3, 10)]);
}

#[test]
fn ties_reach_over_patterns() {
    // Any one alone: two of them would be 60 % each.
    let mut programme = all_alike(3);
    for share in 0..3 {
        programme.shares[share].or_none = true;
        programme
            .bounds
            .push(at_least_where_used(3, share, Q::ratio(6, 10)));
    }
    assert_eq!(
        found(&programme).unwrap().shares,
        [Q::ONE, Q::ZERO, Q::ZERO]
    );
    programme.shares[2].now = Some(Q::ratio(9, 10));
    assert_eq!(
        found(&programme).unwrap().shares,
        [Q::ZERO, Q::ZERO, Q::ONE]
    );
    programme.shares[2].now = None;
    programme.shares[1].now = Some(Q::ratio(2, 10));
    // As far from 0.2: the first, with nothing of it.
    assert_eq!(
        found(&programme).unwrap().shares,
        [Q::ONE, Q::ZERO, Q::ZERO]
    );
}

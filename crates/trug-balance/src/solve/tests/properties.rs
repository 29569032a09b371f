//! What must hold of any question: the answer is proved, and does not depend on units or on the order of the bounds.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_model::Q;

use super::blends::{bound, sum, with_patterns};
use super::certainty::by_clarabel;
use super::patterns::by_enumeration;
use super::{Cheapest, Found, cheapest};
use crate::programme::{End, Exclusion, Programme, Share};
use crate::solve::question::Question;
use crate::solve::watch::Watch;

fn found(programme: &Programme) -> Option<Found> {
    match cheapest(programme, &Watch::usual(&|| false)) {
        Cheapest::Found(found) => Some(found),
        Cheapest::Nothing => None,
        Cheapest::Unanswered(why) => panic!("{why}"),
    }
}

fn ten_to(power: i32) -> Q {
    let size = Q::int(10_i64.pow(power.unsigned_abs()));
    if power < 0 { Q::ONE / size } else { size }
}

/// Few values, so that ties and vertices of many bounds are common; some negative, as in a balance of charges.
fn content() -> impl Strategy<Value = Q> {
    prop_oneof![
        2 => Just(Q::ZERO),
        4 => (0_i64..6).prop_map(|value| Q::ratio(value, 10)),
        1 => (-300_i64..300).prop_map(|value| Q::ratio(value, 1000)),
    ]
}

fn limited(count: usize) -> impl Strategy<Value = (Vec<Q>, bool, Q)> {
    let limit = (-1_i64..7).prop_map(|value| Q::ratio(value, 10));
    (
        prop::collection::vec(content(), count),
        any::<bool>(),
        limit,
    )
}

/// Some shares, each with a cost and perhaps what is written now, some of them `or none` of at least a fifth.
fn question() -> impl Strategy<Value = Programme> {
    let share = (
        1_i64..5,
        prop::option::of(0_i64..5),
        prop::bool::weighted(0.3),
    );
    let shares = prop::collection::vec(share, 1..6);
    let whole = shares.prop_flat_map(|shares| {
        let count = shares.len();
        let pair = prop::option::weighted(0.3, (0..count, 0..count));
        (
            Just(shares),
            prop::collection::vec(limited(count), 0..5),
            pair,
        )
    });
    whole.prop_map(|(shares, bounds, pair)| {
        let count = shares.len();
        let mut programme = with_patterns(0, count, 0, 0);
        programme.exclusions.clear();
        programme.bounds.clear();
        for (share, (cost, now, or_none)) in shares.into_iter().enumerate() {
            programme.shares[share] = Share {
                cost: Q::ratio(cost, 10),
                or_none,
                now: now.map(|now| Q::ratio(now, 4)),
                is_rest: false,
            };
            if or_none {
                let least = super::blends::at_least_where_used(count, share, Q::ratio(1, 5));
                programme.bounds.push(least);
            }
        }
        programme
            .exclusions
            .extend(pair.map(|(one, other)| Exclusion {
                one: vec![one],
                other: vec![other],
            }));
        for (weights, is_at_least, limit) in bounds {
            let end = if is_at_least {
                End::AtLeast
            } else {
                End::AtMost
            };
            programme.bounds.push(bound(sum(weights), end, limit));
        }
        programme
    })
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 500,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    })]

    #[test]
    fn an_answer_is_proved_and_another_solver_agrees(programme in question()) {
        let costs: Vec<Q> = programme.shares.iter().map(|share| share.cost.clone()).collect();
        let other = by_enumeration(&programme, &costs);
        let found = found(&programme);
        prop_assert_eq!(found.is_some(), other.is_some());
        if let (Some(found), Some(other)) = (found, other) {
            prop_assert!(Question::of(&programme).keeps_all(&found.shares));
            prop_assert_eq!(&found.cost, &found.cost_bound);
            prop_assert!((found.cost.to_f64() - other).abs() <= 1e-9 * other.abs().max(1e-3));
        }
    }

    #[test]
    fn units_change_nothing(programme in question(), powers in prop::collection::vec(-7_i32..8, 12)) {
        let mut in_other_units = programme.clone();
        for (bound, power) in in_other_units.bounds.iter_mut().zip(&powers) {
            bound.limit = &bound.limit * ten_to(*power);
            for weight in &mut bound.above.weights {
                *weight = &*weight * ten_to(*power);
            }
        }
        for share in &mut in_other_units.shares {
            share.cost = &share.cost * ten_to(powers[11]);
        }
        let (one, other) = (found(&programme), found(&in_other_units));
        prop_assert_eq!(one.is_some(), other.is_some());
        if let (Some(one), Some(other)) = (one, other) {
            prop_assert_eq!(one.shares, other.shares);
            let priced = one.bounds.iter().zip(&other.bounds).zip(&powers);
            for ((one, other), power) in priced {
                prop_assert_eq!(one.is_binding, other.is_binding);
                prop_assert_eq!(&one.price * ten_to(powers[11]), &other.price * ten_to(*power));
            }
            for (one, other) in one.costs.iter().zip(&other.costs) {
                let scaled = |end: &Option<Q>| end.as_ref().map(|end| end * ten_to(powers[11]));
                prop_assert_eq!(scaled(&one.low), other.low.clone());
                prop_assert_eq!(scaled(&one.high), other.high.clone());
                prop_assert_eq!(scaled(&one.enters_below), other.enters_below.clone());
            }
        }
    }

    #[test]
    fn the_order_of_bounds_changes_nothing(programme in question(), turn in 0_usize..8) {
        let mut turned = programme.clone();
        let by = turn % turned.bounds.len().max(1);
        turned.bounds.rotate_left(by);
        turned.bounds.reverse();
        let (one, other) = (found(&programme), found(&turned));
        prop_assert_eq!(one.map(|found| found.shares), other.map(|found| found.shares));
    }
}

#[test]
fn a_cone_solver_agrees_on_plain_blends() {
    let mut both = 0;
    for seed in 2000..2200 {
        let programme =
            super::blends::programme(seed, 3 + seed as usize % 12, 1 + seed as usize % 10);
        let other = by_clarabel(&programme);
        if let Some(found) = found(&programme) {
            let cost = found.cost.to_f64();
            assert!(
                (cost - other.unwrap()).abs() <= 1e-7 * cost,
                "seed {seed}: {cost} {other:?}"
            );
            both += 1;
        } else {
            assert_eq!(other, None, "seed {seed}");
        }
    }
    assert!(both > 100, "{both}");
}

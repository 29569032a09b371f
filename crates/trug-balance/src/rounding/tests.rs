//! Rounding against what must hold of it, and against trying all of a neighbourhood.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use proptest::prelude::*;
use trug_model::Q;

use super::{Optimum, Rounded, UNROUNDED, cost_of, is_within_tolerance, rounded};
use crate::made_up::{Traits, bound, made_up, programme, q};
use crate::programme::{End, Programme};
use crate::settled::{Kept, Least, least};
use crate::solve::Watch;
use crate::solve::rows::is_kept;

fn optimum(programme: &Programme) -> Option<Vec<Q>> {
    let costs: Vec<Q> = programme
        .shares
        .iter()
        .map(|share| share.cost.clone())
        .collect();
    match least(
        programme,
        &costs,
        &Kept::all(programme),
        &Watch::usual(&|| false),
    ) {
        Least::Choice(shares, _) => Some(shares),
        Least::Nothing(_) => None,
        Least::Unsolved => panic!("the work allowed suffices"),
    }
}

fn round(programme: &Programme) -> Option<(Vec<Q>, Rounded)> {
    let optimum = optimum(programme)?;
    let rounded = rounded(
        programme,
        Optimum {
            shares: &optimum,
            is_only: false,
        },
        &cost_of(programme, &optimum),
        &Watch::usual(&|| false),
    );
    Some((optimum, rounded))
}

fn keeps_all(programme: &Programme, shares: &[Q]) -> bool {
    let used = |share: &usize| shares[*share].is_positive();
    shares.iter().sum::<Q>() == programme.total
        && shares.iter().all(|share| !share.is_negative())
        && programme
            .bounds
            .iter()
            .all(|bound| bound.if_used.is_some_and(|share| !used(&share)) || is_kept(bound, shares))
        && programme
            .exclusions
            .iter()
            .all(|exclusion| !exclusion.one.iter().any(used) || !exclusion.other.iter().any(used))
}

fn decimals(programme: &Programme, shares: &[Q]) -> usize {
    let pairs = programme.shares.iter().zip(shares);
    let stepped = pairs.filter(|(share, _)| !share.is_rest);
    let count = |amount: &Q| {
        (0..20)
            .find(|power| (amount * Q::of_parts(10_i128.pow(*power as u32), 1)).is_whole())
            .unwrap_or(99)
    };
    stepped.map(|(_, amount)| count(amount)).max().unwrap_or(0)
}

#[test]
fn a_third_is_rounded_to_the_safe_side() {
    // Protein of maize 8 % and soya 44 %, at least 20 %: a third of soya, rounded up.
    let mut mash = programme(
        &["92", "185"],
        vec![bound(&["0.08", "0.44"], End::AtLeast, "0.2")],
    );
    mash.shares[0].is_rest = true;
    let (optimum, rounded) = round(&mash).unwrap();
    assert_eq!(optimum, [q("2/3"), q("1/3")]);
    assert_eq!(rounded.shares, [q("0.6666"), q("0.3334")]);
    assert_eq!(rounded.unproved, None);
}

#[test]
fn finer_decimals_where_the_gap_asks_for_them() {
    // A hundredth of a percent of something that costs 9000 is 0.9 of 100 or so: too much.
    let mut mash = programme(
        &["10", "9000"],
        vec![bound(&["0", "0.3"], End::AtLeast, "0.001")],
    );
    mash.shares[0].is_rest = true;
    let (optimum, rounded) = round(&mash).unwrap();
    assert_eq!(optimum[1], q("1/300"));
    assert_eq!(rounded.shares[1], q("0.0033334"));
    assert_eq!(rounded.unproved, None);
    assert!(is_within_tolerance(
        &mash,
        &cost_of(&mash, &rounded.shares),
        &cost_of(&mash, &optimum)
    ));
}

#[test]
fn what_is_fixed_counts_in_the_cost() {
    let mut mash = programme(
        &["10", "9000"],
        vec![bound(&["0", "0.3"], End::AtLeast, "0.001")],
    );
    mash.shares[0].is_rest = true;
    mash.fixed_cost = Q::int(100_000);
    let (_, rounded) = round(&mash).unwrap();
    assert_eq!(rounded.shares[1], q("0.0034"));
}

#[test]
fn where_no_decimals_will_do_nothing_is_rounded() {
    let third = ["at least", "at most"].map(|side| {
        let end = if side == "at least" {
            End::AtLeast
        } else {
            End::AtMost
        };
        bound(&["0", "3"], end, "1")
    });
    let mash = programme(&["10", "20"], third.to_vec());
    let (optimum, rounded) = round(&mash).unwrap();
    assert_eq!(rounded.shares, optimum);
    assert_eq!(rounded.unproved.as_deref(), Some(UNROUNDED));
}

#[test]
fn one_exact_content_still_has_decimals() {
    // Exactly 17 % of protein from 8, 44 and 14 %: many blends in steps have it, the cheapest vertex does not.
    let exact =
        [End::AtLeast, End::AtMost].map(|end| bound(&["0.08", "0.44", "0.14"], end, "0.17"));
    let mut bounds = exact.to_vec();
    bounds.push(bound(&["0.02", "0.07", "0.31"], End::AtMost, "0.1"));
    let mut mash = programme(&["92", "185", "60"], bounds);
    mash.shares[0].is_rest = true;
    let (_, rounded) = round(&mash).unwrap();
    assert_eq!(rounded.unproved, None);
    assert!(keeps_all(&mash, &rounded.shares));
    assert_eq!(rounded.shares[1..], [q("0.21006"), q("0.23964")]);
}

#[test]
fn exact_contents_of_many_digits_still_have_decimals() {
    // Two contents that must be just so, of many digits: whichever steps have them lie far apart.
    let mut bounds = Vec::new();
    for end in [End::AtLeast, End::AtMost] {
        bounds.push(bound(
            &["0.0813", "0.4427", "0.1436", "0.6191", "0.3307"],
            end,
            "0.2",
        ));
        bounds.push(bound(
            &["0.0003", "0.0031", "0.0012", "0.0471", "0.0011"],
            end,
            "0.005",
        ));
    }
    bounds.push(bound(
        &["0.021", "0.067", "0.113", "0.007", "0.19"],
        End::AtMost,
        "0.07",
    ));
    let mut mash = programme(&["92", "185", "60", "410", "150"], bounds);
    mash.shares[0].is_rest = true;
    let (optimum, rounded) = round(&mash).unwrap();
    assert_eq!(rounded.unproved, None);
    assert!(keeps_all(&mash, &rounded.shares));
    assert!(is_within_tolerance(
        &mash,
        &cost_of(&mash, &rounded.shares),
        &cost_of(&mash, &optimum)
    ));
    // Without a rest, too.
    mash.shares[0].is_rest = false;
    let (_, rounded) = round(&mash).unwrap();
    assert_eq!(rounded.unproved, None);
    assert!(keeps_all(&mash, &rounded.shares));
}

#[test]
fn equally_cheap_amounts_stay() {
    let mut mash = programme(
        &["10", "10", "30"],
        vec![bound(&["0", "0", "0.3"], End::AtLeast, "0.1")],
    );
    mash.shares[1].is_rest = true;
    let (_, first) = round(&mash).unwrap();
    assert_eq!(first.shares, [q("0.6666"), q("0"), q("0.3334")]);
    mash.shares[0].now = Some(q("0.1234"));
    mash.shares[2].now = Some(q("0.3"));
    let (_, near) = round(&mash).unwrap();
    assert_eq!(near.shares, [q("0.1234"), q("0.5432"), q("0.3334")]);
    mash.shares[2].now = Some(q("0.3334"));
    let (_, same) = round(&mash).unwrap();
    assert_eq!(same.shares, near.shares);
}

#[test]
fn nothing_in_steps_nearby_is_cheaper() {
    let step = q("0.0001");
    let mut compared = 0;
    for seed in 0..60 {
        let traits = Traits {
            shares: 3,
            bounds: 3,
            strain: 5,
            ..Traits::default()
        };
        let made_up = made_up(seed, traits);
        let Some((optimum, rounded)) = round(&made_up) else {
            continue;
        };
        if rounded.unproved.is_some() || decimals(&made_up, &rounded.shares) > 4 {
            continue;
        }
        let cost = cost_of(&made_up, &rounded.shares);
        let last = made_up
            .shares
            .iter()
            .position(|share| share.is_rest)
            .unwrap_or(2);
        let others: Vec<usize> = (0..3).filter(|rank| *rank != last).collect();
        for one in -25..=25 {
            for other in -25..=25 {
                let mut shares = vec![Q::ZERO; 3];
                shares[others[0]] = optimum[others[0]].round_to(&step) + &step * Q::int(one);
                shares[others[1]] = optimum[others[1]].round_to(&step) + &step * Q::int(other);
                shares[last] = Q::ONE - shares.iter().sum::<Q>();
                if cost_of(&made_up, &shares) < cost {
                    assert!(
                        !keeps_all(&made_up, &shares),
                        "seed {seed}: {shares:?} {rounded:?}"
                    );
                }
            }
        }
        compared += 1;
    }
    assert!(compared > 25, "{compared}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn everything_is_kept_at_no_more_than_the_gap(
        seed in any::<u64>(),
        shares in 2..9_usize,
        bounds in 0..6_usize,
        patterns in any::<bool>(),
        scatter in any::<bool>(),
        exact in any::<bool>(),
    ) {
        let mut made_up = made_up(seed, Traits { shares, bounds, patterns, scatter, exact, strain: 5 });
        let Some((optimum, first)) = round(&made_up) else { return Ok(()) };
        prop_assert!(keeps_all(&made_up, &first.shares));
        for (share, (before, after)) in made_up.shares.iter().zip(optimum.iter().zip(&first.shares)) {
            prop_assert!(!(share.or_none && before.is_zero()) || after.is_zero());
        }
        let (least, cost) = (cost_of(&made_up, &optimum), cost_of(&made_up, &first.shares));
        if first.unproved.is_none() {
            prop_assert!(decimals(&made_up, &first.shares) <= 14);
            prop_assert!(is_within_tolerance(&made_up, &cost, &least));
        } else {
            prop_assert_eq!(&first.shares, &optimum);
        }
        if !scatter {
            prop_assert!(cost >= least);
        }
        // Written and asked again, nothing changes.
        for (share, amount) in made_up.shares.iter_mut().zip(&first.shares) {
            share.now = Some(amount.clone());
        }
        let (_, second) = round(&made_up).unwrap();
        prop_assert_eq!(second, first);
    }
}

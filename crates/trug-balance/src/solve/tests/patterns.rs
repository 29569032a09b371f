//! `or none` and exclusions, against every pattern tried one by one.

use trug_model::Q;

use super::blends::with_patterns;
use super::linear::by_microlp;
use super::{Cheapest, cheapest};
use crate::programme::{Bound, End, Programme};
use crate::solve::branch::search;
use crate::solve::linear::{Linear, Row};
use crate::solve::question::Question;
use crate::solve::rows::row_of;
use crate::solve::watch::Watch;

/// The least cost over all patterns, each solved by itself; none where none has a choice.
pub(super) fn by_enumeration(programme: &Programme, costs: &[Q]) -> Option<f64> {
    let open: Vec<usize> = (0..costs.len())
        .filter(|share| programme.shares[*share].or_none)
        .collect();
    let mut least: Option<f64> = None;
    for pattern in 0..1_u32 << open.len() {
        let is_used = |share: usize| {
            open.iter()
                .position(|other| *other == share)
                .is_none_or(|bit| pattern >> bit & 1 == 1)
        };
        for sides in 0..1_u32 << programme.exclusions.len() {
            let is_out = |share: usize| {
                !is_used(share)
                    || programme
                        .exclusions
                        .iter()
                        .enumerate()
                        .any(|(rank, exclusion)| {
                            let side = if sides >> rank & 1 == 1 {
                                &exclusion.one
                            } else {
                                &exclusion.other
                            };
                            side.contains(&share)
                        })
            };
            let holds = |bound: &&Bound| bound.if_used.is_none_or(is_used);
            let total = Row {
                weights: vec![Q::ONE; costs.len()],
                at_least: programme.total.clone(),
                is_equal: true,
            };
            let bounds = programme.bounds.iter().filter(holds).map(row_of);
            let linear = Linear {
                costs: costs.to_vec(),
                ranges: (0..costs.len())
                    .map(|share| {
                        (
                            Q::ZERO,
                            if is_out(share) {
                                Q::ZERO
                            } else {
                                programme.total.clone()
                            },
                        )
                    })
                    .collect(),
                rows: [total].into_iter().chain(bounds).collect(),
            };
            if let Some(cost) = by_microlp(&linear) {
                least = Some(least.map_or(cost, |least| least.min(cost)));
            }
        }
    }
    least
}

#[test]
fn patterns_cost_what_the_best_of_all_does() {
    let (mut found, mut nothing) = (0, 0);
    for seed in 0..63 {
        let (count, open) = match seed {
            0..60 => (5 + seed as usize % 6, 3 + seed as usize % 6),
            _ => (12, 10),
        };
        let programme = with_patterns(seed, count, 2 + seed as usize % 5, open);
        let costs: Vec<Q> = programme
            .shares
            .iter()
            .map(|share| share.cost.clone())
            .collect();
        let other = by_enumeration(&programme, &costs);
        match cheapest(&programme, &Watch::usual(&|| false)) {
            Cheapest::Found(choice) => {
                let cost = choice.cost.to_f64();
                assert!(
                    (cost - other.unwrap()).abs() <= 1e-9 * cost,
                    "seed {seed}: {cost} {other:?}"
                );
                assert_eq!(choice.cost, choice.cost_bound, "seed {seed}");
                found += 1;
            }
            Cheapest::Nothing => {
                assert_eq!(other, None, "seed {seed}");
                nothing += 1;
            }
            Cheapest::Unanswered(why) => panic!("seed {seed}: {why}"),
        }
    }
    assert!(found > 20 && nothing > 2, "{found} {nothing}");
}

#[test]
fn a_share_that_is_not_used_is_zero_and_asks_for_nothing() {
    let mut programme = with_patterns(3, 4, 0, 4);
    programme
        .bounds
        .retain(|bound| bound.if_used.is_some() && bound.end == End::AtLeast);
    for bound in &mut programme.bounds {
        bound.limit = Q::ratio(2, 5);
    }
    let Cheapest::Found(choice) = cheapest(&programme, &Watch::usual(&|| false)) else {
        panic!("one alone is a choice")
    };
    let cheapest = programme
        .shares
        .iter()
        .map(|share| &share.cost)
        .min()
        .unwrap();
    assert_eq!(choice.cost, *cheapest);
    assert_eq!(choice.used.iter().filter(|used| **used).count(), 1);
}

#[test]
fn work_that_ends_leaves_the_best_so_far_and_its_gap() {
    let mut gaps = 0;
    for seed in 0..30 {
        let programme = with_patterns(seed, 12, 5, 10);
        let after = |nodes: u64| {
            let watch = Watch::new(1_000_000, nodes, &|| false);
            let mut question = Question::of(&programme);
            let root = question.open_pattern();
            search(&mut question, root, &watch)
        };
        let full = after(10_000);
        assert!(full.is_complete);
        let Some(full) = full.best.map(|best| best.vertex.cost) else {
            assert_eq!(full.bound, None);
            continue;
        };
        for nodes in 0..6 {
            let so_far = after(nodes);
            assert!(
                so_far.bound.as_ref().unwrap() <= &full,
                "seed {seed}, {nodes}"
            );
            if let Some(best) = so_far.best {
                assert!(full <= best.vertex.cost, "seed {seed}, {nodes}");
                gaps += usize::from(so_far.bound.unwrap() < best.vertex.cost);
            }
        }
    }
    assert!(gaps > 10, "{gaps}");
}

//! Conflicts and what resolves them, by hand and against what must hold of them.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use proptest::prelude::*;
use trug_model::Q;

use super::conflict;
use crate::made_up::{Traits, bound, made_up, programme, q, sum};
use crate::programme::{Conflict, End, Exclusion, Part, Programme, Relaxation};
use crate::settled::{Kept, Least, least};
use crate::solve::Watch;

fn why(programme: &Programme) -> Conflict {
    conflict(programme, &Watch::usual(&|| false)).unwrap()
}

fn is_possible(programme: &Programme, kept: &Kept) -> bool {
    let costs = vec![Q::ZERO; programme.shares.len()];
    match least(programme, &costs, kept, &Watch::usual(&|| false)) {
        Least::Choice(..) => true,
        Least::Nothing(_) => false,
        Least::Unsolved => panic!("the work allowed suffices"),
    }
}

fn loosened(programme: &Programme, relaxations: &[Relaxation]) -> Programme {
    let mut loosened = programme.clone();
    for relaxation in relaxations {
        loosened.bounds[relaxation.bound].limit = relaxation.to.clone();
    }
    loosened
}

fn relaxation(bound: usize, to: &str, cost: &str) -> Relaxation {
    Relaxation {
        bound,
        to: q(to),
        cost: Some(q(cost)),
    }
}

#[test]
fn too_much_protein_is_asked_of_maize_and_bran() {
    // Maize 8 %, bran 14 %; at least 20 % of protein, and fibre is no matter.
    let fibre = bound(&["0.02", "0.12"], End::AtMost, "0.2");
    let protein = bound(&["0.08", "0.14"], End::AtLeast, "0.2");
    let why = why(&programme(&["90", "60"], vec![fibre, protein]));
    assert_eq!(why.parts, [Part::Total, Part::Bound(1)]);
    assert_eq!(why.relaxations, [relaxation(1, "0.14", "60")]);
    assert!(!why.is_together);
}

#[test]
fn protein_against_the_most_of_soya() {
    // 18 % of protein needs (0.18 − 0.08) ÷ 0.36 = 5/18 of soya, and at most a fifth is allowed: that makes 15.2 %.
    let most = bound(&["0", "1"], End::AtMost, "0.2");
    let protein = bound(&["0.08", "0.44"], End::AtLeast, "0.18");
    let why = why(&programme(&["90", "180"], vec![most, protein]));
    // All of the maize beside it makes 16.8 %: that the two make 100 % is no matter.
    assert_eq!(why.parts, [Part::Bound(0), Part::Bound(1)]);
    // 2.8 of 18 is less than 7/90 of a fifth.
    assert_eq!(
        why.relaxations,
        [relaxation(1, "0.152", "108"), relaxation(0, "5/18", "115")]
    );
}

#[test]
fn a_ratio_is_loosened_exactly() {
    // Calcium over phosphorus at least 6, from chalk (38 %; 0) at most 5 %, and bran (0.1 %; 1 %).
    let mut ratio = bound(&["0.38", "0.001"], End::AtLeast, "6");
    ratio.below = sum(&["0", "0.01"], "0");
    let most = bound(&["1", "0"], End::AtMost, "0.05");
    let why = why(&programme(&["20", "60"], vec![ratio, most]));
    assert_eq!(why.parts, [Part::Total, Part::Bound(0), Part::Bound(1)]);
    // 0.38 c + 0.001 b = 0.06 b with c + b = 1.
    let needed = q("0.059") / q("0.439");
    let reached = (q("0.019") + q("0.00095")) / q("0.0095");
    let to = |bound: usize| {
        why.relaxations
            .iter()
            .find(|relaxation| relaxation.bound == bound)
            .unwrap()
            .to
            .clone()
    };
    assert_eq!(to(0), reached);
    assert_eq!(to(1), needed);
    assert_eq!(why.relaxations[0].bound, 0);
}

#[test]
fn what_may_not_be_relaxed_is_left() {
    let mut most = bound(&["0", "1"], End::AtMost, "0.2");
    most.may_be_relaxed = false;
    let protein = bound(&["0.08", "0.44"], End::AtLeast, "0.18");
    let why = why(&programme(&["90", "180"], vec![most, protein]));
    assert_eq!(why.relaxations, [relaxation(1, "0.152", "108")]);
}

#[test]
fn two_conflicts_give_way_together() {
    // Two of three that want more than they may have, each for itself.
    let bounds = vec![
        bound(&["1", "0", "0"], End::AtMost, "0.2"),
        bound(&["1", "0", "0"], End::AtLeast, "0.3"),
        bound(&["0", "1", "0"], End::AtMost, "0.1"),
        bound(&["0", "1", "0"], End::AtLeast, "0.4"),
    ];
    let why = why(&programme(&["90", "180", "30"], bounds));
    assert_eq!(why.parts, [Part::Bound(0), Part::Bound(1)]);
    assert!(why.is_together);
    // Down is the lesser change of both: a third and three quarters.
    assert_eq!(
        why.relaxations,
        [relaxation(1, "0.2", "57"), relaxation(3, "0.1", "57")]
    );
}

#[test]
fn what_may_never_meet_is_a_part() {
    let mut mash = programme(
        &["90", "180"],
        vec![
            bound(&["1", "0"], End::AtLeast, "0.2"),
            bound(&["0", "1"], End::AtLeast, "0.1"),
        ],
    );
    mash.exclusions.push(Exclusion {
        one: vec![0],
        other: vec![1],
    });
    let why = why(&mash);
    assert_eq!(
        why.parts,
        [Part::Bound(0), Part::Bound(1), Part::Exclusion(0)]
    );
    assert_eq!(
        why.relaxations,
        [relaxation(0, "0", "180"), relaxation(1, "0", "90")]
    );
}

#[test]
fn a_range_of_what_may_be_left_out() {
    // Fish meal at 3 to 8 % or none; 12 % of protein from maize at 8 % needs a ninth of it at 44 %.
    let mut low = bound(&["0", "1"], End::AtLeast, "0.03");
    let mut high = bound(&["0", "1"], End::AtMost, "0.08");
    low.if_used = Some(1);
    high.if_used = Some(1);
    let protein = bound(&["0.08", "0.44"], End::AtLeast, "0.12");
    let mut mash = programme(&["90", "400"], vec![low, high, protein]);
    mash.shares[1].or_none = true;
    let why = why(&mash);
    assert_eq!(why.parts, [Part::Bound(1), Part::Bound(2)]);
    assert_eq!(why.relaxations[0].to, q("0.1088"));
    assert_eq!(why.relaxations[1].to, q("1/9"));
}

#[test]
fn a_total_that_nothing_fills() {
    let bounds = vec![
        bound(&["1", "0"], End::AtMost, "0.2"),
        bound(&["0", "1"], End::AtMost, "0.3"),
    ];
    let why = why(&programme(&["90", "180"], bounds));
    assert_eq!(why.parts, [Part::Total, Part::Bound(0), Part::Bound(1)]);
    assert_eq!(
        why.relaxations,
        [relaxation(1, "0.8", "162"), relaxation(0, "0.7", "117")]
    );
}

#[test]
fn a_margin_is_loosened_to_what_can_be_relied_on() {
    // All of bran is 14 ± 1 %: with 1.28 deviations 12.72 % can be relied on.
    let mut protein = bound(&["0.08", "0.14"], End::AtLeast, "0.2");
    protein.above.variances[1] = q("0.0001");
    protein.reliance = Some(q("1.28"));
    let why = why(&programme(&["90", "60"], vec![protein]));
    assert_eq!(why.parts, [Part::Total, Part::Bound(0)]);
    let short = q("0.1272") - &why.relaxations[0].to;
    assert!(!short.is_negative() && short < q("0.00000001"), "{short:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn conflicts_are_irreducible_and_relaxations_least(
        seed in any::<u64>(),
        shares in 2..7_usize,
        bounds in 1..6_usize,
        patterns in any::<bool>(),
        scatter in any::<bool>(),
    ) {
        let made_up = made_up(seed, Traits { shares, bounds, patterns, scatter, exact: false, strain: 60 });
        if is_possible(&made_up, &Kept::all(&made_up)) {
            return Ok(());
        }
        let why = why(&made_up);
        let mut only = Kept { total: false, bounds: vec![false; made_up.bounds.len()], exclusions: vec![false; made_up.exclusions.len()] };
        for part in &why.parts {
            only.set(*part, true);
        }
        prop_assert!(!is_possible(&made_up, &only));
        for part in &why.parts {
            only.set(*part, false);
            prop_assert!(is_possible(&made_up, &only), "{part:?} is dispensable");
            only.set(*part, true);
        }
        prop_assert_eq!(plain_filter(&made_up), why.parts);
        prop_assert!(!why.is_together || why.relaxations.len() > 1);
        if why.is_together {
            let loosened = loosened(&made_up, &why.relaxations);
            prop_assert!(is_possible(&loosened, &Kept::all(&loosened)));
        } else {
            for relaxation in &why.relaxations {
                let near = |share: Q| {
                    let mut loosened = made_up.clone();
                    let limit = &mut loosened.bounds[relaxation.bound].limit;
                    *limit = &*limit + (&relaxation.to - &*limit) * share;
                    is_possible(&loosened, &Kept::all(&loosened))
                };
                prop_assert!(near(Q::ONE));
                let is_exact = made_up.bounds.iter().all(|bound| bound.reliance.is_none());
                let less = q(if is_exact { "0.999999999" } else { "0.9999" });
                prop_assert!(!near(less));
            }
        }
    }
}

/// The least sum of relative changes, by another solver; none where it finds nothing, or a bound is a ratio.
fn least_change_by_microlp(programme: &Programme) -> Option<f64> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let total = programme.total.to_f64();
    let shares: Vec<_> = programme
        .shares
        .iter()
        .map(|_| problem.add_var(0.0, (0.0, total)))
        .collect();
    let all = shares.iter().map(|share| (*share, 1.0)).collect::<Vec<_>>();
    problem.add_constraint(all, ComparisonOp::Eq, total);
    for bound in &programme.bounds {
        if bound.below.weights.iter().any(|weight| !weight.is_zero()) {
            return None;
        }
        let weights = bound.above.weights.iter().map(Q::to_f64);
        let mut terms: Vec<_> = shares.iter().copied().zip(weights).collect();
        let limit = bound.limit.to_f64();
        let (sign, side) = match bound.end {
            End::AtLeast => (1.0, ComparisonOp::Ge),
            End::AtMost => (-1.0, ComparisonOp::Le),
        };
        if bound.may_be_relaxed {
            let price = if limit == 0.0 { 1.0 } else { 1.0 / limit.abs() };
            terms.push((problem.add_var(price, (0.0, f64::INFINITY)), sign));
        }
        problem.add_constraint(terms, side, limit);
    }
    match problem.solve() {
        Ok(SolveOutcome::Solution(solution)) => Some(solution.objective()),
        _ => None,
    }
}

#[test]
fn what_gives_way_together_gives_way_least() {
    let mut compared = 0;
    for seed in 0..300 {
        let traits = Traits {
            shares: 5,
            bounds: 3,
            strain: 80,
            ..Traits::default()
        };
        let made_up = made_up(seed, traits);
        if is_possible(&made_up, &Kept::all(&made_up)) {
            continue;
        }
        let why = why(&made_up);
        let Some(least) = least_change_by_microlp(&made_up).filter(|_| why.is_together) else {
            continue;
        };
        let change = |relaxation: &Relaxation| {
            let from = &made_up.bounds[relaxation.bound].limit;
            super::alone::relative_change(from, &relaxation.to)
        };
        let changes: Vec<Q> = why.relaxations.iter().map(change).collect();
        assert!(changes.is_sorted(), "seed {seed}");
        let sum = changes.iter().sum::<Q>().to_f64();
        assert!(
            (sum - least).abs() <= 1e-7 * least,
            "seed {seed}: {sum} {least}"
        );
        compared += 1;
    }
    assert!(compared > 20, "{compared}");
}

/// The filter as it is promised, without a look at proofs.
fn plain_filter(programme: &Programme) -> Vec<Part> {
    let mut kept = Kept::all(programme);
    let mut parts = Vec::new();
    for part in super::in_text_order(programme).into_iter().rev() {
        kept.set(part, false);
        if is_possible(programme, &kept) {
            kept.set(part, true);
            parts.push(part);
        }
    }
    parts.reverse();
    parts
}

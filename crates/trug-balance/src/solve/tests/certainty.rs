//! Margins of certainty, against clarabel's second-order cone.

use clarabel::algebra::CscMatrix;
use clarabel::solver::SupportedConeT::{NonnegativeConeT, SecondOrderConeT, ZeroConeT};
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, SolverStatus};
use trug_model::Q;

use super::blends::{Seeded, bound, programme, sum, with_patterns};
use super::{Cheapest, cheapest};
use crate::programme::{End, Programme};
use crate::solve::rows::{row_of, scatter_of};
use crate::solve::watch::Watch;

/// Gives some bounds a scatter of their contents and a margin of certainty.
fn make_certain(programme: &mut Programme, seed: u64, most: usize) {
    let mut seeded = Seeded(seed ^ 0x77);
    let mut left = most;
    for bound in &mut programme.bounds {
        let is_sum = bound
            .above
            .weights
            .iter()
            .filter(|weight| !weight.is_zero())
            .count()
            > 1;
        if !is_sum || left == 0 {
            continue;
        }
        left -= 1;
        bound.reliance = Some(if seed.is_multiple_of(3) {
            Q::ratio(3090, 1000)
        } else {
            Q::ratio(12816, 10000)
        });
        for (variance, weight) in bound.above.variances.iter_mut().zip(&bound.above.weights) {
            let deviation = weight * seeded.thousandths(0, 60);
            *variance = &deviation * &deviation;
        }
        if seeded.below(3) == 0 {
            bound.above.constant_variance = Q::ratio(1, 4_000_000);
        }
    }
}

/// The cost by clarabel, all bounds holding and every share free; none where it finds no choice.
pub(super) fn by_clarabel(programme: &Programme) -> Option<f64> {
    let count = programme.shares.len();
    let (mut lines, mut right, mut cones) = (Vec::<Vec<f64>>::new(), Vec::new(), Vec::new());
    lines.push(vec![1.0; count]);
    right.push(programme.total.to_f64());
    cones.push(ZeroConeT(1));
    let unit = |share: usize, size: f64| {
        (0..count)
            .map(|other| if other == share { size } else { 0.0 })
            .collect()
    };
    for share in 0..count {
        lines.push(unit(share, -1.0));
        right.push(0.0);
    }
    cones.push(NonnegativeConeT(count));
    for bound in &programme.bounds {
        let row = row_of(bound);
        lines.push(row.weights.iter().map(|weight| -weight.to_f64()).collect());
        right.push(-row.at_least.to_f64());
        let Some(reliance) = &bound.reliance else {
            cones.push(NonnegativeConeT(1));
            continue;
        };
        let (variances, constant) = scatter_of(bound);
        for (share, variance) in variances.iter().enumerate() {
            lines.push(unit(share, -reliance.to_f64() * variance.to_f64().sqrt()));
            right.push(0.0);
        }
        lines.push(vec![0.0; count]);
        right.push(reliance.to_f64() * constant.to_f64().sqrt());
        cones.push(SecondOrderConeT(count + 2));
    }
    let costs: Vec<f64> = programme
        .shares
        .iter()
        .map(|share| share.cost.to_f64())
        .collect();
    let settings = DefaultSettings {
        verbose: false,
        ..DefaultSettings::default()
    };
    let matrix = CscMatrix::from(&lines);
    let mut solver = DefaultSolver::new(
        &CscMatrix::zeros((count, count)),
        &costs,
        &matrix,
        &right,
        &cones,
        settings,
    )
    .unwrap();
    solver.solve();
    (solver.solution.status == SolverStatus::Solved).then_some(solver.solution.obj_val)
}

#[test]
fn margins_cost_what_a_cone_solver_says() {
    let (mut found, mut nothing, mut dearer) = (0, 0, 0);
    for seed in 0..120 {
        let mut programme = programme(seed, 4 + seed as usize % 9, 2 + seed as usize % 6);
        let plain = cheapest(&programme, &Watch::usual(&|| false));
        make_certain(&mut programme, seed, 3);
        let other = by_clarabel(&programme);
        match cheapest(&programme, &Watch::usual(&|| false)) {
            Cheapest::Found(choice) => {
                let cost = choice.cost.to_f64();
                let other = other.unwrap();
                assert!(
                    (cost - other).abs() <= 1e-6 * cost,
                    "seed {seed}: {cost} {other}"
                );
                let gap = (&choice.cost - &choice.cost_bound).to_f64();
                assert!((0.0..=1e-7 * cost).contains(&gap), "seed {seed}: {gap}");
                found += 1;
                if let Cheapest::Found(plain) = plain {
                    dearer += usize::from(choice.cost > plain.cost);
                }
            }
            Cheapest::Nothing => {
                assert_eq!(other, None, "seed {seed}");
                nothing += 1;
            }
            Cheapest::Unanswered(why) => panic!("seed {seed}: {why}, clarabel {other:?}"),
        }
    }
    assert!(
        found > 60 && nothing > 4 && dearer > 30,
        "{found} {nothing} {dearer}"
    );
}

/// Every pattern of the shares that are `or none`, as a programme in which nothing is left to decide.
fn patterns(programme: &Programme) -> Vec<Programme> {
    let open: Vec<usize> = (0..programme.shares.len())
        .filter(|share| programme.shares[*share].or_none)
        .collect();
    let pattern = |bits: u32| {
        let is_out = |share: usize| {
            open.iter()
                .position(|other| *other == share)
                .is_some_and(|bit| bits >> bit & 1 == 0)
        };
        let mut settled = programme.clone();
        settled
            .bounds
            .retain(|bound| !bound.if_used.is_some_and(is_out));
        for share in open.iter().copied().filter(|share| is_out(*share)) {
            let mut weights = vec![Q::ZERO; programme.shares.len()];
            weights[share] = Q::ONE;
            settled
                .bounds
                .push(bound(sum(weights), End::AtMost, Q::ZERO));
        }
        settled
    };
    (0..1 << open.len()).map(pattern).collect()
}

#[test]
fn margins_and_or_none_together() {
    let mut found = 0;
    for seed in 0..25 {
        let mut programme = with_patterns(seed, 6, 2 + seed as usize % 3, 4);
        programme.exclusions.clear();
        make_certain(&mut programme, seed, 2);
        let costs = patterns(&programme)
            .iter()
            .filter_map(by_clarabel)
            .collect::<Vec<f64>>();
        let least = costs.into_iter().reduce(f64::min);
        match cheapest(&programme, &Watch::usual(&|| false)) {
            Cheapest::Found(choice) => {
                let cost = choice.cost.to_f64();
                assert!(
                    (cost - least.unwrap()).abs() <= 1e-6 * cost,
                    "seed {seed}: {cost} {least:?}"
                );
                assert!(
                    (&choice.cost - &choice.cost_bound).to_f64() <= 1e-6 * cost,
                    "seed {seed}"
                );
                found += 1;
            }
            Cheapest::Nothing => assert_eq!(least, None, "seed {seed}"),
            Cheapest::Unanswered(why) => panic!("seed {seed}: {why}, clarabel {least:?}"),
        }
    }
    assert!(found > 10, "{found}");
}

#[test]
fn a_margin_has_its_price() {
    let mut priced = 0;
    for seed in 0..30 {
        let mut programme = programme(seed, 5, 4);
        make_certain(&mut programme, seed, 2);
        let found = |programme: &Programme| match cheapest(programme, &Watch::usual(&|| false)) {
            Cheapest::Found(choice) => Some(choice),
            _ => None,
        };
        let Some(choice) = found(&programme) else {
            continue;
        };
        for (rank, bound) in programme.bounds.iter().enumerate() {
            if bound.reliance.is_none() || !choice.bounds[rank].price.is_positive() {
                continue;
            }
            let mut tighter = programme.clone();
            let little = Q::ratio(1, 1_000_000);
            tighter.bounds[rank].limit = match bound.end {
                End::AtLeast => &bound.limit + &little,
                End::AtMost => &bound.limit - &little,
            };
            let Some(then) = found(&tighter) else {
                continue;
            };
            let rise = ((then.cost - &choice.cost) / little).to_f64();
            let price = choice.bounds[rank].price.to_f64();
            assert!(choice.bounds[rank].is_binding, "seed {seed}, bound {rank}");
            assert!(
                (rise - price).abs() <= 0.02 * price,
                "seed {seed}, bound {rank}: {rise} {price}"
            );
            priced += 1;
        }
    }
    assert!(priced > 10, "{priced}");
}

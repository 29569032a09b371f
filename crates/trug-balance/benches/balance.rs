//! How long the cheapest blend of forty shares under forty bounds takes, with its proof and with its reasons, a hundred
//! of them, and one that cannot be; microlp, which proves nothing, beside it.

use divan::{Bencher, black_box};
use microlp::{ComparisonOp, OptimizationDirection, Problem};
use trug_balance::programme::{Bound, End, Programme, Share, Sum};
use trug_balance::{Watch, answer, least_cost};
use trug_model::Q;

const SHARES: u64 = 40;
const BOUNDS: u64 = 40;

fn main() {
    divan::main();
}

#[divan::bench(args = [1, 2, 3, 4])]
fn cost_with_proof(bencher: Bencher, seed: u64) {
    let programme = blend(seed);
    bencher.bench(|| least_cost(black_box(&programme), &Watch::usual(&|| false)));
}

#[divan::bench(args = [1, 2, 3, 4])]
fn cost_by_microlp(bencher: Bencher, seed: u64) {
    let programme = blend(seed);
    bencher.bench(|| by_microlp(black_box(&programme)));
}

#[divan::bench(args = [1, 2, 3, 4])]
fn whole_answer(bencher: Bencher, seed: u64) {
    let programme = blend(seed);
    bencher.bench(|| answer(black_box(&programme), &Watch::usual(&|| false)));
}

/// One after the other, each another blend.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn hundred_whole_answers(bencher: Bencher) {
    let programmes: Vec<Programme> = (1..=100).map(blend).collect();
    bencher.bench(|| {
        for programme in &programmes {
            black_box(answer(black_box(programme), &Watch::usual(&|| false)));
        }
    });
}

/// Twelve bounds ask for more than there is, or for less.
#[divan::bench(args = [2, 3, 4])]
fn whole_conflict(bencher: Bencher, seed: u64) {
    let programme = strained(blend(seed), 12);
    bencher.bench(|| answer(black_box(&programme), &Watch::usual(&|| false)));
}

#[divan::bench(args = [1, 2, 3, 4])]
fn ten_or_none(bencher: Bencher, seed: u64) {
    let programme = or_none(blend(seed), 10);
    bencher.bench(|| least_cost(black_box(&programme), &Watch::usual(&|| false)));
}

#[divan::bench(args = [1, 2, 3, 4])]
fn ten_of_certainty(bencher: Bencher, seed: u64) {
    let programme = certain(blend(seed), 10);
    bencher.bench(|| least_cost(black_box(&programme), &Watch::usual(&|| false)));
}

/// Contents in thousandths, some of them zero, bounded near what a random blend has.
fn blend(seed: u64) -> Programme {
    let mut state = seed;
    let mut below = |end: u64| {
        // SplitMix64.
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((mixed ^ (mixed >> 31)) % end).cast_signed()
    };
    let mut thousandths = |from: i64, to: u64| Q::ratio(from + below(to), 1000);
    let shares: Vec<Share> = (0..SHARES)
        .map(|_| Share {
            cost: thousandths(80, 800),
            or_none: false,
            now: None,
            is_rest: false,
        })
        .collect();
    let inside: Vec<Q> = (0..SHARES).map(|_| thousandths(1, 100)).collect();
    let whole: Q = inside.iter().sum();
    let bounds = (0..BOUNDS).map(|rank| {
        let weights: Vec<Q> = (0..SHARES)
            .map(|_| thousandths(-40, 300).max(Q::ZERO))
            .collect();
        let terms = weights
            .iter()
            .zip(&inside)
            .map(|(weight, share)| weight * share);
        let has = terms.sum::<Q>() / &whole;
        let slack = thousandths(0, 12);
        if rank.is_multiple_of(2) {
            bound(weights, End::AtLeast, has - slack)
        } else {
            bound(weights, End::AtMost, has + slack)
        }
    });
    Programme {
        total: Q::ONE,
        fixed_cost: Q::ZERO,
        bounds: bounds.collect(),
        shares,
        exclusions: Vec::new(),
    }
}

fn bound(weights: Vec<Q>, end: End, limit: Q) -> Bound {
    let nothing = vec![Q::ZERO; weights.len()];
    let plain = |weights: Vec<Q>, constant: Q| Sum {
        weights,
        constant,
        variances: nothing.clone(),
        constant_variance: Q::ZERO,
    };
    Bound {
        above: plain(weights, Q::ZERO),
        below: plain(nothing.clone(), Q::ONE),
        limit,
        end,
        may_be_relaxed: true,
        if_used: None,
        reliance: None,
    }
}

/// The first so many at least 4 % or none.
fn or_none(mut programme: Programme, count: usize) -> Programme {
    for share in 0..count {
        programme.shares[share].or_none = true;
        let mut weights = vec![Q::ZERO; programme.shares.len()];
        weights[share] = Q::ONE;
        let mut least = bound(weights, End::AtLeast, Q::ratio(4, 100));
        least.if_used = Some(share);
        programme.bounds.push(least);
    }
    programme
}

/// The first so many bounds a fifth tighter.
fn strained(mut programme: Programme, count: usize) -> Programme {
    for bound in programme.bounds.iter_mut().take(count) {
        let times = match bound.end {
            End::AtLeast => Q::ratio(12, 10),
            End::AtMost => Q::ratio(8, 10),
        };
        bound.limit = &bound.limit * times;
    }
    programme
}

/// The first so many bounds kept in nine cases of ten, with a tenth of each content as its standard deviation.
fn certain(mut programme: Programme, count: usize) -> Programme {
    for bound in programme.bounds.iter_mut().take(count) {
        bound.reliance = Some(Q::ratio(12816, 10000));
        let deviations = bound
            .above
            .weights
            .iter()
            .map(|weight| weight * Q::ratio(1, 50));
        bound.above.variances = deviations
            .map(|deviation| &deviation * &deviation)
            .collect();
    }
    programme
}

fn by_microlp(programme: &Programme) -> bool {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let shares: Vec<_> = programme
        .shares
        .iter()
        .map(|share| problem.add_var(share.cost.to_f64(), (0.0, 1.0)))
        .collect();
    problem.add_constraint(
        shares.iter().map(|share| (*share, 1.0)),
        ComparisonOp::Eq,
        1.0,
    );
    for bound in &programme.bounds {
        let side = match bound.end {
            End::AtLeast => ComparisonOp::Ge,
            End::AtMost => ComparisonOp::Le,
        };
        let weights = bound.above.weights.iter().map(Q::to_f64);
        problem.add_constraint(
            shares.iter().copied().zip(weights),
            side,
            bound.limit.to_f64(),
        );
    }
    problem.solve().is_ok()
}

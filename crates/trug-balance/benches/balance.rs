//! How long the cheapest blend of forty shares under forty bounds takes, with its proof and with its reasons, a hundred
//! of them, and one that cannot be; microlp, which proves nothing, beside it. What HiGHS takes stands in `recorded/`.

use divan::{Bencher, black_box};
use microlp::{ComparisonOp, OptimizationDirection, Problem};
use trug_balance::programme::{End, Programme};
use trug_balance::{Watch, answer, least_cost};
use trug_model::Q;

#[path = "made/blends.rs"]
mod blends;
#[path = "made/harder.rs"]
mod harder;

use blends::{blend, or_none};
use harder::{certain, strained};

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

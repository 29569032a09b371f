//! Questions made up from a seed, as rations pose them.

use trug_model::Q;

use crate::programme::{Bound, End, Exclusion, Programme, Share, Sum};
use crate::solve::linear::{Linear, Row};

/// A small generator of numbers (SplitMix64): the same on every machine.
pub(super) struct Seeded(pub(super) u64);

impl Seeded {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A whole number from `0` to below `end`.
    pub(super) fn below(&mut self, end: u64) -> i64 {
        i64::try_from(self.next() % end).unwrap()
    }

    /// So many thousandths, from `from` to below `to`.
    pub(super) fn thousandths(&mut self, from: i64, to: i64) -> Q {
        let span = u64::try_from(to - from).unwrap();
        Q::ratio(from + self.below(span), 1000)
    }
}

/// A blend of `shares` that make one, with `rows` contents that are asked for at least or at most, mostly as a random blend has them.
pub(super) fn blend(seed: u64, shares: usize, rows: usize) -> Linear {
    let mut seeded = Seeded(seed);
    let costs: Vec<Q> = (0..shares).map(|_| seeded.thousandths(80, 900)).collect();
    let inside: Vec<Q> = (0..shares).map(|_| seeded.thousandths(0, 100)).collect();
    let total: Q = inside.iter().sum::<Q>() + Q::ratio(1, 1000);
    let mut linear = Linear {
        costs,
        ranges: (0..shares)
            .map(|_| {
                (
                    Q::ZERO,
                    if seeded.below(3) == 0 {
                        seeded.thousandths(100, 600)
                    } else {
                        Q::ONE
                    },
                )
            })
            .collect(),
        rows: vec![Row {
            weights: vec![Q::ONE; shares],
            at_least: Q::ONE,
            is_equal: true,
        }],
    };
    for _ in 0..rows {
        let weights: Vec<Q> = (0..shares)
            .map(|_| {
                if seeded.below(6) == 0 {
                    Q::ZERO
                } else {
                    seeded.thousandths(0, 300)
                }
            })
            .collect();
        let has: Q = weights
            .iter()
            .zip(&inside)
            .map(|(weight, share)| weight * share)
            .sum::<Q>()
            / &total;
        let slack = seeded.thousandths(-10, 30);
        let is_at_most = seeded.below(2) == 0;
        let row = if is_at_most {
            Row {
                weights: weights.iter().map(|weight| -weight).collect(),
                at_least: -(has + slack),
                is_equal: false,
            }
        } else {
            Row {
                weights,
                at_least: has - slack,
                is_equal: false,
            }
        };
        linear.rows.push(row);
    }
    linear
}

/// A sum without scatter.
pub(super) fn sum(weights: Vec<Q>) -> Sum {
    let count = weights.len();
    Sum {
        weights,
        constant: Q::ZERO,
        variances: vec![Q::ZERO; count],
        constant_variance: Q::ZERO,
    }
}

/// A bound on a plain sum.
pub(super) fn bound(above: Sum, end: End, limit: Q) -> Bound {
    let mut below = sum(vec![Q::ZERO; above.weights.len()]);
    below.constant = Q::ONE;
    Bound {
        above,
        below,
        limit,
        end,
        may_be_relaxed: true,
        if_used: None,
        reliance: None,
    }
}

/// A bound on one share, only where it is used.
pub(super) fn at_least_where_used(count: usize, share: usize, limit: Q) -> Bound {
    let mut weights = vec![Q::ZERO; count];
    weights[share] = Q::ONE;
    Bound {
        if_used: Some(share),
        ..bound(sum(weights), End::AtLeast, limit)
    }
}

/// The blend of a seed as a programme, every share certain to be used.
pub(super) fn programme(seed: u64, shares: usize, rows: usize) -> Programme {
    let linear = blend(seed, shares, rows);
    let mut bounds = Vec::new();
    for (share, (_, high)) in linear.ranges.iter().enumerate() {
        let mut weights = vec![Q::ZERO; shares];
        weights[share] = Q::ONE;
        bounds.push(bound(sum(weights), End::AtMost, high.clone()));
    }
    for row in &linear.rows[1..] {
        let is_at_most = row.weights.iter().any(Q::is_negative);
        let sign = if is_at_most { Q::int(-1) } else { Q::ONE };
        let weights = row.weights.iter().map(|weight| weight * &sign).collect();
        let end = if is_at_most {
            End::AtMost
        } else {
            End::AtLeast
        };
        bounds.push(bound(sum(weights), end, sign * &row.at_least));
    }
    Programme {
        shares: linear
            .costs
            .iter()
            .map(|cost| Share {
                cost: cost.clone(),
                or_none: false,
                now: None,
                is_rest: false,
            })
            .collect(),
        total: Q::ONE,
        bounds,
        exclusions: Vec::new(),
        fixed_cost: Q::ZERO,
    }
}

/// The same with some shares `or none` of at least some share each, a bound more where one is used, and one pair that may not be together.
pub(super) fn with_patterns(seed: u64, shares: usize, rows: usize, open: usize) -> Programme {
    let mut programme = programme(seed, shares, rows);
    let mut seeded = Seeded(seed ^ 0xabcd);
    for share in 0..open.min(shares) {
        programme.shares[share].or_none = true;
        let least = seeded.thousandths(10, 250);
        programme
            .bounds
            .push(at_least_where_used(shares, share, least));
        if seeded.below(4) == 0 {
            let weights = (0..shares).map(|_| seeded.thousandths(0, 300)).collect();
            let limit = seeded.thousandths(120, 250);
            programme.bounds.push(Bound {
                if_used: Some(share),
                ..bound(sum(weights), End::AtMost, limit)
            });
        }
    }
    if shares > 4 {
        programme.exclusions.push(Exclusion {
            one: vec![0, shares - 1],
            other: vec![shares - 2],
        });
    }
    programme
}

//! Blends of forty shares under forty bounds, made up from a seed. `recorded/highs.py` makes the same.

use trug_balance::programme::{Bound, End, Programme, Share, Sum};
use trug_model::Q;

const SHARES: u64 = 40;
const BOUNDS: u64 = 40;

/// Contents in thousandths, some of them zero, bounded near what a random blend has.
pub(crate) fn blend(seed: u64) -> Programme {
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
pub(crate) fn or_none(mut programme: Programme, count: usize) -> Programme {
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

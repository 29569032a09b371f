//! Programmes made up for tests: from a seed, as rations pose them, and by hand.

use trug_model::Q;

use crate::programme::{Bound, End, Exclusion, Programme, Share, Sum};

/// A decimal.
pub(crate) fn q(text: &str) -> Q {
    Q::fraction(text).unwrap_or_default()
}

/// A share that costs so much.
pub(crate) fn share(cost: &str) -> Share {
    Share {
        cost: q(cost),
        or_none: false,
        now: None,
        is_rest: false,
    }
}

/// A sum without scatter.
pub(crate) fn sum(weights: &[&str], constant: &str) -> Sum {
    Sum {
        weights: weights.iter().map(|weight| q(weight)).collect(),
        constant: q(constant),
        variances: vec![Q::ZERO; weights.len()],
        constant_variance: Q::ZERO,
    }
}

/// A bound on a plain sum.
pub(crate) fn bound(weights: &[&str], end: End, limit: &str) -> Bound {
    Bound {
        above: sum(weights, "0"),
        below: sum(&vec!["0"; weights.len()], "1"),
        limit: q(limit),
        end,
        may_be_relaxed: true,
        if_used: None,
        reliance: None,
    }
}

/// Shares that make one.
pub(crate) fn programme(costs: &[&str], bounds: Vec<Bound>) -> Programme {
    Programme {
        shares: costs.iter().map(|cost| share(cost)).collect(),
        total: Q::ONE,
        bounds,
        exclusions: Vec::new(),
        fixed_cost: Q::ZERO,
    }
}

/// A small generator of numbers (SplitMix64): the same on every machine.
struct Seeded(u64);

impl Seeded {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % end
    }

    fn thousandths(&mut self, from: i64, to: i64) -> Q {
        let span = u64::try_from(to - from).unwrap_or_default();
        Q::ratio(
            from + i64::try_from(self.below(span)).unwrap_or_default(),
            1000,
        )
    }

    fn one_in(&mut self, times: u64) -> bool {
        self.below(times) == 0
    }
}

/// What a made-up programme has.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Traits {
    pub(crate) shares: usize,
    pub(crate) bounds: usize,
    /// Some shares may be left out, some exclude each other.
    pub(crate) patterns: bool,
    /// Some bounds hold with a margin.
    pub(crate) scatter: bool,
    /// The first content must be just so much.
    pub(crate) exact: bool,
    /// Thousandths by which bounds may ask for more than a random blend has.
    pub(crate) strain: i64,
}

/// A programme made up from a seed.
pub(crate) fn made_up(seed: u64, traits: Traits) -> Programme {
    let mut seeded = Seeded(seed);
    let count = traits.shares;
    let inside: Vec<Q> = (0..count).map(|_| seeded.thousandths(1, 100)).collect();
    let whole: Q = inside.iter().sum();
    let inside: Vec<Q> = inside.iter().map(|share| share / &whole).collect();
    let rest = (!seeded.one_in(3))
        .then(|| usize::try_from(seeded.below(count as u64)).unwrap_or_default());
    let mut programme = Programme {
        shares: Vec::new(),
        total: Q::ONE,
        bounds: Vec::new(),
        exclusions: Vec::new(),
        fixed_cost: seeded.thousandths(0, 20),
    };
    for (rank, inside) in inside.iter().enumerate() {
        let is_rest = rest == Some(rank);
        let or_none = traits.patterns && !is_rest && seeded.one_in(3);
        programme.shares.push(Share {
            cost: seeded.thousandths(80, 900),
            or_none,
            now: seeded.one_in(2).then(|| seeded.thousandths(0, 300)),
            is_rest,
        });
        if is_rest || seeded.one_in(3) {
            continue;
        }
        for (end, limit) in [
            (
                End::AtLeast,
                (inside - seeded.thousandths(-traits.strain, 60)).max(Q::ZERO),
            ),
            (
                End::AtMost,
                inside + seeded.thousandths(-traits.strain, 120),
            ),
        ] {
            let mut weights = vec!["0"; count];
            weights[rank] = "1";
            let limit = limit.round_to(&Q::ratio(1, 1000)).to_string();
            let mut asked = bound(&weights, end, &limit);
            asked.if_used = or_none.then_some(rank);
            programme.bounds.push(asked);
        }
    }
    for _ in 0..traits.bounds {
        let asked = content(&mut seeded, &inside, traits);
        programme.bounds.push(asked);
    }
    if traits.exact && traits.bounds > 0 {
        let first = programme.bounds.len() - traits.bounds;
        let mut other = programme.bounds[first].clone();
        other.end = match other.end {
            End::AtLeast => End::AtMost,
            End::AtMost => End::AtLeast,
        };
        programme.bounds.push(other);
    }
    if traits.patterns && count > 3 {
        programme.exclusions.push(Exclusion {
            one: vec![0],
            other: vec![1, 2],
        });
    }
    programme
}

/// A bound on a content, or on one content over another.
fn content(seeded: &mut Seeded, inside: &[Q], traits: Traits) -> Bound {
    let count = inside.len();
    let mut contents = |least: i64| -> Vec<Q> {
        (0..count)
            .map(|_| {
                if seeded.one_in(6) {
                    Q::ratio(least, 1000)
                } else {
                    seeded.thousandths(least, 300)
                }
            })
            .collect()
    };
    let plain = |weights: Vec<Q>, constant: Q| Sum {
        variances: vec![Q::ZERO; count],
        constant_variance: Q::ZERO,
        weights,
        constant,
    };
    let mut above = plain(contents(0), Q::ZERO);
    let below = contents(5);
    let below = if seeded.one_in(3) {
        plain(below, Q::ZERO)
    } else {
        plain(vec![Q::ZERO; count], Q::ONE)
    };
    let value = |sum: &Sum| {
        sum.weights
            .iter()
            .zip(inside)
            .map(|(weight, share)| weight * share)
            .sum::<Q>()
            + &sum.constant
    };
    let has = value(&above) / value(&below);
    let end = if seeded.one_in(2) {
        End::AtMost
    } else {
        End::AtLeast
    };
    let room = &has * seeded.thousandths(-traits.strain, 100);
    let limit = match end {
        End::AtLeast => has - room,
        End::AtMost => has + room,
    };
    let mut reliance = None;
    if traits.scatter && seeded.one_in(2) {
        reliance = Some(Q::ratio(1282, 1000));
        let deviations = above.weights.iter().map(|weight| weight / Q::int(20));
        above.variances = deviations
            .map(|deviation| &deviation * &deviation)
            .collect();
    }
    Bound {
        above,
        below,
        limit: limit.round_to(&Q::ratio(1, 10_000)),
        end,
        may_be_relaxed: !seeded.one_in(4),
        if_used: None,
        reliance,
    }
}

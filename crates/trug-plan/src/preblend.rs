//! How large the pre-blend is, and which bulk ingredients carry how much of it.

use trug_model::Q;

use crate::amounts::Case;
use crate::plan::Class;
use crate::scales::{self, Reading};

/// The carriers of the pre-blends of one batch, the first of them first.
#[derive(Clone, Debug, Default)]
pub(crate) struct Preblend {
    pub(crate) carriers: Vec<Carrier>,
    /// What the rules ask, small ingredients and carriers together.
    pub(crate) wanted: Q,
    /// What there is less than that.
    pub(crate) missing: Q,
}

/// One bulk ingredient's part of the pre-blends.
#[derive(Clone, Debug)]
pub(crate) struct Carrier {
    pub(crate) ingredient: usize,
    /// In one weighing.
    pub(crate) mass: Q,
    /// In several, which may come nearer to what is asked.
    pub(crate) most: Q,
    /// Nothing of it is left for the heap.
    pub(crate) is_whole: bool,
}

/// Liquids are worked into at least so many times their mass.
pub(crate) fn bed() -> Q {
    Q::int(5)
}

/// The pre-blend for small ingredients that weigh `small` together. `more` is asked beyond the rules, where the scales need it.
pub(crate) fn preblend(case: &Case, small: &Q, more: &Q) -> Preblend {
    let wanted = wanted(case, small, more);
    let need = (&wanted - small).max(Q::ZERO);
    let bulk = case.of_class(Class::Bulk);
    let mut able: Vec<(usize, Q)> = bulk
        .iter()
        .filter(|rank| case.kinds[**rank].may_carry)
        .map(|rank| (*rank, case.amount(*rank)))
        .collect();
    able.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    let spare = kept_for_liquids(case, &bulk, &able);
    let asked: Q = case
        .of_class(Class::Small)
        .into_iter()
        .map(|rank| case.amount(rank))
        .sum();
    let is_batch = wanted >= case.total;
    // Where it is the batch, all that may carry goes into it, whatever snapping has added to the small ones.
    let need = if is_batch { &wanted - &asked } else { need };
    let given = give(&able, &need.clone().min(spare));
    let missing = &need - &given.iter().map(|(_, mass)| mass).sum::<Q>();
    Preblend {
        carriers: weighable(case, given, &able),
        wanted,
        missing,
    }
}

/// The largest of: the method's share of the batch, twice the small ingredients, the batch over the ratio. Never over the batch;
/// where it reaches that, what goes on top is in it too.
///
/// The spread must not dilute more than the ratio either, and there what goes on top counts.
fn wanted(case: &Case, small: &Q, more: &Q) -> Q {
    let method = &case.order.method;
    let in_one_step = |mass: &Q| mass.over(&method.dilutes).unwrap_or_else(|| mass.clone());
    let rules = (&method.preblend * &case.batch)
        .max(small * &Q::int(2))
        .max(in_one_step(&case.batch))
        .max(in_one_step(&case.total))
        + more;
    if rules >= case.batch {
        case.total.clone()
    } else {
        rules
    }
}

/// What may carry in all, when the heap keeps a bed for its liquids.
fn kept_for_liquids(case: &Case, bulk: &[usize], able: &[(usize, Q)]) -> Q {
    let all: Q = able.iter().map(|(_, mass)| mass).sum();
    let liquids: Q = case
        .of_class(Class::Liquid)
        .into_iter()
        .map(|rank| case.amount(rank))
        .sum();
    if liquids.is_zero() {
        return all;
    }
    let heap: Q = bulk.iter().map(|rank| case.amount(*rank)).sum();
    let least = scales::least_weighable(case).unwrap_or_default();
    let bed = (bed() * liquids).max(least);
    let beyond_the_bed = (heap - bed).max(&all / Q::int(2));
    all.min(beyond_the_bed)
}

/// Who gives how much, of those that may carry, the largest first.
///
/// Common practice of the trade: from the largest, or in equal parts from the largest few, and never so much that the heap
/// goes without.
fn give(able: &[(usize, Q)], need: &Q) -> Vec<(usize, Q)> {
    if !need.is_positive() || able.is_empty() {
        return Vec::new();
    }
    let half = |mass: &Q| mass / &Q::int(2);
    let all: Q = able.iter().map(|(_, mass)| mass).sum();
    let named = |masses: Vec<Q>| -> Vec<(usize, Q)> {
        let ranks = able.iter().map(|(rank, _)| *rank);
        ranks
            .zip(masses)
            .filter(|(_, mass)| mass.is_positive())
            .collect()
    };
    if half(&all) < *need {
        let wholes: Vec<Q> = able.iter().map(|(_, mass)| mass.clone()).collect();
        return named(equal_parts(&wholes, need));
    }
    let mut few = 0;
    let mut held = Q::ZERO;
    while held < half(&all) && few < able.len() {
        held += &able[few].1;
        few += 1;
    }
    let halves: Vec<Q> = able.iter().map(|(_, mass)| half(mass)).collect();
    let mut masses = equal_parts(&halves[..few], need);
    let mut left = need - &masses.iter().sum::<Q>();
    for next in &halves[few..] {
        if !left.is_positive() {
            break;
        }
        let given = next.clone().min(left.clone());
        left -= &given;
        masses.push(given);
    }
    named(masses)
}

/// Equal parts of `need`, none above its limit: what one cannot give, the others share. All limits where they do not suffice.
fn equal_parts(limits: &[Q], need: &Q) -> Vec<Q> {
    let mut by_limit: Vec<usize> = (0..limits.len()).collect();
    by_limit.sort_by(|a, b| limits[*a].cmp(&limits[*b]));
    let mut parts = vec![Q::ZERO; limits.len()];
    let mut left = need.clone();
    for (done, index) in by_limit.iter().enumerate() {
        let equal = &left / &Q::int((limits.len() - done) as i64);
        let part = equal.min(limits[*index].clone());
        left -= &part;
        parts[*index] = part;
    }
    parts
}

/// The parts as the scales can give them. Where the parts are too small to be weighed, fewer carriers give larger ones.
fn weighable(case: &Case, given: Vec<(usize, Q)>, able: &[(usize, Q)]) -> Vec<Carrier> {
    let need: Q = given.iter().map(|(_, mass)| mass).sum();
    let is_no_more_than_half = |parts: &[(usize, Q)]| {
        let mut parts = parts.iter();
        parts.all(|(rank, mass)| mass * &Q::int(2) <= case.amount(*rank))
    };
    for few in (1..=given.len()).rev() {
        let parts = if few == given.len() {
            given.clone()
        } else {
            give(&able[..few], &need)
        };
        let enough = few == given.len()
            || (parts.iter().map(|(_, mass)| mass).sum::<Q>() == need
                && is_no_more_than_half(&parts));
        let carriers: Vec<(Carrier, bool)> = parts
            .iter()
            .map(|(rank, mass)| carrier(case, *rank, mass))
            .collect();
        if enough && carriers.iter().all(|(_, is_weighable)| *is_weighable) {
            return carriers.into_iter().map(|(carrier, _)| carrier).collect();
        }
    }
    given
        .iter()
        .map(|(rank, mass)| carrier(case, *rank, mass).0)
        .collect()
}

/// One carrier's part on a scale, and whether one weighs it well enough.
fn carrier(case: &Case, rank: usize, mass: &Q) -> (Carrier, bool) {
    let amount = case.amount(rank);
    let whole = Carrier {
        ingredient: rank,
        mass: amount.clone(),
        most: amount.clone(),
        is_whole: true,
    };
    if *mass >= amount {
        return (whole, true);
    }
    let is_good = |reading: &Reading| scales::is_within(reading, &scales::carrier_error());
    let half = &amount / &Q::int(2);
    let chosen = scales::choose(
        case,
        |scale| {
            // Up, so that the pre-blend is not short; but not beyond the half that it may give.
            let up = mass.ceil_to(&scale.division_g);
            let is_beyond_half = *mass <= half && up > half;
            let snapped = if is_beyond_half || up > amount {
                mass.floor_to(&scale.division_g)
            } else {
                up
            };
            let least = scale.minimum_g.ceil_to(&scale.division_g);
            if snapped < least && *mass >= scale.minimum_g {
                least
            } else {
                snapped
            }
        },
        is_good,
    );
    let (snapped, is_weighable) = match chosen {
        Some((reading, is_good)) => (reading.mass, is_good),
        None => (mass.clone(), case.order.scales.is_empty()),
    };
    let left = &amount - &snapped;
    let can_be_weighed = |left: &Q| {
        let down = |scale: &crate::order::Scale| left.floor_to(&scale.division_g);
        scales::choose(case, down, is_good).is_some_and(|(_, is_good)| is_good)
    };
    if !case.order.scales.is_empty() && is_weighable && !can_be_weighed(&left) && *mass > half {
        // What would be left of it for the heap is too little for any scale.
        return (whole, true);
    }
    let part = Carrier {
        ingredient: rank,
        most: mass.clone().max(snapped.clone()),
        mass: snapped,
        is_whole: false,
    };
    (part, is_weighable)
}

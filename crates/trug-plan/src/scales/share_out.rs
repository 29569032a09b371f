//! Bulk takes up what snapping leaves over, so that the batch is as heavy as ordered.

use std::cmp::Reverse;

use trug_model::Q;

use super::{Reading, carrier_error, choose, is_within, read};
use crate::amounts::Case;
use crate::batches::is_brimful;
use crate::draft::{Draft, Role};
use crate::order::Scale;

/// The part of one bulk ingredient whose mass is still open, on its scale.
struct Open {
    part: usize,
    /// What the ration asks less what is fixed.
    asked: Q,
    /// None where no scale will do.
    scale: Option<usize>,
    mass: Q,
}

/// Snaps every rest to its scale: largest remainders first, coarse scales before fine ones.
///
/// What one scale cannot take up is passed on to the next finer, so that the batch is off by no more than the finest division
/// of those that weigh a rest. Where the batch just fits the floor or the vessel, nothing is rounded beyond it.
pub(crate) fn share_out(case: &Case, draft: &mut Draft) {
    let mut open = open_parts(case, draft);
    let fixed: Q = fixed_parts(draft).map(|part| &draft.parts[part].mass).sum();
    let asked: Q = open.iter().map(|open| &open.asked).sum();
    let mut carry = &case.total - &(fixed + asked);
    let division = |open: &Open| {
        let scale = open.scale.and_then(|scale| case.order.scales.get(scale));
        scale.map(|scale| scale.division_g.clone())
    };
    let mut divisions: Vec<Q> = open.iter().filter_map(division).collect();
    divisions.sort_by_key(|division| Reverse(division.clone()));
    divisions.dedup();
    let count = divisions.len();
    for (rank, step) in divisions.iter().enumerate() {
        let is_last = rank + 1 == count;
        let is_down = is_last && is_brimful(case.order, &case.batch, step);
        let mut group: Vec<&mut Open> = open
            .iter_mut()
            .filter(|open| division(open).as_ref() == Some(step))
            .collect();
        carry = snap_group(&mut group, step, carry, is_down);
    }
    if divisions.is_empty() {
        let largest = open.iter_mut().max_by(|a, b| a.asked.cmp(&b.asked));
        if let Some(largest) = largest.filter(|largest| (&largest.mass + &carry).is_positive()) {
            largest.mass += carry;
        }
    }
    keep_minimum(case, &mut open);
    for open in open {
        let scale = open.scale;
        let part = &mut draft.parts[open.part];
        part.reading = scale.and_then(|scale| read(case, scale, &open.mass));
        part.mass = open.mass;
    }
}

fn fixed_parts(draft: &Draft) -> impl Iterator<Item = usize> {
    (0..draft.parts.len()).filter(|part| draft.parts[*part].role != Role::Rest)
}

/// The rests, each with a scale that keeps the whole ingredient within `weigh`, where there is one.
fn open_parts(case: &Case, draft: &mut Draft) -> Vec<Open> {
    let rests: Vec<usize> = (0..draft.parts.len())
        .filter(|part| draft.parts[*part].role == Role::Rest)
        .collect();
    let mut open = Vec::with_capacity(rests.len());
    for part in rests {
        let ingredient = draft.parts[part].ingredient;
        let others: Vec<usize> = fixed_parts(draft)
            .filter(|other| draft.parts[*other].ingredient == ingredient)
            .collect();
        let fixed: Q = others.iter().map(|other| &draft.parts[*other].mass).sum();
        let asked = case.amount(ingredient) - fixed;
        let scale = scale_for_rest(case, draft, ingredient, &asked, &others);
        let mass = asked.clone();
        open.push(Open {
            part,
            asked,
            scale,
            mass,
        });
    }
    open
}

fn scale_for_rest(
    case: &Case,
    draft: &mut Draft,
    ingredient: usize,
    asked: &Q,
    others: &[usize],
) -> Option<usize> {
    let allowed = &case.order.method.weigh * &case.amount(ingredient);
    let snap = |scale: &Scale| {
        if *asked < scale.minimum_g {
            return Q::ZERO;
        }
        let least = scale.minimum_g.ceil_to(&scale.division_g);
        asked.round_to(&scale.division_g).max(least)
    };
    let pick = |draft: &Draft| {
        let readings = others
            .iter()
            .filter_map(|other| draft.parts[*other].reading.as_ref());
        let left = &allowed - &readings.map(|reading| &reading.error).sum::<Q>();
        choose(case, snap, |reading| reading.error <= left)
    };
    let mut picked = pick(draft);
    // Together the parts may err too much: those that err most go to better scales, one after the other.
    while picked.as_ref().is_some_and(|(_, is_good)| !is_good) && improve(case, draft, others) {
        picked = pick(draft);
    }
    picked.map(|(reading, _)| reading.scale)
}

/// Weighs the part that errs most on the best scale that errs less; says whether there was any.
fn improve(case: &Case, draft: &mut Draft, others: &[usize]) -> bool {
    let mut by_error: Vec<usize> = others.to_vec();
    let error = |draft: &Draft, part: usize| {
        let reading = draft.parts[part].reading.as_ref();
        reading.map_or(Q::ZERO, |reading| reading.error.clone())
    };
    by_error.sort_by_key(|part| Reverse(error(draft, *part)));
    for part in by_error {
        let mass = draft.parts[part].mass.clone();
        let Some(now) = draft.parts[part].reading.clone() else {
            continue;
        };
        let is_less = |reading: &Reading| {
            let keeps = is_within(reading, &carrier_error()) || !is_within(&now, &carrier_error());
            reading.error < now.error && keeps
        };
        if let Some((better, true)) = choose(case, |_| mass.clone(), is_less) {
            draft.parts[part].reading = Some(better);
            return true;
        }
    }
    false
}

/// Gives each of a group a multiple of `division` such that together they are what they were asked and `carry`; ends with what is left.
fn snap_group(group: &mut [&mut Open], division: &Q, carry: Q, is_down: bool) -> Q {
    let mut left = carry;
    for open in group.iter_mut() {
        open.mass = open.asked.floor_to(division);
        left += &open.asked;
        left -= &open.mass;
    }
    let steps = left.over(division).unwrap_or_default();
    let steps = if is_down {
        steps.floor()
    } else {
        steps.round_half_even()
    };
    let members = i64::try_from(group.len()).unwrap_or(i64::MAX);
    let Some(mut to_give) = steps.to_i64().filter(|_| members > 0) else {
        return left;
    };
    // The largest remainders first; the heavier one where they are equal.
    group.sort_by(|a, b| {
        let remainder = |open: &Open| &open.asked - &open.mass;
        let order = remainder(b).cmp(&remainder(a));
        order
            .then_with(|| b.asked.cmp(&a.asked))
            .then(a.part.cmp(&b.part))
    });
    let each = to_give.div_euclid(members);
    to_give -= each * members;
    for (rank, open) in group.iter_mut().enumerate() {
        let is_among = i64::try_from(rank).is_ok_and(|rank| rank < to_give);
        let given = Q::int(each + i64::from(is_among)) * division;
        left -= &given;
        open.mass += given;
    }
    left
}

/// Where rounding brought a rest below its scale's minimum, the heaviest on that scale gives it what lacks.
fn keep_minimum(case: &Case, open: &mut [Open]) {
    for rank in 0..open.len() {
        let same = open[rank].scale;
        let Some(scale) = same.and_then(|scale| case.order.scales.get(scale)) else {
            continue;
        };
        let least = scale.minimum_g.ceil_to(&scale.division_g);
        let lacks = &least - &open[rank].mass;
        if !lacks.is_positive() {
            continue;
        }
        let heaviest = (0..open.len())
            .filter(|other| *other != rank && open[*other].scale == same)
            .max_by(|a, b| open[*a].mass.cmp(&open[*b].mass));
        if let Some(other) = heaviest.filter(|other| open[*other].mass >= &least + &lacks) {
            open[other].mass -= &lacks;
        }
        open[rank].mass = least;
    }
}

//! Bulk is snapped to its scales, and takes up what snapping leaves over.

use std::cmp::Reverse;

use trug_model::Q;

use super::{Reading, carrier_error, choose, is_within, keeps, read};
use crate::amounts::Case;
use crate::batches::is_brimful;
use crate::draft::{Draft, Part, Role, Source};
use crate::order::Scale;
use crate::plan::{Class, StepKind};
use crate::preblend::bed;
use crate::sequence::ratios;

/// The part of one bulk ingredient whose mass is still open, on its scale.
struct Open {
    part: usize,
    /// What the ration asks less what is fixed.
    asked: Q,
    /// What is fixed of the ingredient.
    fixed: Q,
    /// None where no scale will do.
    scale: Option<usize>,
    division: Q,
    /// What its scale, and a liquid worked into it, need at least.
    least: Q,
    mass: Q,
}

/// How far a rest may be moved from what is asked of it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reach {
    /// To the next reading on the other side: what is weighed exactly stays.
    Other,
    /// By one division.
    Division,
}

/// Snaps every rest to the nearest reading of its scale; then the largest remainders take up what that leaves over, by one
/// division of their own each, as long as it brings the total nearer.
///
/// Where the batch just fits the floor or the vessel, or the pre-blend just reaches it, nothing is rounded beyond that.
pub(crate) fn share_out(case: &Case, draft: &mut Draft) {
    let mut open = open_parts(case, draft);
    for rank in 0..open.len() {
        open[rank].least = least(case, draft, &open, rank);
        open[rank].mass = nearest(case, draft, &open[rank]);
        settle_half(case, draft, &mut open[rank]);
    }
    write_back(case, draft, &open);
    let coarsest = super::coarsest(case, draft);
    level(case, draft, &mut open, Reach::Other, &Q::ZERO);
    level(case, draft, &mut open, Reach::Division, &coarsest);
    take_up(case, draft, &mut open, &coarsest);
    for reach in [Reach::Other, Reach::Division] {
        while is_too_much(case, draft) && lower_within(case, draft, &mut open, reach, &coarsest) {}
    }
}

/// Takes a division off, unless the total then lacks more than the coarsest division: a larger pre-blend is sought then.
fn lower_within(
    case: &Case,
    draft: &mut Draft,
    open: &mut [Open],
    reach: Reach,
    coarsest: &Q,
) -> bool {
    let before: Vec<Q> = open.iter().map(|open| open.mass.clone()).collect();
    let is_lowered = lower(case, draft, open, reach);
    if is_lowered && left(case, draft) > *coarsest {
        for (open, mass) in open.iter_mut().zip(before) {
            open.mass = mass;
        }
        write_back(case, draft, open);
        return false;
    }
    is_lowered
}

/// Writes the masses into the draft, with their loads.
fn write_back(case: &Case, draft: &mut Draft, open: &[Open]) {
    for open in open {
        let part = &mut draft.parts[open.part];
        part.reading = open.scale.and_then(|scale| read(case, scale, &open.mass));
        part.mass = open.mass.clone();
    }
}

/// The least of a rest: what its scale reads, and what a liquid that is first worked into it needs as a bed.
fn least(case: &Case, draft: &Draft, all: &[Open], rank: usize) -> Q {
    let open = &all[rank];
    let Some(scale) = open.scale.and_then(|scale| case.order.scales.get(scale)) else {
        return Q::ZERO;
    };
    let least = scale.minimum_g.ceil_to(&scale.division_g);
    let here = Source::Part(open.part);
    let act = draft.acts.iter().find(|act| act.inputs.contains(&here));
    let Some(act) = act.filter(|act| act.kind == StepKind::Liquid) else {
        return least;
    };
    let outputs = draft.outputs();
    let is_liquid = |source: &&Source| match source {
        Source::Part(part) => case.class(draft.parts[*part].ingredient) == Class::Liquid,
        Source::Act(_) => false,
    };
    let liquid = act.inputs.iter().find(is_liquid);
    let liquid = liquid.map(|source| draft.mass(*source, &outputs));
    let others = act.inputs.iter().filter(|source| **source != here);
    let held: Q = others
        .map(|source| {
            let rest = all.iter().find(|open| Source::Part(open.part) == *source);
            rest.map_or_else(
                || draft.mass(*source, &outputs),
                |rest| rest.asked.floor_to(&rest.division),
            )
        })
        .sum();
    let Some(liquid) = liquid else {
        return least;
    };
    let bed = (bed() + Q::ONE) * liquid - held;
    // Where all there is of it is no bed, the bed is short whatever is weighed, and that is said.
    let most = open.asked.ceil_to(&open.division);
    if bed > most {
        return least;
    }
    least.max(bed.ceil_to(&open.division))
}

/// Whether a rest of this mass keeps its least and every bound that the ingredient itself keeps.
fn is_kept(case: &Case, draft: &Draft, open: &Open, mass: &Q) -> bool {
    let rank = draft.parts[open.part].ingredient;
    let keeps = |mass: &Q| keeps(case.ingredient(rank), &case.amount(rank), &case.batch, mass);
    *mass >= open.least && mass.is_positive() && keeps(&(mass + &open.fixed))
}

/// The nearest reading that keeps the bounds; the nearest of all where none does.
fn nearest(case: &Case, draft: &Draft, open: &Open) -> Q {
    if open.scale.is_none() {
        return open.asked.clone();
    }
    let nearest = open.asked.round_to(&open.division).max(open.least.clone());
    let below = open.asked.floor_to(&open.division);
    let other = if nearest > below {
        below
    } else {
        &below + &open.division
    };
    if !is_kept(case, draft, open, &nearest) && is_kept(case, draft, open, &other) {
        other
    } else {
        nearest
    }
}

/// Where the first half of the largest is weighed more finely than the last, it takes up what the last cannot.
fn settle_half(case: &Case, draft: &mut Draft, open: &mut Open) {
    let ingredient = draft.parts[open.part].ingredient;
    let is_half = |part: &&mut Part| part.ingredient == ingredient && part.role == Role::Half;
    let Some(half) = draft.parts.iter_mut().find(is_half) else {
        return;
    };
    let Some(now) = &half.reading else {
        return;
    };
    let division = &case.order.scales[now.scale].division_g;
    let more = (&open.asked - &open.mass).round_to(division);
    if *division >= open.division || open.scale.is_none() {
        return;
    }
    if let Some(reading) = read(case, now.scale, &(&half.mass + &more))
        && reading.error <= now.error
    {
        half.mass += &more;
        half.reading = Some(reading);
        open.asked -= &more;
        open.fixed += more;
    }
}

/// What is still to be given; negative where there is too much.
fn left(case: &Case, draft: &Draft) -> Q {
    &case.total - draft.total()
}

/// Moves the largest remainders while the total is off by more than `slack` and comes nearer by it.
fn level(case: &Case, draft: &mut Draft, open: &mut [Open], reach: Reach, slack: &Q) {
    // Each is moved once at most.
    for _ in 0..open.len() {
        let left = left(case, draft);
        let off = left.abs();
        if off <= *slack {
            break;
        }
        let is_nearer = |open: &Open| open.division < &off * &Q::int(2);
        if !shift(case, draft, open, !left.is_negative(), reach, is_nearer) {
            break;
        }
    }
}

/// Moves the rest with the largest remainder by one division; says whether there was any.
fn shift(
    case: &Case,
    draft: &mut Draft,
    open: &mut [Open],
    is_up: bool,
    reach: Reach,
    is_wanted: impl Fn(&Open) -> bool,
) -> bool {
    let moved = |open: &Open| {
        if is_up {
            &open.mass + &open.division
        } else {
            &open.mass - &open.division
        }
    };
    let off = |open: &Open| (&moved(open) - &open.asked).abs();
    let is_able = |open: &Open| {
        let is_in_reach = match reach {
            Reach::Other => off(open) < open.division,
            Reach::Division => off(open) <= open.division,
        };
        open.scale.is_some()
            && is_in_reach
            && is_wanted(open)
            && is_kept(case, draft, open, &moved(open))
    };
    // The largest remainder, in divisions of its own scale; the heavier one where they are equal.
    let share = |open: &Open| off(open).over(&open.division).unwrap_or_default();
    let best = (0..open.len())
        .filter(|rank| is_able(&open[*rank]))
        .min_by(|a, b| {
            let (a, b) = (&open[*a], &open[*b]);
            let order = b.division.cmp(&a.division).then(share(a).cmp(&share(b)));
            order
                .then_with(|| b.asked.cmp(&a.asked))
                .then(a.part.cmp(&b.part))
        });
    let Some(best) = best else {
        return false;
    };
    open[best].mass = moved(&open[best]);
    write_back(case, draft, &open[best..=best]);
    true
}

/// Where small ingredients were snapped by more than the divisions can take up, the heaviest rest that can takes up what is over
/// one: first one whose bounds that keeps; a bound that is passed for want of such a one is said of its weighing.
fn take_up(case: &Case, draft: &mut Draft, open: &mut [Open], coarsest: &Q) {
    let left = left(case, draft);
    let off = left.abs();
    if off <= *coarsest {
        return;
    }
    open.sort_by(|a, b| b.mass.cmp(&a.mass).then(a.part.cmp(&b.part)));
    for keeps_bounds in [true, false] {
        for open in open.iter_mut().filter(|open| open.scale.is_some()) {
            let given = off.floor_to(&open.division);
            let mass = if left.is_negative() {
                &open.mass - &given
            } else {
                &open.mass + &given
            };
            let is_able = if keeps_bounds {
                is_kept(case, draft, open, &mass)
            } else {
                mass >= open.least && mass.is_positive()
            };
            if is_able && &off - &given <= *coarsest {
                open.mass = mass;
                write_back(case, draft, std::slice::from_ref(open));
                return;
            }
        }
    }
}

/// Whether snapping brought the batch beyond what the floor or the vessel takes, or beyond the reach of its pre-blends.
fn is_too_much(case: &Case, draft: &Draft) -> bool {
    let more = draft.total() - &case.total;
    if !more.is_positive() {
        return false;
    }
    if is_brimful(case.order, &case.batch, &more) {
        return true;
    }
    let ratios = ratios(case, draft);
    let of_last = ratios.last().and_then(Option::as_ref);
    of_last.is_some_and(|ratio| *ratio > case.order.method.dilutes)
}

/// Takes a division off: of the finest that suffices, else of the coarsest.
fn lower(case: &Case, draft: &mut Draft, open: &mut [Open], reach: Reach) -> bool {
    let more = draft.total() - &case.total;
    let enough = open.iter().map(|open| &open.division);
    let enough = enough.filter(|division| **division >= more).min().cloned();
    let suffices = |open: &Open| enough.as_ref().is_none_or(|most| open.division == *most);
    shift(case, draft, open, false, reach, suffices)
        || shift(case, draft, open, false, reach, |_| true)
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
        let asked = case.amount(ingredient) - &fixed;
        let scale = scale_for_rest(case, draft, ingredient, &asked, &others);
        // Better scales for the other parts leave their masses as they are.
        let division = scale.and_then(|scale| case.order.scales.get(scale));
        let division = division.map_or(Q::ZERO, |scale| scale.division_g.clone());
        open.push(Open {
            part,
            mass: asked.clone(),
            asked,
            fixed,
            scale,
            division,
            least: Q::ZERO,
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

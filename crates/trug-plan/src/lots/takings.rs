//! What one batch takes from which lot.

use std::cmp::Reverse;

use trug_model::Q;

use super::Stock;
use super::split::Rules;
use crate::amounts::Case;
use crate::order::{Ingredient, Lot};
use crate::plan::{Amount, Batch, Class, StepKind, Weighing};
use crate::scales::Reading;

/// For every weighing of a batch, the parts it is weighed in, one for each lot.
pub(super) type Takings = Vec<Vec<Taking>>;

/// What is weighed of one lot.
#[derive(Clone, Debug)]
pub(super) struct Taking {
    /// The lot; none for what no lot covers.
    pub(super) lot: Option<String>,
    pub(super) mass: Q,
    /// How it is read as a part of its own.
    pub(super) reading: Option<Reading>,
}

impl PartialEq for Taking {
    /// How a mass is read follows from the mass.
    fn eq(&self, other: &Taking) -> bool {
        self.lot == other.lot && self.mass == other.mass
    }
}

/// Lots that give for one purpose, and how much they may give for it in this batch.
struct Claim<'a> {
    lots: Vec<&'a Lot>,
    quota: Q,
}

/// What a batch takes when so much is left of the lots.
///
/// How far amounts were snapped is judged by the scales in use: where finer ones for the parts of a batch would leave that
/// unexplained, nothing of it is shared.
pub(super) fn takings(case: &Case, batch: &Batch, stock: &Stock) -> Takings {
    let shared = taken(case, batch, stock, true);
    if explains_snapping(case, batch, &shared) {
        shared
    } else {
        taken(case, batch, stock, false)
    }
}

fn taken(case: &Case, batch: &Batch, stock: &Stock, may_share: bool) -> Takings {
    let mut takings: Takings = batch.weighings.iter().map(untouched).collect();
    let mut stock = stock.clone();
    for (rank, ingredient) in case.order.ingredients.iter().enumerate() {
        if ingredient.lots.is_empty() {
            continue;
        }
        let mut rules = Rules::of(case, batch, rank, may_share);
        let mut claims = claims(case, batch, rank, ingredient);
        for weighing in in_order(batch, rank) {
            let weighed = &batch.weighings[weighing];
            takings[weighing] = take(&mut rules, weighed, &mut claims, &mut stock);
        }
    }
    takings
}

/// Whether the coarsest scale still in use explains how far the batch, and each bulk ingredient in it, is from what was asked.
fn explains_snapping(case: &Case, batch: &Batch, takings: &Takings) -> bool {
    let scales = batch
        .weighings
        .iter()
        .zip(takings)
        .flat_map(|(whole, parts)| {
            let is_whole = parts.len() < 2;
            parts.iter().map(move |part| {
                let reading = part.reading.as_ref().filter(|_| !is_whole);
                reading.map_or(whole.scale, |reading| Some(reading.scale))
            })
        });
    let divisions = scales.filter_map(|scale| Some(&case.order.scales.get(scale?)?.division_g));
    let coarsest = divisions.max().cloned().unwrap_or_default();
    let off = |amount: &Amount| (&amount.weighed_g - &amount.ordered_g).abs();
    let is_bulk = |amount: &&Amount| case.class(amount.ingredient) == Class::Bulk;
    let (bulk, others): (Vec<&Amount>, Vec<&Amount>) = batch.amounts.iter().partition(is_bulk);
    let left_over = others.into_iter().map(off).sum::<Q>() + &coarsest;
    (&batch.total_g - &case.total).abs() <= coarsest
        && bulk.into_iter().all(|amount| off(amount) <= left_over)
}

fn untouched(weighing: &Weighing) -> Vec<Taking> {
    vec![Taking {
        lot: None,
        mass: weighing.mass_g.clone(),
        reading: None,
    }]
}

/// The weighings of an ingredient: what is hardest to share first, so that a rest goes where it can go.
fn in_order(batch: &Batch, rank: usize) -> Vec<usize> {
    let is_own = |place: &usize| batch.weighings[*place].ingredient == rank;
    let mut places: Vec<usize> = (0..batch.weighings.len()).filter(is_own).collect();
    places.sort_by_key(|place| {
        let weighing = &batch.weighings[*place];
        let step = batch.steps.iter().find(|step| step.id == weighing.step);
        Reverse(step.map(|step| step.kind == StepKind::Dilute))
    });
    places
}

/// What lines name, each for its part; then what takes from any lot.
///
/// Parts end on divisions of the scale of the largest weighing, so that they can be weighed.
fn claims<'a>(
    case: &Case,
    batch: &Batch,
    rank: usize,
    ingredient: &'a Ingredient,
) -> Vec<Claim<'a>> {
    let own = || batch.weighings.iter().filter(|it| it.ingredient == rank);
    let total: Q = own().map(|weighing| &weighing.mass_g).sum();
    let largest = own().max_by(|a, b| a.mass_g.cmp(&b.mass_g));
    let scale = largest.and_then(|weighing| case.order.scales.get(weighing.scale?));
    let mut claims = Vec::new();
    let (mut named, mut given) = (Q::ZERO, Q::ZERO);
    for claim in &ingredient.named {
        let Some(lot) = ingredient.lots.get(claim.lot) else {
            continue;
        };
        named += &claim.part;
        let until = &named * &total;
        let until = match scale {
            Some(scale) if named < Q::ONE => until.round_to(&scale.division_g),
            _ => until,
        };
        claims.push(Claim {
            lots: vec![lot],
            quota: &until - &given,
        });
        given = until;
    }
    let open: Vec<&Lot> = ingredient.lots.iter().filter(|lot| lot.is_open).collect();
    if !open.is_empty() && named < Q::ONE {
        claims.push(Claim {
            lots: open,
            quota: total - given,
        });
    }
    claims
}

/// Takes one weighing from the lots, the first that has something first.
fn take(
    rules: &mut Rules<'_>,
    weighing: &Weighing,
    claims: &mut [Claim<'_>],
    stock: &mut Stock,
) -> Vec<Taking> {
    let mut taken: Vec<Taking> = Vec::new();
    let mut left = weighing.mass_g.clone();
    for claim in claims.iter_mut() {
        for lot in &claim.lots {
            if left.is_zero() {
                break;
            }
            let rest = stock.get_mut(&lot.name);
            let there = match rest.as_deref() {
                Some(Some(rest)) => rest.clone().min(claim.quota.clone()),
                _ => claim.quota.clone(),
            };
            // What it gave for another claim and what it gives for this one are weighed as one.
            let known = taken
                .iter()
                .position(|it| it.lot.as_ref() == Some(&lot.name));
            let given = known.map_or(Q::ZERO, |known| taken.remove(known).mass);
            let (more, there) = (&left + &given, there + &given);
            let mass = rules.most(weighing, &taken, &more, &there);
            let mass = mass.unwrap_or_else(|| given.clone());
            let gain = &mass - &given;
            if let Some(Some(rest)) = rest {
                *rest -= &gain;
            }
            claim.quota -= &gain;
            left -= &gain;
            if mass.is_positive() {
                taken.push(rules.taking(Some(&lot.name), mass));
            }
        }
    }
    if taken.is_empty()
        && let Some(lot) = whole(weighing, claims, stock)
    {
        taken.push(rules.taking(Some(&lot), std::mem::take(&mut left)));
    }
    if left.is_positive() {
        taken.push(rules.taking(None, left));
    }
    rules.settle(weighing, &taken);
    taken
}

/// A weighing too small to be shared between what lines name is taken from the first of those that has it all.
fn whole(weighing: &Weighing, claims: &mut [Claim<'_>], stock: &mut Stock) -> Option<String> {
    let claimed: Q = claims.iter().map(|claim| &claim.quota).sum();
    if claims.len() < 2 || claimed < weighing.mass_g {
        return None;
    }
    for lot in claims.iter().flat_map(|claim| &claim.lots) {
        match stock.get_mut(&lot.name) {
            Some(Some(rest)) if *rest >= weighing.mass_g => *rest -= &weighing.mass_g,
            Some(Some(_)) => continue,
            _ => {}
        }
        return Some(lot.name.clone());
    }
    None
}

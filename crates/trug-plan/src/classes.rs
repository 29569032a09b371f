//! Which ingredients are small, bulk or liquid, and which of the bulk may carry.

use trug_model::Q;

use crate::amounts::inclusion;
use crate::apart::Pair;
use crate::order::{Carry, Ingredient, Order};
use crate::plan::{Class, Kind};

/// The kind of each ingredient, by its rank.
pub(crate) fn classify(order: &Order, pairs: &[Pair]) -> Vec<Kind> {
    let mut classes: Vec<Class> = order
        .ingredients
        .iter()
        .map(|ingredient| class(ingredient, &order.method.small))
        .collect();
    if let Some(largest) = largest_without_bulk(order, &classes) {
        classes[largest] = Class::Bulk;
    }
    let may_carry = |rank: usize| {
        let ingredient = &order.ingredients[rank];
        classes[rank] == Class::Bulk
            && ingredient.carry != Some(Carry::NotCarrier)
            && !ingredient.is_liquid
            && !is_apart_from_small(rank, pairs, &classes)
    };
    (0..classes.len())
        .map(|rank| Kind {
            class: classes[rank],
            may_carry: may_carry(rank),
        })
        .collect()
}

fn class(ingredient: &Ingredient, small: &Q) -> Class {
    match ingredient.carry {
        _ if ingredient.is_liquid => Class::Liquid,
        Some(Carry::Small) => Class::Small,
        Some(Carry::Bulk | Carry::NotCarrier) => Class::Bulk,
        None if inclusion(ingredient) < *small => Class::Small,
        None => Class::Bulk,
    }
}

/// Where nothing is bulk: the largest that is not liquid, else the largest.
fn largest_without_bulk(order: &Order, classes: &[Class]) -> Option<usize> {
    let shares: Vec<Q> = order.ingredients.iter().map(inclusion).collect();
    let has_bulk =
        (0..shares.len()).any(|rank| classes[rank] == Class::Bulk && shares[rank].is_positive());
    if has_bulk {
        return None;
    }
    let largest = |wanted: Class| {
        let mut best: Option<usize> = None;
        for rank in 0..shares.len() {
            let is_larger = best.is_none_or(|other| shares[rank] > shares[other]);
            if classes[rank] == wanted && shares[rank].is_positive() && is_larger {
                best = Some(rank);
            }
        }
        best
    };
    largest(Class::Small).or_else(|| largest(Class::Liquid))
}

fn is_apart_from_small(rank: usize, pairs: &[Pair], classes: &[Class]) -> bool {
    pairs.iter().any(|pair| {
        pair.partner_of(rank)
            .is_some_and(|other| classes[other] == Class::Small)
    })
}

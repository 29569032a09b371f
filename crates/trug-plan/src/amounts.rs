//! What one batch asks of each ingredient: shares times the batch, exactly.

use trug_model::Q;

use crate::apart::Pair;
use crate::order::{Ingredient, Order};
use crate::plan::{Class, Kind};

/// One batch of an order, as the later phases see it.
pub(crate) struct Case<'a> {
    pub(crate) order: &'a Order,
    pub(crate) kinds: &'a [Kind],
    /// The pairs of which both are there.
    pub(crate) pairs: Vec<Pair>,
    /// What the ration asks of each ingredient.
    pub(crate) amounts: Vec<Q>,
    /// The 100 %.
    pub(crate) batch: Q,
    /// With what goes on top.
    pub(crate) total: Q,
}

/// The case of one of `times` equal batches.
pub(crate) fn of_one_batch<'a>(
    order: &'a Order,
    kinds: &'a [Kind],
    pairs: &[Pair],
    times: u32,
) -> Case<'a> {
    let batch = order.mass_g.clone().max(Q::ZERO) / Q::int(i64::from(times.max(1)));
    let amounts: Vec<Q> = order
        .ingredients
        .iter()
        .map(|ingredient| inclusion(ingredient) * &batch)
        .collect();
    let total = amounts.iter().sum();
    let is_there = |rank: usize| amounts.get(rank).is_some_and(Q::is_positive);
    let pairs = pairs
        .iter()
        .filter(|pair| is_there(pair.first) && is_there(pair.second));
    let pairs = pairs.cloned().collect();
    Case {
        order,
        kinds,
        pairs,
        amounts,
        batch,
        total,
    }
}

/// The share of an ingredient, never below nothing.
pub(crate) fn inclusion(ingredient: &Ingredient) -> Q {
    ingredient.share.clone().max(Q::ZERO)
}

/// The 100 % and the tops, as a fraction of the 100 %.
pub(crate) fn whole(order: &Order) -> Q {
    order.ingredients.iter().map(inclusion).sum()
}

impl Case<'_> {
    /// The ingredients of a class that are there at all, in the order of the ration.
    pub(crate) fn of_class(&self, class: Class) -> Vec<usize> {
        let is_there = |rank: &usize| self.amounts.get(*rank).is_some_and(Q::is_positive);
        (0..self.kinds.len())
            .filter(|rank| {
                self.kinds
                    .get(*rank)
                    .is_some_and(|kind| kind.class == class)
            })
            .filter(is_there)
            .collect()
    }

    /// What the ration asks of one ingredient.
    pub(crate) fn amount(&self, rank: usize) -> Q {
        self.amounts.get(rank).cloned().unwrap_or_default()
    }

    /// The ingredient itself.
    pub(crate) fn ingredient(&self, rank: usize) -> &Ingredient {
        &self.order.ingredients[rank]
    }

    /// Its name.
    pub(crate) fn name(&self, rank: usize) -> &str {
        &self.ingredient(rank).name
    }

    /// Its class.
    pub(crate) fn class(&self, rank: usize) -> Class {
        self.kinds[rank].class
    }
}

//! What purchases cost, each in its own currency, and together.

use smol_str::SmolStr;
use trug_model::view::{Ingredient, Price};
use trug_model::{Q, View};

use crate::buying::{Money, Sacks};

/// What is bought where so much is short: whole sacks, or whole kilograms where no sack is known.
pub(crate) fn whole(short: &Q, ingredient: &Ingredient) -> (Q, Option<Sacks>) {
    let sack = ingredient.sold_in.as_ref();
    let sacks = sack.and_then(|each| {
        Some(Sacks {
            count: short.over(each)?.ceil(),
            each: each.clone(),
        })
    });
    let mass = match &sacks {
        Some(sacks) => &sacks.count * &sacks.each,
        None => short.ceil(),
    };
    (mass, sacks)
}

/// What so many kg cost.
pub(crate) fn cost(mass: &Q, price: &Price) -> Money {
    Money {
        amount: mass * &price.value,
        currency: price.currency.clone(),
    }
}

/// Adds money up in the currency that comes first; what no rate leads there from stays on its own.
pub(crate) fn totals<'a>(
    costs: impl Iterator<Item = (&'a Money, Option<&'a View<'a>>)>,
) -> Vec<Money> {
    let mut totals: Vec<Money> = Vec::new();
    for (cost, view) in costs {
        let into = |total: &Money| {
            if total.currency == cost.currency {
                return Some(cost.amount.clone());
            }
            view?.exchanged(&cost.amount, &cost.currency, &total.currency)
        };
        let known = totals
            .iter()
            .enumerate()
            .find_map(|(rank, total)| Some((rank, into(total)?)));
        match known.and_then(|(rank, amount)| Some((totals.get_mut(rank)?, amount))) {
            Some((total, amount)) => total.amount += amount,
            None => totals.push(Money {
                amount: cost.amount.clone(),
                currency: SmolStr::clone(&cost.currency),
            }),
        }
    }
    totals
}

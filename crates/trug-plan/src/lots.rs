//! From which deliveries each batch is weighed: what expires first goes first.
//!
//! A weighing that one lot does not cover becomes several of the same step, one for each lot, which together are that
//! weighing. What is left of a lot and cannot be weighed within the rules stays behind. Batches that differ only in their lots
//! are told apart.

pub(crate) mod judge;
mod rewrite;
mod split;
mod takings;
pub(crate) mod verdicts;

use std::collections::BTreeMap;

use trug_model::Q;

use crate::amounts::Case;
use crate::order::Order;
use crate::plan::Batch;
use takings::{Takings, takings};

/// What is left of each lot, in grams, by its name; none where nobody says.
type Stock = BTreeMap<String, Option<Q>>;

/// The batches of a plan with the lots of every weighing: an entry for all that are done alike and one after the other.
pub(crate) fn allot(case: &Case, batch: Batch) -> Vec<Batch> {
    let mut stock = on_hand(case.order);
    if stock.is_empty() {
        return vec![batch];
    }
    let mut batches = Vec::new();
    let mut left = batch.times;
    let mut number = 1;
    while left > 0 {
        let takings = takings(case, &batch, &stock);
        let times = runs(case, &batch, &stock, &takings, left);
        batches.push(rewrite::rewrite(case, &batch, &takings, (number, times)));
        if let Some(less) = less(&stock, &takings, times) {
            stock = less;
        }
        left -= times;
        number += 1;
    }
    batches
}

fn on_hand(order: &Order) -> Stock {
    let lots = order.ingredients.iter().flat_map(|it| &it.lots);
    lots.map(|lot| (lot.name.clone(), lot.on_hand_g.clone()))
        .collect()
}

/// How many batches in a row take the same: of at most `left`, and at least this one.
///
/// What a weighing takes of a lot never grows as the lots shrink; so where the first and the last take the same, all between do.
fn runs(case: &Case, batch: &Batch, stock: &Stock, same: &Takings, left: u32) -> u32 {
    let is_same = |times: u32| {
        let before = less(stock, same, times - 1);
        before.is_some_and(|stock| takings(case, batch, &stock) == *same)
    };
    if is_same(left) {
        return left;
    }
    let (mut most, mut over) = (1, left);
    while most + 1 < over {
        let middle = most + (over - most) / 2;
        if is_same(middle) {
            most = middle;
        } else {
            over = middle;
        }
    }
    most
}

/// What is left after so many batches; none where a lot has not so much.
fn less(stock: &Stock, takings: &Takings, times: u32) -> Option<Stock> {
    let mut stock = stock.clone();
    for taking in takings.iter().flatten() {
        let Some(name) = &taking.lot else { continue };
        if let Some(Some(left)) = stock.get_mut(name) {
            *left -= &taking.mass * &Q::int(i64::from(times));
            if left.is_negative() {
                return None;
            }
        }
    }
    Some(stock)
}

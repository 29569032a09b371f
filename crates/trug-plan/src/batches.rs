//! Into how many equal batches an order is split.

use trug_model::Q;

use crate::amounts::{inclusion, whole};
use crate::order::{MixesIn, Order};

/// How full a vessel may be.
pub(crate) fn fullest() -> Q {
    Q::ratio(7, 10)
}

/// The fewest equal batches that the floor, or the vessel that mixes, takes.
///
/// A floor counts the 100 %, as its line is written; a vessel must hold what goes on top too. Where a density is
/// not known the vessel's bound cannot be told, and nothing is split: the last step then stands on the floor.
pub(crate) fn count(order: &Order) -> u32 {
    let most = Q::int(i64::from(u32::MAX));
    let fewest = fewest(order).and_then(|batches| batches.min(most).to_i64());
    u32::try_from(fewest.unwrap_or(1).max(1)).unwrap_or(u32::MAX)
}

/// Whether these are more batches than there are numbers for.
pub(crate) fn are_countless(order: &Order) -> bool {
    fewest(order).is_some_and(|batches| Q::int(i64::from(u32::MAX)) < batches)
}

fn fewest(order: &Order) -> Option<Q> {
    let batches = match &order.method.mixes_in {
        MixesIn::Floor(None) => None,
        MixesIn::Floor(Some(floor)) => order.mass_g.over(floor),
        MixesIn::Vessel(rank) => order
            .vessels
            .get(*rank)
            .and_then(|vessel| litres(order)?.over(&(fullest() * &vessel.litres))),
    };
    batches.map(|batches| batches.ceil())
}

/// What the whole order fills, tops included; none where a density is not known.
fn litres(order: &Order) -> Option<Q> {
    let mut litres = Q::ZERO;
    for ingredient in &order.ingredients {
        let mass = inclusion(ingredient) * &order.mass_g;
        if mass.is_positive() {
            litres += mass.over(ingredient.g_per_litre.as_ref()?)?;
        }
    }
    Some(litres)
}

/// Whether one batch is so near to what the floor or the vessel takes that no gram may be weighed beyond it.
pub(crate) fn is_brimful(order: &Order, batch: &Q, division: &Q) -> bool {
    match &order.method.mixes_in {
        MixesIn::Floor(floor) => floor
            .as_ref()
            .is_some_and(|floor| batch + division > *floor),
        MixesIn::Vessel(rank) => {
            let vessel = order.vessels.get(*rank);
            let share = batch.over(&order.mass_g).unwrap_or_default();
            let per_batch = litres(order).map(|litres| litres * share);
            let density = per_batch
                .as_ref()
                .and_then(|litres| (batch * whole(order)).over(litres));
            let division_litres = density.and_then(|density| division.over(&density));
            match (vessel, per_batch, division_litres) {
                (Some(vessel), Some(litres), Some(more)) => {
                    litres + more > fullest() * &vessel.litres
                }
                _ => false,
            }
        }
    }
}

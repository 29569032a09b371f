//! The deliveries an ingredient can be taken from, in the order they are to be used.

use jiff::civil::Date;
use trug_model::Q;
use trug_model::ration::Line;
use trug_model::view::Lot as InView;

use super::grams;
use crate::order::{Lot, Named};

/// The lots of an ingredient whose lines these are, and what the lines take from one of them alone.
///
/// What expires first is used first; lots that keep for ever come last, and of lots alike the one that came first. A lot that is
/// past its day, or of which nobody says how much is left, is taken only where a line names it.
pub(super) fn lots(
    all: &[InView],
    lines: &[&Line],
    share: &Q,
    today: Option<Date>,
) -> (Vec<Lot>, Vec<Named>) {
    let Some(first) = lines.first() else {
        return (Vec::new(), Vec::new());
    };
    let is_named = |lot: &InView| {
        lines
            .iter()
            .any(|line| line.lot.as_ref() == Some(&lot.name))
    };
    let is_open = |lot: &InView| lot.on_hand.is_some() && !is_past(lot, today);
    let mut own: Vec<&InView> = all
        .iter()
        .filter(|lot| lot.of == first.name && (is_open(lot) || is_named(lot)))
        .collect();
    own.sort_by_key(|lot| {
        let day = |day: Option<Date>| (day.is_none(), day);
        (day(lot.best_before), day(lot.received), &lot.name)
    });
    let mut named: Vec<Named> = Vec::new();
    for line in lines {
        let place = own
            .iter()
            .position(|lot| Some(&lot.name) == line.lot.as_ref());
        let (Some(lot), Some(part)) = (place, line.low.over(share)) else {
            continue;
        };
        match named.iter_mut().find(|named| named.lot == lot) {
            Some(known) => known.part += part,
            None => named.push(Named { lot, part }),
        }
    }
    let lots = own.into_iter().map(|lot| Lot {
        name: lot.name.to_string(),
        best_before: lot.best_before,
        on_hand_g: lot.on_hand.as_ref().map(grams),
        is_open: is_open(lot),
    });
    (lots.collect(), named)
}

/// Whether a lot is past its day; without a day nothing is.
pub(crate) fn is_past(lot: &InView, today: Option<Date>) -> bool {
    today.is_some_and(|today| lot.is_past(today))
}

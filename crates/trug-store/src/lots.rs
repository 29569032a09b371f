//! The lots that count: those a text with groups sees, without an error, with something on hand.

use std::collections::{BTreeMap, BTreeSet};

use trug_findings::Place;
use trug_model::view::Lot;
use trug_model::{Farm, Q};
use trug_syntax::tree::ItemBody;

use crate::buying::{Judged, LeftOut, WhyLeftOut};
use crate::eaten::{Table, errors_within};
use crate::mixes::{Day, Days};

/// A lot that can be taken from.
#[derive(Clone, Debug)]
pub(crate) struct Held {
    pub(crate) lot: Lot,
    /// What it is of, by its rank among the feeds.
    pub(crate) feed: usize,
    pub(crate) on_hand: Q,
    /// The first day it is there, counted from today; it may be past.
    pub(crate) from: Day,
    /// The last day it is good.
    pub(crate) until: Option<Day>,
}

/// All lots, and who sees which of them.
#[derive(Debug, Default)]
pub(crate) struct Lots {
    pub(crate) all: Vec<Held>,
    /// By view and feed, in the order they are taken: what expires first, then what came first, then by name.
    seen: BTreeMap<(usize, usize), Vec<usize>>,
    /// Feeds of which a text says how much is on hand, even if nothing is.
    pub(crate) told: BTreeSet<usize>,
    pub(crate) left_out: Vec<LeftOut>,
}

impl Lots {
    pub(crate) fn of(farm: &Farm, table: &mut Table<'_>, judged: Judged<'_>, days: &Days) -> Lots {
        let mut lots = Lots::default();
        let mut known: BTreeMap<Place, Option<usize>> = BTreeMap::new();
        for view in 0..table.views.len() {
            let visible = table.views.get(view).map(|view| view.all_lots());
            for lot in visible.into_iter().flatten() {
                let feed = table.feeds.named(&table.views, view, &lot.of);
                let Some(feed) = feed else { continue };
                let place = lot.place;
                let rank = match known.get(&place) {
                    Some(rank) => *rank,
                    None => lots.hold(farm, lot, feed, judged, days),
                };
                known.insert(place, rank);
                if let Some(rank) = rank {
                    lots.seen.entry((view, feed)).or_default().push(rank);
                }
            }
        }
        for ranks in lots.seen.values_mut() {
            let all = &lots.all;
            ranks.sort_by_key(|rank| all.get(*rank).map(order));
        }
        if matches!(judged, Judged::Found(_)) {
            lots.unseen(farm, &known);
        }
        lots
    }

    /// The lots of a feed that a view sees, in the order they are taken.
    pub(crate) fn seen(&self, view: usize, feed: usize) -> &[usize] {
        self.seen.get(&(view, feed)).map_or(&[], Vec::as_slice)
    }

    fn hold(
        &mut self,
        farm: &Farm,
        lot: Lot,
        feed: usize,
        judged: Judged<'_>,
        days: &Days,
    ) -> Option<usize> {
        if has_errors(farm, &lot, judged) {
            self.left_out.push(left_out(&lot, WhyLeftOut::HasErrors));
            return None;
        }
        let on_hand = lot.on_hand.clone()?;
        self.told.insert(feed);
        if !on_hand.is_positive() {
            return None;
        }
        self.all.push(Held {
            feed,
            on_hand,
            from: lot.received.map_or(0, |day| days.of(day)),
            until: lot.best_before.map(|day| days.of(day)),
            lot,
        });
        Some(self.all.len() - 1)
    }

    /// Lots of the texts that were read and that no text with groups sees: people think they count.
    fn unseen(&mut self, farm: &Farm, known: &BTreeMap<Place, Option<usize>>) {
        for text in farm.files() {
            let mut items = farm.tree(text).items.iter();
            let has_lots = items.any(|item| matches!(item.body, ItemBody::Lot(_)));
            if farm.is_book(text) || farm.is_table(text) || !has_lots {
                continue;
            }
            for lot in farm.open(text).all_lots() {
                let has_stock = lot.on_hand.as_ref().is_some_and(Q::is_positive);
                if lot.place.file == text && has_stock && !known.contains_key(&lot.place) {
                    self.left_out.push(left_out(&lot, WhyLeftOut::NotSeen));
                }
            }
        }
    }
}

fn order(held: &Held) -> (bool, Option<Day>, Day, smol_str::SmolStr, Place) {
    (
        held.until.is_none(),
        held.until,
        held.from,
        held.lot.name.clone(),
        held.lot.place,
    )
}

fn left_out(lot: &Lot, why: WhyLeftOut) -> LeftOut {
    LeftOut {
        lot: lot.name.clone(),
        of: lot.of.clone(),
        place: lot.place,
        on_hand: lot.on_hand.clone(),
        why,
    }
}

/// Whether its item has an error: its last good day may be what could not be read.
fn has_errors(farm: &Farm, lot: &Lot, judged: Judged<'_>) -> bool {
    let items = &farm.tree(lot.place.file).items;
    let start = lot.place.span.start;
    let item = items
        .iter()
        .find(|item| item.whole.start <= start && start <= item.whole.end);
    let Some(item) = item else { return true };
    match judged {
        Judged::Found(found) => !errors_within(lot.place.file, item.whole, found).is_empty(),
        Judged::AtAGlance { .. } => item.has_unread_line,
    }
}

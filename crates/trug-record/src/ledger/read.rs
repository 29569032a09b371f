//! Reads a farm's lots, records and groups: each name means what it means in the text it stands in.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use trug_findings::{FileId, Place};
use trug_model::view::{Record, Withdrawal};
use trug_model::{Farm, Namespace, Q, View};
use trug_syntax::tree::{self, GroupStatement, ItemBody};

use super::{Candidates, Delivery, Fed, Group, Ledger, Made, Medicated, Part, PartSource};

/// Ranks by where an item is named.
type Ranks = BTreeMap<Place, usize>;

pub(super) fn ledger(farm: &Farm, files: &[FileId]) -> Ledger {
    let files: Vec<FileId> = files
        .iter()
        .copied()
        .filter(|file| !farm.is_book(*file) && !farm.is_table(*file))
        .collect();
    let mut ledger = Ledger {
        texts: files.len(),
        ..Ledger::default()
    };
    let mut records: Vec<(Record, FileId)> = Vec::new();
    for &file in &files {
        let view = farm.open(file);
        let lots = view.all_lots().into_iter();
        let mut lots: Vec<_> = lots.filter(|lot| lot.place.file == file).collect();
        lots.sort_by_key(|lot| lot.place);
        ledger.lots.extend(lots.into_iter().map(|lot| Delivery {
            feed: feed(&view, &lot.of),
            lot,
        }));
        for named in farm.records(file) {
            records.extend(view.record(&named).map(|record| (record, file)));
        }
        for item in &farm.tree(file).items {
            if let ItemBody::Group(written) = &item.body {
                ledger.groups.push(group(&view, file, written));
            }
            let is_followed = matches!(item.body, ItemBody::Group(_) | ItemBody::Lot(_));
            let is_unread = matches!(item.body, ItemBody::Unread(_));
            if is_unread || is_followed && item.has_unread_line {
                ledger.unread.extend(name_of(farm, file));
            }
        }
        if view.is_incomplete() {
            ledger.incomplete.extend(name_of(farm, file));
        }
    }
    ledger.unread.dedup();
    let ranks = |places: Vec<Place>| places.into_iter().zip(0..).collect::<Ranks>();
    let at = At {
        lots: ranks(ledger.lots.iter().map(|it| it.lot.place).collect()),
        records: ranks(records.iter().map(|(record, _)| record.place).collect()),
        groups: ranks(ledger.groups.iter().map(|it| it.place).collect()),
    };
    let mut own: Option<View<'_>> = None;
    let mut made: Vec<Made> = Vec::new();
    for (record, file) in records {
        // Records of one text stand together, so its view is opened once.
        let view = match own.take() {
            Some(view) if view.file() == file => own.insert(view),
            _ => own.insert(farm.open(file)),
        };
        made.push(at.made(view, record));
    }
    name_mixes(&mut made);
    add_medicated_mixes(&mut made);
    ledger.records = made;
    ledger
}

fn name_of(farm: &Farm, file: FileId) -> Option<String> {
    Some(farm.sources().get(file.index())?.name().to_owned())
}

fn group(view: &View<'_>, file: FileId, written: &tree::Group) -> Group {
    let mut animals = Vec::new();
    let mut eats = BTreeSet::new();
    for line in &written.lines {
        match &line.statement {
            Some(GroupStatement::Animals { count, animal }) => {
                let head = Q::decimal(&count.digits).unwrap_or_default();
                animals.push((head, animal.text.clone()));
            }
            Some(GroupStatement::Eats { ration, .. }) => {
                eats.extend(declared(view, Namespace::Feed, &ration.text));
            }
            _ => {}
        }
    }
    Group {
        name: written.name.text.clone(),
        label: written.label.as_ref().map(|label| label.text.clone()),
        place: Place::new(file, written.name.span),
        animals,
        eats,
    }
}

/// Where a name is declared.
fn declared(view: &View<'_>, namespace: Namespace, name: &str) -> Option<Place> {
    let (file, item) = view.declaration(namespace, name)?;
    Some(Place::new(file, item.body.name()?.span))
}

/// Where a feed is declared; none where only a book or a table does, to which any text may add.
fn feed(view: &View<'_>, name: &str) -> Option<Place> {
    let place = declared(view, Namespace::Feed, name)?;
    let farm = view.farm();
    (!farm.is_book(place.file) && !farm.is_table(place.file)).then_some(place)
}

/// The items of the ledger by where they are named.
struct At {
    lots: Ranks,
    records: Ranks,
    groups: Ranks,
}

impl At {
    fn made(&self, view: &View<'_>, record: Record) -> Made {
        let parts: Vec<Part> = record
            .weighed
            .iter()
            .map(|weighed| Part {
                name: weighed.name.clone(),
                feed: feed(view, &weighed.name),
                kg: weighed.kg.clone(),
                source: self.source(view, &weighed.name, weighed.lot.as_ref()),
            })
            .collect();
        let total = parts.iter().map(|part| part.kg.clone());
        let total: Option<Vec<Q>> = total.collect();
        let total = total.filter(|all| !all.is_empty());
        let fed = record.fed.iter().map(|fed| Fed {
            name: fed.group.clone(),
            group: declared(view, Namespace::Group, &fed.group)
                .and_then(|place| self.groups.get(&place).copied()),
            from: fed.from.map(|(day, _)| day),
            to: fed.to.map(|(day, _)| day),
        });
        let made_out = view.made_out(&record.of);
        Made {
            ration: declared(view, Namespace::Feed, &record.of),
            for_mixing: made_out.is_some_and(|ration| ration.for_mixing),
            total: total.map(|all| all.iter().sum()).filter(Q::is_positive),
            fed: fed.collect(),
            unweighed: if record.weighed.is_empty() {
                unweighed(view, &record)
            } else {
                Vec::new()
            },
            medicated: medicated(view, &record),
            parts,
            record,
        }
    }

    fn source(
        &self,
        view: &View<'_>,
        of: &str,
        lot: Option<&(smol_str::SmolStr, Place)>,
    ) -> PartSource {
        let Some((name, _)) = lot else {
            // Which records a mix may be of is known when all of them are.
            let is_mix = view.made_out(of).is_some();
            return if is_mix {
                PartSource::Mix(Candidates::default())
            } else {
                PartSource::NotSaid
            };
        };
        let rank = |namespace, ranks: &Ranks| {
            declared(view, namespace, name).and_then(|place| ranks.get(&place).copied())
        };
        if let Some(lot) = rank(Namespace::Lot, &self.lots) {
            return PartSource::Lot(lot);
        }
        let record = rank(Namespace::Record, &self.records);
        record.map_or_else(|| PartSource::UnknownLot(name.clone()), PartSource::Record)
    }
}

fn unweighed(view: &View<'_>, record: &Record) -> Vec<smol_str::SmolStr> {
    let ration = view.made_out(&record.of);
    let ingredients = ration.map(|ration| ration.ingredients());
    let names = ingredients.into_iter().flatten();
    names.map(|ingredient| ingredient.name.clone()).collect()
}

/// What a record holds that has a withdrawal: what was weighed first, then what the ration holds beside.
fn medicated(view: &View<'_>, record: &Record) -> Vec<Medicated> {
    let mut medicated: Vec<Medicated> = Vec::new();
    let mut add = |name: &smol_str::SmolStr, withdrawals: &[Withdrawal], is_weighed: bool| {
        for withdrawal in withdrawals {
            let is_known = medicated
                .iter()
                .any(|known| known.ingredient == *name && known.place == withdrawal.place);
            if !is_known {
                medicated.push(Medicated {
                    ingredient: name.clone(),
                    days: withdrawal.days.clone(),
                    product: withdrawal.product.clone(),
                    place: withdrawal.place,
                    is_weighed,
                });
            }
        }
    };
    for weighed in &record.weighed {
        if let Some(ingredient) = view.ingredient_called(&weighed.name) {
            add(&ingredient.name, &ingredient.withdrawals, true);
        } else if let Some(mix) = view.made_out(&weighed.name) {
            for ingredient in mix.ingredients() {
                add(&ingredient.name, &ingredient.withdrawals, true);
            }
        }
    }
    if let Some(ration) = view.made_out(&record.of) {
        for ingredient in ration.ingredients() {
            add(&ingredient.name, &ingredient.withdrawals, false);
        }
    }
    medicated
}

/// So many records a mix may be of are followed; older ones are counted.
const MOST_CANDIDATES: usize = 500;

/// A mix that was weighed without its record may be any that was made by that day.
fn name_mixes(made: &mut [Made]) {
    let mut by_ration: BTreeMap<Place, Vec<(Option<Date>, usize)>> = BTreeMap::new();
    for (rank, one) in made.iter().enumerate() {
        if let Some(ration) = one.ration {
            by_ration.entry(ration).or_default().push((one.day(), rank));
        }
    }
    // Where a day is not known, it is not known to be too late: those come first.
    by_ration.values_mut().for_each(|records| records.sort());
    let mut shared: BTreeMap<(Place, usize), Candidates> = BTreeMap::new();
    for one in made.iter_mut() {
        let (day, ration) = (one.day(), one.ration);
        for part in &mut one.parts {
            let Some(feed) = part.feed else { continue };
            let PartSource::Mix(mixes) = &mut part.source else {
                continue;
            };
            // A ration in itself is a circle, of which no record can be right.
            let records = by_ration.get(&feed).filter(|_| ration != Some(feed));
            let records = records.map_or(&[][..], Vec::as_slice);
            let by_then = records.partition_point(|(made, _)| {
                made.is_none_or(|made| day.is_none_or(|day| made <= day))
            });
            let candidates = shared.entry((feed, by_then));
            *mixes = candidates
                .or_insert_with(|| {
                    let older = by_then.saturating_sub(MOST_CANDIDATES);
                    let followed = records.get(older..by_then).unwrap_or_default();
                    Candidates {
                        records: followed.iter().map(|(_, rank)| *rank).collect(),
                        older,
                    }
                })
                .clone();
        }
    }
}

/// What is medicated in the mix of a record that is named is in what it was mixed into.
fn add_medicated_mixes(made: &mut [Made]) {
    // Mixes in mixes: each round carries them a step further, and a circle ends with the rounds.
    const MOST_ROUNDS: usize = 16;
    for _ in 0..MOST_ROUNDS {
        let mut has_grown = false;
        for rank in 0..made.len() {
            let Some(one) = made.get(rank) else { continue };
            let mixes = one.parts.iter().filter_map(|part| match &part.source {
                PartSource::Record(mix) => made.get(*mix),
                _ => None,
            });
            let more: Vec<Medicated> = mixes
                .flat_map(|mix| mix.medicated.iter())
                .filter(|more| {
                    one.medicated.iter().all(|known| {
                        known.ingredient != more.ingredient || known.place != more.place
                    })
                })
                .cloned()
                .collect();
            has_grown |= !more.is_empty();
            if let Some(one) = made.get_mut(rank) {
                one.medicated.extend(more);
            }
        }
        if !has_grown {
            break;
        }
    }
}

//! Names of the farm as candidates: with label and price, those not used yet first.

use std::collections::BTreeSet;

use trug_model::{KnownName, Namespace};
use trug_syntax::tree::{
    IngredientStatement, Item, ItemBody, LotStatement, RationStatement, RecordStatement,
};

use super::{CandidateKind, Offer, Offers};
use crate::cards::text_at;
use crate::parts::{self, LineRef, Part};

impl Offers<'_> {
    /// Names of one kind, with their labels.
    pub(super) fn names(&mut self, group: usize, namespace: Namespace) {
        for known in self.view.names(namespace) {
            if self.is_far_too_many() {
                return;
            }
            let label = self.item_of(&known).and_then(label).unwrap_or_default();
            self.push(group, named(namespace, &known.name, &label));
        }
    }

    /// More than are ever offered, and enough to choose the best from.
    pub(super) fn is_far_too_many(&self) -> bool {
        self.candidates.len() > 4 * super::MOST
    }

    fn item_of(&self, known: &KnownName) -> Option<&Item> {
        let items = &self.view.farm().tree(known.item.file).items;
        items.get(known.item.rank as usize)
    }

    /// What a book declares and this text may add to.
    pub(super) fn of_books(&mut self, group: usize, namespace: Namespace) {
        for known in self.view.names(namespace) {
            if self.view.farm().is_book(known.item.file) {
                let label = self.item_of(&known).and_then(label).unwrap_or_default();
                self.push(group, named(namespace, &known.name, &label));
            }
        }
    }

    /// Ingredients and rations with label and price, those this item does not name first.
    pub(super) fn feeds(&mut self, group: usize, is_wanted: impl Fn(bool) -> bool) {
        let used = self.named_in_item(Namespace::Feed);
        let own = self
            .own_item()
            .and_then(|item| item.body.name())
            .map(|name| name.text.clone());
        for known in self.view.names(Namespace::Feed) {
            let Some(item) = self.item_of(&known) else {
                continue;
            };
            let is_ration = matches!(item.body, ItemBody::Ration(_));
            if !is_wanted(is_ration) || own.as_ref() == Some(&known.name) {
                continue;
            }
            if self.is_far_too_many() {
                return;
            }
            let mut offer = named(
                Namespace::Feed,
                &known.name,
                &label(item).unwrap_or_default(),
            );
            if is_ration {
                offer.kind = CandidateKind::Ration;
            } else if let Some(price) = self.price(&known.name) {
                let gap = if offer.detail.is_empty() { "" } else { ", " };
                offer.detail.push_str(&format!("{gap}{price}"));
            }
            let is_used = usize::from(used.contains(known.name.as_str()));
            self.push(group + is_used, offer);
        }
    }

    /// The price of an ingredient as it is written, the farm's own before a table's and the book's.
    fn price(&self, name: &str) -> Option<String> {
        let items = self.view.written(Namespace::Feed, name);
        let mut prices = items.iter().rev().filter_map(|(file, item)| {
            let ItemBody::Ingredient(written) = &item.body else {
                return None;
            };
            let value = written
                .lines
                .iter()
                .find_map(|line| match &line.statement {
                    IngredientStatement::Price { value, .. } => Some(value),
                    _ => None,
                })?;
            let measure = self.view.measured(value, *file, None)?;
            Some(measure.unit.say(&measure.value))
        });
        prices.next()
    }

    /// The item whose line is written.
    pub(super) fn own_item(&self) -> Option<&Item> {
        let header = self.place.header?;
        let items = &self.view.farm().tree(self.file).items;
        items
            .iter()
            .find(|item| item.header.start as usize == header)
    }

    /// The names of a kind in the other lines of the item.
    pub(super) fn named_in_item(&self, namespace: Namespace) -> BTreeSet<String> {
        let Some(item) = self.own_item() else {
            return BTreeSet::new();
        };
        let at = self.place.word;
        let is_other = |line: &LineRef<'_>| !parts::touches(line.span(), at);
        let lines = parts::lines(&item.body).into_iter().filter(is_other);
        let mut names = BTreeSet::new();
        for line in lines {
            // A line that bounds several is no line of any of them.
            if let LineRef::Ration(line) = line
                && !matches!(line.statement, RationStatement::Amount(_))
            {
                continue;
            }
            for part in line.parts() {
                if let Part::Name(kind, name) = part
                    && kind == namespace
                {
                    names.insert(name.text.to_string());
                }
            }
        }
        names
    }

    /// What an ingredient holds, for what it gives.
    pub(super) fn actives(&mut self, group: usize, of: &str) {
        let Some(ingredient) = self.view.ingredient_called(of) else {
            return self.names(group, Namespace::Nutrient);
        };
        for (nutrient, content) in &ingredient.contents {
            let counted = self.view.counted(nutrient);
            let holds = counted
                .map(|counted| counted.unit.say(&content.value))
                .unwrap_or_default();
            let offer = Offer::new(nutrient.as_str(), CandidateKind::Nutrient);
            self.push(group, offer.detail(holds).about("nutrient", nutrient));
        }
    }

    /// The deliveries of an ingredient, with what is left of each.
    pub(super) fn lots(&mut self, group: usize, of: &str) {
        for lot in self.view.lots_of(of) {
            let mut detail: Vec<String> = lot.label.iter().cloned().collect();
            if let Some((file, item)) = self.view.declaration(Namespace::Lot, &lot.name)
                && let ItemBody::Lot(written) = &item.body
            {
                for line in &written.lines {
                    if matches!(
                        line.statement,
                        LotStatement::OnHand(_) | LotStatement::BestBefore(_)
                    ) {
                        detail.push(text_at(
                            self.view.farm(),
                            trug_findings::Place::new(file, line.span),
                        ));
                    }
                }
            }
            let offer = Offer::new(lot.name.as_str(), CandidateKind::Lot);
            self.push(
                group,
                offer.detail(detail.join(", ")).about("lot", &lot.name),
            );
        }
        self.batches(group, of);
    }

    /// In a record, the batches of a mix made beforehand: each is a record of it, with the day it was made and how much.
    fn batches(&mut self, group: usize, of: &str) {
        let is_in_a_record = self
            .own_item()
            .is_some_and(|item| matches!(item.body, ItemBody::Record(_)));
        if !is_in_a_record {
            return;
        }
        for known in self.view.names(Namespace::Record) {
            let Some(ItemBody::Record(written)) = self.item_of(&known).map(|item| &item.body)
            else {
                continue;
            };
            if written.of.text != of {
                continue;
            }
            let is_told = |statement: &RecordStatement| {
                matches!(
                    statement,
                    RecordStatement::Made { .. } | RecordStatement::Batch(_)
                )
            };
            let told = written
                .lines
                .iter()
                .filter(|line| line.statement.as_ref().is_some_and(is_told));
            let detail: Vec<String> = told
                .map(|line| {
                    let place = trug_findings::Place::new(known.item.file, line.span);
                    text_at(self.view.farm(), place)
                })
                .collect();
            let offer = named(Namespace::Record, &known.name, &detail.join(", "));
            self.push(group, offer);
        }
    }
}

/// What people call an item.
pub(super) fn label(item: &Item) -> Option<String> {
    parts::header(&item.body)
        .into_iter()
        .find_map(|part| match part {
            Part::Text(text) => Some(text.text.trim().to_owned()),
            _ => None,
        })
}

fn named(namespace: Namespace, name: &str, label: &str) -> Offer {
    let kind = match namespace {
        Namespace::Feed | Namespace::Any => CandidateKind::Ingredient,
        Namespace::Animal => CandidateKind::Animal,
        Namespace::Nutrient => CandidateKind::Nutrient,
        Namespace::Lot => CandidateKind::Lot,
        Namespace::Targets => CandidateKind::Targets,
        Namespace::Scale => CandidateKind::Scale,
        Namespace::Vessel => CandidateKind::Vessel,
        Namespace::Method => CandidateKind::Method,
        Namespace::Group => CandidateKind::Group,
        Namespace::Record => CandidateKind::Record,
        Namespace::Unit => CandidateKind::Measure,
    };
    let offer = Offer::new(name, kind)
        .detail(label)
        .about(super::resolve::word_of(namespace), name);
    Offer {
        filter: format!("{name} {label}").trim_end().to_owned(),
        ..offer
    }
}

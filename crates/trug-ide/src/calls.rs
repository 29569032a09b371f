//! What a ration takes and who takes it: the ways between groups, rations and ingredients.

use std::collections::{BTreeMap, BTreeSet};

use trug_findings::{FileId, Place, Span};
use trug_model::{Farm, ItemRef, Namespace};
use trug_syntax::tree::{GroupStatement, ItemBody, Name, RationStatement};

use crate::names::{Named, Role, declared_at, items_of, meaning_at};
use crate::occurrences::occurrences;
use crate::symbols::{SymbolKind, label};

/// A group, a ration or an ingredient.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Taker {
    /// Where it is named.
    pub place: Place,
    /// What it is called.
    pub name: String,
    /// Its label; empty where it has none.
    pub label: String,
    /// What it is.
    pub kind: SymbolKind,
    /// The whole item.
    pub whole: Span,
}

/// One way: who is at its other end, and the lines that make it, all of them in the text of the one that takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taking {
    /// Who.
    pub who: Taker,
    /// The names of what is taken, in the lines of the taker.
    pub lines: Vec<Span>,
}

/// What the name at an offset stands for: a group, a ration or an ingredient; nothing for any other name.
#[must_use]
pub fn taker_at(farm: &Farm, file: FileId, offset: usize) -> Option<Taker> {
    taker(farm, item_at(farm, file, offset)?)
}

/// What the ration or group named at an offset takes, in the order it names it.
#[must_use]
pub fn taken_by(farm: &Farm, file: FileId, offset: usize) -> Vec<Taking> {
    let Some(own) = item_at(farm, file, offset) else {
        return Vec::new();
    };
    let Some(item) = farm.item_at(own) else {
        return Vec::new();
    };
    let view = farm.open(own.file);
    let mut takings: Vec<Taking> = Vec::new();
    for name in taken_in(&item.body) {
        let named = Named {
            span: name.span,
            namespace: Namespace::Feed,
            text: name.text.clone(),
            role: Role::Uses,
            of: None,
            item: own.rank,
        };
        let items = items_of(&view, own.file, &named);
        let Some(who) = items.first().and_then(|item| taker(farm, *item)) else {
            continue;
        };
        match takings.iter_mut().find(|taking| taking.who == who) {
            Some(known) => known.lines.push(name.span),
            None => takings.push(Taking {
                who,
                lines: vec![name.span],
            }),
        }
    }
    takings
}

/// The rations and groups that take what is named at an offset, in the order of texts and places.
#[must_use]
pub fn takers_of(farm: &Farm, file: FileId, offset: usize) -> Vec<Taking> {
    let Some(own) = item_at(farm, file, offset) else {
        return Vec::new();
    };
    let name = farm.item_at(own).and_then(|item| item.body.name());
    let Some(name) = name else { return Vec::new() };
    let mut takers: BTreeMap<Taker, BTreeSet<Span>> = BTreeMap::new();
    for occurrence in occurrences(farm, &name.text, &BTreeSet::from([own])) {
        let item = ItemRef {
            file: occurrence.file,
            rank: occurrence.named.item,
        };
        let takes = farm.item_at(item).is_some_and(|item| {
            let mut taken = taken_in(&item.body).into_iter();
            taken.any(|name| name.span == occurrence.named.span)
        });
        if let (true, Some(who)) = (takes, taker(farm, item)) {
            takers.entry(who).or_default().insert(occurrence.named.span);
        }
    }
    let taking = |(who, lines): (Taker, BTreeSet<Span>)| Taking {
        who,
        lines: lines.into_iter().collect(),
    };
    takers.into_iter().map(taking).collect()
}

/// The strongest item behind the name at an offset.
fn item_at(farm: &Farm, file: FileId, offset: usize) -> Option<ItemRef> {
    let meaning = meaning_at(farm, file, offset)?;
    let of = [Namespace::Feed, Namespace::Group];
    let item = meaning.items.first().copied();
    item.filter(|_| of.contains(&meaning.named.namespace))
}

fn taker(farm: &Farm, item_ref: ItemRef) -> Option<Taker> {
    let item = farm.item_at(item_ref)?;
    let name = item.body.name()?;
    let is_row = farm.is_table(item_ref.file);
    let label = label(&item.body).filter(|_| !is_row);
    Some(Taker {
        place: declared_at(farm, item_ref)?,
        name: name.text.to_string(),
        label: label.map_or_else(String::new, |label| label.text.clone()),
        kind: SymbolKind::of(&item.body),
        whole: item.whole,
    })
}

/// The names of what a ration or group takes: what it is like, what it mixes, what is eaten beside it, what it eats.
fn taken_in(body: &ItemBody) -> Vec<&Name> {
    match body {
        ItemBody::Ration(ration) => {
            let lines = ration.lines.iter();
            let lines = lines.filter_map(|line| match &line.statement {
                RationStatement::Amount(amount) => Some(&amount.name),
                RationStatement::Beside { name, .. } => Some(name),
                RationStatement::Replace { with, .. } => Some(with),
                RationStatement::Unread(about) => about.as_ref(),
                _ => None,
            });
            ration.like.iter().chain(lines).collect()
        }
        ItemBody::Group(group) => {
            let lines = group.lines.iter();
            let eaten = lines.filter_map(|line| match &line.statement {
                Some(GroupStatement::Eats { ration, .. }) => Some(ration),
                _ => None,
            });
            eaten.collect()
        }
        _ => Vec::new(),
    }
}

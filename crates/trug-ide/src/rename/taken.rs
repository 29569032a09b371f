//! Whether a name is free in every text that would see it.

use std::collections::BTreeSet;

use rayon::prelude::*;
use smol_str::SmolStr;
use trug_findings::{FileId, Place};
use trug_model::{Farm, ItemRef, Namespace};
use trug_syntax::tree::ItemBody;

use super::{Refusal, Whole};
use crate::names::Role;
use crate::occurrences::{Occurrence, written_so};

/// Refuses a name that is declared, or used for something unknown, in a text that sees what is renamed.
pub(super) fn judge(farm: &Farm, whole: &Whole, new: &str) -> Result<(), Refusal> {
    let kinds: BTreeSet<Namespace> = whole.named.iter().map(|it| it.named.namespace).collect();
    let judged = |file: &FileId| judge_in(farm, whole, *file, (&kinds, new));
    // The first in the order of the texts, whatever the order they are looked at in.
    let refusals: Vec<Option<Refusal>> = whole.readers.par_iter().map(judged).collect();
    if let Some(refusal) = refusals.into_iter().flatten().next() {
        return Err(refusal);
    }
    let is_meant = |it: &&Occurrence| {
        let namespace = it.named.namespace;
        kinds.contains(&namespace) || kinds.contains(&Namespace::Any)
    };
    let stands_there = written_so(farm, new, &whole.readers);
    match stands_there
        .iter()
        .filter(is_meant)
        .find(|it| !keeps_its_meaning(farm, whole, it))
    {
        Some(taken) if taken.items.is_empty() => Err(Refusal::new(format!(
            "{new} is declared nowhere in {}, and would come to mean this",
            shown(farm, taken.place())
        ))),
        Some(taken) => Err(Refusal::new(format!(
            "{new} in {} would come to mean this",
            shown(farm, taken.place())
        ))),
        None => Ok(()),
    }
}

/// Only measures may share their name, each for an ingredient of its own; then it is asked for as before.
fn keeps_its_meaning(farm: &Farm, whole: &Whole, it: &Occurrence) -> bool {
    let is_measure = it.named.namespace == Namespace::Unit && !farm.is_table(it.file);
    is_measure && !it.items.is_empty() && !measured(farm, whole).contains(&it.named.of)
}

/// The ingredients that what is renamed measures; none among them is any.
fn measured(farm: &Farm, whole: &Whole) -> BTreeSet<Option<SmolStr>> {
    whole
        .items
        .iter()
        .map(|item| measures(farm, *item))
        .collect()
}

fn measures(farm: &Farm, item: ItemRef) -> Option<SmolStr> {
    match &farm.item_at(item)?.body {
        ItemBody::Unit(unit) => unit.of.as_ref().map(|of| of.text.clone()),
        _ => None,
    }
}

fn judge_in(
    farm: &Farm,
    whole: &Whole,
    file: FileId,
    (kinds, new): (&BTreeSet<Namespace>, &str),
) -> Option<Refusal> {
    let view = farm.open(file);
    for kind in kinds {
        let alike = view.declared_alike(*kind, new).into_iter();
        let mut others = alike.filter(|item| !whole.items.contains(item));
        if let Some(other) =
            others.find(|other| *kind != Namespace::Unit || clash(farm, whole, *other))
        {
            let place = farm.name_place(other)?;
            let name = farm.item_at(other)?.body.name()?;
            let shown = shown(farm, place);
            return Some(Refusal::new(if name.text == new {
                format!("{new} is declared already, in {shown}")
            } else {
                format!(
                    "{new} and {} would differ only in case; {} is declared in {shown}",
                    name.text, name.text
                )
            }));
        }
    }
    let in_tables_only = whole.items.iter().all(|item| farm.is_table(item.file));
    if kinds.contains(&Namespace::Feed) && in_tables_only {
        let called = view.labelled(new)?;
        return Some(Refusal::new(format!("{called} is called \"{new}\" here")));
    }
    None
}

/// Whether a measure of the new name is for the same ingredient, or for one for which what is renamed is asked.
fn clash(farm: &Farm, whole: &Whole, other: ItemRef) -> bool {
    let of = measures(farm, other);
    let uses = whole.named.iter().filter(|it| it.named.role == Role::Uses);
    let mut asked = uses.map(|it| &it.named.of);
    measured(farm, whole).contains(&of) || of.is_some() && asked.any(|asked| *asked == of)
}

fn shown(farm: &Farm, place: Place) -> String {
    farm.sources()
        .get(place.file.index())
        .map_or_else(String::new, |source| {
            let line = source.position(place.span.start as usize).line;
            format!("{}, line {line}", source.name())
        })
}

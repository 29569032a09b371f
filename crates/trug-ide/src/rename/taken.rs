//! Whether a name is free in every text that would see it.

use std::collections::BTreeSet;

use rayon::prelude::*;
use trug_findings::{FileId, Place};
use trug_model::{Farm, Namespace};

use super::{Refusal, Whole};
use crate::occurrences::written_so;

/// Refuses a name that is declared, or used for something unknown, in a text that sees what is renamed.
pub(super) fn judge(farm: &Farm, whole: &Whole, new: &str) -> Result<(), Refusal> {
    let kinds: BTreeSet<Namespace> = whole.named.iter().map(|it| it.named.namespace).collect();
    let judged = |file: &FileId| judge_in(farm, whole, *file, (&kinds, new));
    // The first in the order of the texts, whatever the order they are looked at in.
    let refusals: Vec<Option<Refusal>> = whole.readers.par_iter().map(judged).collect();
    if let Some(refusal) = refusals.into_iter().flatten().next() {
        return Err(refusal);
    }
    let waiting = written_so(farm, new, &whole.readers);
    let is_meant = |namespace| kinds.contains(&namespace) || kinds.contains(&Namespace::Any);
    let waiting = waiting.iter().find(|it| is_meant(it.named.namespace));
    match waiting {
        Some(waiting) => Err(Refusal::new(format!(
            "{new} is declared nowhere in {}, and would come to mean this",
            shown(farm, waiting.place())
        ))),
        None => Ok(()),
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
        if let Some(other) = others.next() {
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

fn shown(farm: &Farm, place: Place) -> String {
    farm.sources()
        .get(place.file.index())
        .map_or_else(String::new, |source| {
            let line = source.position(place.span.start as usize).line;
            format!("{}, line {line}", source.name())
        })
}

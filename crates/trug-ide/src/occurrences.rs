//! Where an item is named, in every text whose reading holds it.

use std::collections::BTreeSet;

use rayon::prelude::*;
use trug_findings::{FileId, Place};
use trug_model::{Farm, ItemRef};

use crate::names::{Named, items_of, names_in};

/// A name that means one of the items asked for.
#[derive(Clone, Debug)]
pub(crate) struct Occurrence {
    pub(crate) file: FileId,
    pub(crate) named: Named,
    /// All that it means, to the text that saw it.
    pub(crate) items: Vec<ItemRef>,
}

impl Occurrence {
    pub(crate) fn place(&self) -> Place {
        Place::new(self.file, self.named.span)
    }
}

/// The texts that see one of these items, tables left out: what a table says, only a text that uses it can tell.
pub(crate) fn readers(farm: &Farm, items: &BTreeSet<ItemRef>) -> Vec<FileId> {
    let files: BTreeSet<FileId> = items.iter().map(|item| item.file).collect();
    let readers = files.into_iter().flat_map(|file| farm.readers_of(file));
    let readers: BTreeSet<FileId> = readers.filter(|file| !farm.is_table(*file)).collect();
    readers.into_iter().collect()
}

/// The names in these texts, and in the tables they use, that are written so; each with what it means there.
pub(crate) fn written_so(farm: &Farm, text: &str, readers: &[FileId]) -> Vec<Occurrence> {
    let is_so = |named: &Named| named.text == text;
    let tables: Vec<(FileId, Vec<Named>)> = farm
        .files()
        .filter(|file| farm.is_table(*file))
        .map(|table| (table, names_in(farm, table)))
        .map(|(table, names)| (table, names.into_iter().filter(is_so).collect()))
        .filter(|(_, names): &(FileId, Vec<Named>)| !names.is_empty())
        .collect();
    let found: Vec<Vec<Occurrence>> = readers
        .par_iter()
        .map(|reader| {
            let own = if can_hold(farm, *reader, text) {
                names_in(farm, *reader).into_iter().filter(is_so).collect()
            } else {
                Vec::new()
            };
            if own.is_empty() && tables.is_empty() {
                return Vec::new();
            }
            let view = farm.open(*reader);
            let seen = tables
                .iter()
                .filter(|(table, _)| view.sees().contains(table));
            let in_tables = seen.flat_map(|(table, names)| names.iter().map(|it| (*table, it)));
            let all = own.iter().map(|named| (*reader, named)).chain(in_tables);
            all.map(|(file, named)| Occurrence {
                file,
                named: named.clone(),
                items: items_of(&view, file, named),
            })
            .collect()
        })
        .collect();
    found.into_iter().flatten().collect()
}

/// Whether a text can hold a name: in other letters than plain ones, one name may be spelt in several ways.
fn can_hold(farm: &Farm, file: FileId, name: &str) -> bool {
    let text = farm.sources().get(file.index()).map_or("", |it| it.text());
    text.contains(name) || !text.is_ascii()
}

/// The names that are written so and mean one of these items, in every text that sees them.
pub(crate) fn occurrences(farm: &Farm, text: &str, items: &BTreeSet<ItemRef>) -> Vec<Occurrence> {
    let mut found = written_so(farm, text, &readers(farm, items));
    found.retain(|occurrence| occurrence.items.iter().any(|item| items.contains(item)));
    found
}

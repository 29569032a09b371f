//! Rows of tables: which ingredient each is of, as one text sees it.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_findings::FileId;
use trug_syntax::tree::ItemBody;

use super::View;
use crate::farm::{ItemRef, Namespace};

/// The rows of all tables that can be seen, by the name of their ingredient.
#[derive(Debug, Default)]
pub(super) struct Rows {
    by_name: BTreeMap<SmolStr, Vec<ItemRef>>,
    nameless: Vec<ItemRef>,
    /// The ingredient of each row of a table, by the row's rank.
    names: BTreeMap<FileId, Vec<Option<SmolStr>>>,
}

impl View<'_> {
    /// The rows of an ingredient, of the table named first before those of others.
    pub(crate) fn rows_of(&self, name: &str) -> &[ItemRef] {
        let rows = self.shared.rows.get_or_init(|| rows(self));
        rows.by_name.get(name).map_or(&[], Vec::as_slice)
    }

    /// The ingredients that have rows in a table, with those rows.
    pub(crate) fn rows_in(&self, file: FileId) -> Vec<(SmolStr, Vec<ItemRef>)> {
        let rows = self.shared.rows.get_or_init(|| rows(self));
        let of_file = |(name, rows): (&SmolStr, &Vec<ItemRef>)| {
            let own: Vec<ItemRef> = rows
                .iter()
                .copied()
                .filter(|row| row.file == file)
                .collect();
            (!own.is_empty()).then(|| (name.clone(), own))
        };
        rows.by_name.iter().filter_map(of_file).collect()
    }

    /// The names and labels of ingredients that texts declare and no table has a row for.
    pub(crate) fn without_rows(&self) -> Vec<(SmolStr, SmolStr)> {
        let rows = self.shared.rows.get_or_init(|| rows(self));
        let mut without = Vec::new();
        for (file, declared) in self.scope.all(self.farm, Namespace::Feed) {
            let rank = declared.rank;
            let item = self.item(ItemRef { file, rank });
            let ItemBody::Ingredient(ingredient) = &item.body else {
                continue;
            };
            if rows.by_name.contains_key(&declared.name) {
                continue;
            }
            let label = ingredient
                .label
                .as_ref()
                .map_or("", |label| label.text.trim());
            without.push((declared.name.clone(), SmolStr::new(label)));
        }
        without
    }

    /// The ingredient that a row of a table is of; none where it is of none.
    #[must_use]
    pub fn row_is_of(&self, row: ItemRef) -> Option<SmolStr> {
        let rows = self.shared.rows.get_or_init(|| rows(self));
        let of = rows.names.get(&row.file)?.get(row.rank as usize)?;
        of.clone()
    }

    /// The rows of a table that are of no ingredient.
    pub(crate) fn nameless_rows(&self, file: FileId) -> Vec<ItemRef> {
        let rows = self.shared.rows.get_or_init(|| rows(self));
        let nameless = rows.nameless.iter().copied();
        nameless.filter(|row| row.file == file).collect()
    }
}

/// A first cell is a name that is declared, else a label, else a name that the table declares.
fn rows(view: &View<'_>) -> Rows {
    let mut rows = Rows::default();
    let files = &view.scope.files;
    let tables: Vec<FileId> = files
        .iter()
        .copied()
        .filter(|file| view.farm.is_table(*file))
        .collect();
    if tables.is_empty() {
        return rows;
    }
    let labels = labels(view);
    for file in tables {
        for (rank, item) in (0u32..).zip(&view.farm.tree(file).items) {
            let names = rows.names.entry(file).or_default();
            names.push(None);
            let ItemBody::Ingredient(row) = &item.body else {
                continue;
            };
            let item_ref = ItemRef { file, rank };
            let cell = &row.name.text;
            let is_declared = view
                .scope
                .find(view.farm, Namespace::Feed, cell)
                .any()
                .is_some();
            let by_label = labels.get(cell);
            let name = match by_label {
                _ if is_declared => Some(cell),
                Some(name) => Some(name),
                None => {
                    let can_be_name = trug_syntax::is_name(cell) && !trug_syntax::is_reserved(cell);
                    can_be_name.then_some(cell)
                }
            };
            match name {
                Some(name) => {
                    if let Some(last) = names.last_mut() {
                        *last = Some(name.clone());
                    }
                    rows.by_name.entry(name.clone()).or_default().push(item_ref);
                }
                None => rows.nameless.push(item_ref),
            }
        }
    }
    rows
}

/// The labels of all ingredients that texts declare; where two bear the same, the first.
fn labels(view: &View<'_>) -> BTreeMap<SmolStr, SmolStr> {
    let mut labels = BTreeMap::new();
    for (file, declared) in view.scope.all(view.farm, Namespace::Feed) {
        let rank = declared.rank;
        if let ItemBody::Ingredient(ingredient) = &view.item(ItemRef { file, rank }).body
            && let Some(label) = &ingredient.label
        {
            let text = trug_syntax::composed(label.text.trim());
            labels.entry(text).or_insert_with(|| declared.name.clone());
        }
    }
    labels
}

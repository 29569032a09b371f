//! Judges the tables a text uses: a row means something only beside the ingredients and nutrients of that text.

use std::collections::BTreeSet;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::{ItemBody, RationStatement};

use crate::farm::{ItemRef, Namespace};
use crate::findings::{data, used};
use crate::near;
use crate::view::{Feed, View};

/// Says what is wrong with the tables that the text itself uses.
pub(super) fn judge(view: &View<'_>, findings: &mut Vec<Finding>) {
    let uses = &view.farm.entry(view.scope.own()).uses;
    let mut tables: Vec<FileId> = uses
        .iter()
        .filter_map(|(_, target)| *target)
        .filter(|file| view.farm.is_table(*file))
        .collect();
    tables.sort();
    tables.dedup();
    for table in tables {
        let entry = view.farm.entry(table);
        findings.extend(view.farm.reading_findings(table));
        findings.extend(entry.findings.iter().cloned());
        rows(view, table, findings);
    }
}

/// So many pairs of names are compared in search of a near one: a long table is not searched to its end.
const MOST_COMPARED: usize = 100_000;

/// Letters of the longest name that is looked at for a near one.
const LONGEST_COMPARED: usize = 60;

/// Ingredients of the texts that no table has a row for: a row that nothing else names may be meant for one of them.
struct Near {
    without_rows: Vec<(SmolStr, SmolStr)>,
    used: BTreeSet<SmolStr>,
    left: usize,
}

impl Near {
    fn of(view: &View<'_>) -> Near {
        Near {
            without_rows: view.without_rows(),
            used: used_names(view),
            left: MOST_COMPARED,
        }
    }

    /// The name or label near to a cell; none where a ration names the cell itself.
    fn find(&mut self, cell: &str) -> Option<&str> {
        let pairs = self.without_rows.len() * 2;
        if pairs == 0
            || self.left < pairs
            || LONGEST_COMPARED < cell.len()
            || self.used.contains(cell)
        {
            return None;
        }
        self.left -= pairs;
        let names = self.without_rows.iter();
        let names = names.flat_map(|(name, label)| [name.as_str(), label.as_str()]);
        let names = names.filter(|name| !name.is_empty() && name.len() <= LONGEST_COMPARED);
        near::nearest(cell, names)
    }
}

/// The names that rations and lots of the texts use.
fn used_names(view: &View<'_>) -> BTreeSet<SmolStr> {
    let files = view
        .scope
        .files
        .iter()
        .filter(|file| !view.farm.is_table(**file) && !view.farm.is_book(**file));
    let items = files.flat_map(|file| &view.farm.tree(*file).items);
    let mut used = BTreeSet::new();
    for item in items {
        match &item.body {
            ItemBody::Ration(ration) => {
                used.extend(
                    ration
                        .lines
                        .iter()
                        .filter_map(|line| match &line.statement {
                            RationStatement::Amount(amount) => Some(amount.name.text.clone()),
                            RationStatement::Beside { name, .. }
                            | RationStatement::Replace { with: name, .. } => {
                                Some(name.text.clone())
                            }
                            _ => None,
                        }),
                )
            }
            ItemBody::Lot(lot) => {
                used.insert(lot.of.text.clone());
            }
            _ => {}
        }
    }
    used
}

fn rows(view: &View<'_>, table: FileId, findings: &mut Vec<Finding>) {
    let mut near = Near::of(view);
    if !view.scope.is_incomplete {
        for row in view.nameless_rows(table) {
            let cell = text(view, row);
            findings.push(used::no_ingredient(place(view, row), cell, near.find(cell)));
        }
    }
    for (name, rows) in view.rows_in(table) {
        if let [first, second, ..] = rows.as_slice() {
            findings.push(data::rows_twice(
                place(view, *second),
                &name,
                place(view, *first),
            ));
        }
        let is_declared = view
            .scope
            .find(view.farm, Namespace::Feed, &name)
            .any()
            .is_some();
        if let Some(row) = rows.first() {
            if is_declared && matches!(view.feed(&name), Some(Feed::Ration(_))) {
                findings.push(used::no_ingredient(place(view, *row), &name, None));
            }
            if !is_declared
                && !view.scope.is_incomplete
                && let Some(near) = near.find(&name)
            {
                findings.push(used::nearly(place(view, *row), &name, near));
            }
        }
        let mut said = Vec::new();
        if is_declared {
            view.judge_ingredient(&name, &mut said);
        } else {
            view.look_at_ingredient(&name, &mut said);
        }
        let own = said
            .into_iter()
            .filter(|finding| finding.place.file == table);
        // A heading or a cell holds more than the word a fix would replace.
        findings.extend(own.map(|finding| Finding {
            fixes: Vec::new(),
            ..finding
        }));
    }
}

fn place(view: &View<'_>, row: ItemRef) -> Place {
    Place::new(row.file, view.item(row).header)
}

fn text<'view>(view: &'view View<'_>, row: ItemRef) -> &'view str {
    let name = view.item(row).body.name();
    name.map_or("", |name| name.text.as_str())
}

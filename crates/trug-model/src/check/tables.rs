//! Judges the tables a text uses: a row means something only beside the ingredients and nutrients of that text.

use trug_findings::{FileId, Finding, Place};

use crate::farm::ItemRef;
use crate::findings::{data, used};
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

fn rows(view: &View<'_>, table: FileId, findings: &mut Vec<Finding>) {
    if !view.scope.is_incomplete {
        for row in view.nameless_rows(table) {
            findings.push(used::no_ingredient(place(view, row), text(view, row)));
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
        if let (Some(Feed::Ration(_)), Some(row)) = (view.feed(&name), rows.first()) {
            findings.push(used::no_ingredient(place(view, *row), &name));
        }
        let mut said = Vec::new();
        view.judge_ingredient(&name, &mut said);
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

//! A comparison for a person at a terminal.

use super::Compared;
use super::telling::{RationTold, Table, tell};
use crate::analysis::table::{Group, Layout, Row, Side, tables};
use crate::words::{hanging, lines_of, printable};

/// Narrower than this no table reads.
const LEAST_WIDTH: usize = 60;
/// Plain ASCII, and what a diff says too.
const ARROW: &str = "->";

/// The comparison as a page of text.
#[must_use]
pub fn compare_text(compared: &Compared<'_>, width: usize) -> String {
    let width = width.max(LEAST_WIDTH);
    let told = tell(compared, ARROW);
    let mut text = block(&told.title, width);
    text.push_str(&block(&told.summary, width));
    let mut sections = vec![text];
    sections.extend(list("because of", &told.causes, width));
    sections.extend(told.rations.iter().map(|one| ration(one, width)));
    sections.extend(list("groups, a day", &told.groups, width));
    sections.extend(list("found elsewhere", &told.elsewhere, width));
    sections.push(block(&told.closing, width));
    printable(&sections.join("\n")).into_owned()
}

fn block(sentence: &str, width: usize) -> String {
    lines_of(sentence, width).join("\n") + "\n"
}

fn list(heading: &str, lines: &[String], width: usize) -> Option<String> {
    let items: String = lines.iter().map(|line| item("- ", line, width)).collect();
    (!lines.is_empty()).then(|| format!("{heading}\n{items}"))
}

/// A sentence under a mark, its further lines set in.
fn item(mark: &str, sentence: &str, width: usize) -> String {
    hanging(&format!("  {mark}"), sentence, width)
}

fn ration(ration: &RationTold, width: usize) -> String {
    let mut text = block(&format!("{} ({})", ration.name, ration.about), width);
    for sentence in &ration.worse {
        text.push_str(&item("! ", sentence, width));
    }
    for sentence in &ration.notes {
        text.push_str(&item("* ", sentence, width));
    }
    for table in &ration.tables {
        text.push_str(&drawn(table, width));
    }
    if !ration.found.is_empty() {
        text.push_str("  found\n");
        for sentence in &ration.found {
            text.push_str(&item("- ", sentence, width));
        }
    }
    text
}

fn drawn(table: &Table, width: usize) -> String {
    let mut rows = vec![Row {
        cells: heading(table),
        below: Vec::new(),
    }];
    rows.extend(table.rows.iter().map(|row| Row {
        cells: row.cells.clone(),
        below: Vec::new(),
    }));
    let sides = vec![Side::Left; table.columns.len()];
    let layout = Layout {
        sides: &sides,
        flexible: 0,
        width,
    };
    tables(&[Group { heading: "", rows }], &layout).concat()
}

/// The first column is headed by what the table is about.
fn heading(table: &Table) -> Vec<String> {
    let mut cells: Vec<String> = table
        .columns
        .iter()
        .map(|&column| column.to_owned())
        .collect();
    if let Some(first) = cells.first_mut() {
        *first = table.heading.to_lowercase();
    }
    cells
}

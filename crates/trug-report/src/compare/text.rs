//! A comparison for a person at a terminal.

use super::Compared;
use super::telling::{RationTold, Table, tell};
use crate::analysis::table::{Group, Layout, Row, Side, tables};
use crate::words::{columns, hanging, lines_of, printable};

/// Narrower than this no table reads.
const LEAST_WIDTH: usize = 60;
/// Blanks before and between the columns of a table.
const GAP: usize = 2;
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

/// As a table where it fits; else with the last column below each row; else as sentences.
fn drawn(table: &Table, width: usize) -> String {
    let rows: Vec<Vec<String>> = std::iter::once(heading(table))
        .chain(table.rows.iter().map(|row| row.cells.clone()))
        .collect();
    let last = table.columns.len().saturating_sub(1);
    if widest(&rows, last + 1) <= width {
        return as_table(rows, last + 1, width);
    }
    if widest(&rows, last) <= width {
        return as_table(rows, last, width);
    }
    let mut text = format!("  {}\n", table.heading.to_lowercase());
    for row in &table.rows {
        text.push_str(&item("  ", &sentence(&row.cells), width));
    }
    text
}

/// `protein: 16.4 % -> 15.8 %; 16 .. 18 %; MISSED now`.
fn sentence(cells: &[String]) -> String {
    let [what, before, after, rest @ ..] = cells else {
        return cells.join("; ");
    };
    let rest = rest.iter().filter(|cell| !cell.is_empty());
    let rest: String = rest.map(|cell| format!("; {cell}")).collect();
    format!("{what}: {before} {ARROW} {after}{rest}")
}

/// How wide a table of the first columns is.
fn widest(rows: &[Vec<String>], number: usize) -> usize {
    let wide = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| columns(cell)).max().unwrap_or(0)
    };
    (0..number).map(|column| wide(column) + GAP).sum()
}

fn as_table(rows: Vec<Vec<String>>, number: usize, width: usize) -> String {
    let row = |(rank, mut cells): (usize, Vec<String>)| {
        let rest = cells.split_off(number.min(cells.len()));
        let is_told = |cell: &String| rank > 0 && !cell.is_empty();
        Row {
            cells,
            below: rest.into_iter().filter(is_told).collect(),
        }
    };
    let rows = rows.into_iter().enumerate().map(row).collect();
    let sides = vec![Side::Left; number];
    let layout = Layout {
        sides: &sides,
        flexible: 1,
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

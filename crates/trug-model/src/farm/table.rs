//! A table: a spreadsheet saved as text (RFC 4180), read as ingredients, a row each.
//!
//! A heading is a line's word and its unit, so a cell is read as the line `word cell unit` would be, and every place in
//! it is turned into the cell's or the heading's. A column is read once, with a number for its cells; most cells are
//! then that line with another number, and are not read as text at all: tables are long.

mod cells;
mod columns;
mod headings;
mod places;

use trug_findings::{FileId, Finding, Place, Span};
use trug_syntax::tree::{self, ItemBody};

pub use cells::{Cell, Fault, Grid, Row, grid};
pub use headings::{CellKind, Heading, with_points};

use crate::findings::used;
use columns::Column;

/// How the first heading reads.
pub const FIRST_HEADING: &str = "ingredient";

/// The longest cell that is read, in bytes: the longest line of a text is not longer.
const LONGEST_CELL: usize = 10_000;

/// Whether a path is that of a table.
pub(crate) fn is_table(name: &str) -> bool {
    let extension = name.rsplit_once('.').map_or("", |(_, extension)| extension);
    extension.eq_ignore_ascii_case("csv")
}

/// Reads a table. Each row becomes an ingredient whose name is its first cell's text.
///
/// Whether that is a name or a label, only a text that uses the table can tell.
pub(super) fn read(text: &str) -> tree::File {
    let grid = grid(text);
    let mut findings: Vec<Finding> = grid.faults.iter().map(fault).collect();
    let mut rows = grid.rows.into_iter();
    let Some(columns) = rows.next().and_then(|row| headings(&row, &mut findings)) else {
        if findings.is_empty() {
            findings.push(used::no_headings(place(Span::at(0))));
        }
        return tree::File {
            items: Vec::new(),
            findings,
        };
    };
    let comma = grid.has_decimal_comma;
    let items = rows.filter_map(|row| item(&row, &columns, comma, &mut findings));
    tree::File {
        items: items.collect(),
        findings,
    }
}

fn fault(fault: &Fault) -> Finding {
    match fault {
        Fault::OpenQuote(span) => used::open_quote(place(*span)),
        Fault::AfterQuote(span) => used::after_quote(place(*span)),
    }
}

/// The columns after the first; none where the first heading is not the one of a table.
fn headings(row: &Row, findings: &mut Vec<Finding>) -> Option<Vec<Option<Column>>> {
    let mut cells = row.cells.iter();
    let first = cells.next()?;
    if first.text.trim() != FIRST_HEADING {
        findings.push(used::no_headings(place(first.span)));
        return None;
    }
    let column = |cell: &Cell| {
        let text = cell.text.trim();
        if text.is_empty() {
            return None;
        }
        let heading = Heading::of(cell).filter(|_| text.len() <= LONGEST_CELL);
        if heading.is_none() {
            findings.push(used::heading(place(cell.span), text));
        }
        Some(Column::of(heading?, findings))
    };
    Some(cells.map(column).collect())
}

/// A row as an ingredient with its lines; none where its first cell is empty.
fn item(
    row: &Row,
    columns: &[Option<Column>],
    has_decimal_comma: bool,
    findings: &mut Vec<Finding>,
) -> Option<tree::Item> {
    let mut cells = row.cells.iter();
    let name = cells.next()?;
    if name.text.trim().is_empty() {
        if let Some(cell) = cells.find(is_filled) {
            findings.push(used::no_row_name(place(cell.span)));
        }
        return None;
    }
    let mut ingredient = tree::Ingredient {
        name: tree::Name {
            text: trug_syntax::composed(name.text.trim()),
            span: name.span,
        },
        label: None,
        // A line is large and a table may have a million rows: not one more than is needed.
        lines: Vec::with_capacity(cells.clone().filter(is_filled).count()),
    };
    let mut has_unread_line = false;
    let mut end = name.span.end;
    for (rank, cell) in cells.enumerate() {
        let text = cell.text.trim();
        if text.is_empty() {
            continue;
        }
        let Some(column) = columns.get(rank) else {
            findings.push(used::no_heading_above(place(cell.span), text));
            continue;
        };
        let Some(column) = column else { continue };
        if column.heading.cell == CellKind::Label && text.len() <= LONGEST_CELL {
            ingredient.label = Some(tree::Text {
                text: text.to_owned(),
                span: cell.span,
            });
            continue;
        }
        let line = column.line(cell, has_decimal_comma, findings);
        has_unread_line |= line.is_err();
        if let Ok(Some(line)) = line {
            end = end.max(cell.span.end);
            ingredient.lines.push(line);
        }
    }
    Some(tree::Item {
        header: name.span,
        keyword: name.span,
        whole: Span {
            start: name.span.start,
            end,
        },
        origins: Vec::new(),
        has_unread_line,
        body: ItemBody::Ingredient(ingredient),
    })
}

fn is_filled(cell: &&Cell) -> bool {
    !cell.text.trim().is_empty()
}

fn place(span: Span) -> Place {
    Place::new(FileId::default(), span)
}

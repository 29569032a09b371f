//! A table: a spreadsheet saved as text (RFC 4180), read as ingredients, a row each.
//!
//! A heading is a line's word and its unit, so a cell is read as the line `word cell unit` would be,
//! and every place in it is turned back into the cell's or the heading's.

mod cells;
mod headings;
mod places;

use std::ops::Range;

use trug_findings::{FileId, Finding, Place, Span};
use trug_syntax::tree::{self, IngredientLine, IngredientStatement, ItemBody};

pub use cells::{Cell, Fault, Grid, Row, grid};
pub use headings::{CellKind, Heading, with_points};

use crate::findings::used;

/// How the first heading reads.
pub const FIRST_HEADING: &str = "ingredient";

/// The longest cell that is read, in bytes: the longest line of a text is not longer.
const LONGEST_CELL: usize = 10_000;

/// Whether a path is that of a table.
pub(crate) fn is_table(name: &str) -> bool {
    let extension = name.rsplit_once('.').map_or("", |(_, extension)| extension);
    extension.eq_ignore_ascii_case("csv")
}

/// Where one line of the text made from a table comes from.
struct Origin {
    made: Range<usize>,
    cell: Span,
    heading: Span,
}

/// What the rows of a table are made into: a text, and where each line of it comes from.
#[derive(Default)]
struct Made {
    text: String,
    origins: Vec<Origin>,
    /// Each row's first cell, and its label.
    names: Vec<(Cell, Option<Cell>)>,
}

/// Reads a table. Each row becomes an ingredient whose name and label are its first cell's text.
///
/// Whether that is a name or a label, only a text that uses the table can tell.
pub(super) fn read(text: &str) -> tree::File {
    let grid = grid(text);
    let mut findings: Vec<Finding> = grid.faults.iter().map(fault).collect();
    let mut rows = grid.rows.iter();
    let Some(headings) = rows.next().and_then(|row| headings(row, &mut findings)) else {
        if findings.is_empty() {
            findings.push(used::no_headings(place(Span::at(0))));
        }
        return tree::File {
            items: Vec::new(),
            findings,
        };
    };
    let mut made = Made::default();
    for row in rows {
        make_row(
            row,
            &headings,
            grid.has_decimal_comma,
            &mut made,
            &mut findings,
        );
    }
    let parsed = trug_syntax::parse(FileId::default(), &made.text);
    findings.extend(parsed.findings.into_iter().filter_map(|finding| {
        let place = origin(&made.origins, finding.place.span)?.cell;
        Some(Finding {
            place: Place::new(FileId::default(), place),
            related: Vec::new(),
            fixes: Vec::new(),
            ..finding
        })
    }));
    let items = parsed.items.into_iter().zip(&made.names);
    let items = items.filter_map(|(item, name)| row_item(item, name, &made.origins));
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

/// The headings after the first; none where the first is not the one of a table.
fn headings(row: &Row, findings: &mut Vec<Finding>) -> Option<Vec<Option<Heading>>> {
    let mut cells = row.cells.iter();
    let first = cells.next()?;
    if first.text.trim() != FIRST_HEADING {
        findings.push(used::no_headings(place(first.span)));
        return None;
    }
    let heading = |cell: &Cell| {
        let text = cell.text.trim();
        if text.is_empty() {
            return None;
        }
        let heading = Heading::of(cell).filter(|_| text.len() <= LONGEST_CELL);
        if heading.is_none() {
            findings.push(used::heading(place(cell.span), text));
        }
        heading
    };
    Some(cells.map(heading).collect())
}

/// Writes a row as an ingredient with its lines; nothing where its first cell is empty.
fn make_row(
    row: &Row,
    headings: &[Option<Heading>],
    has_decimal_comma: bool,
    made: &mut Made,
    findings: &mut Vec<Finding>,
) {
    let mut cells = row.cells.iter();
    let Some(name) = cells.next() else { return };
    if name.text.trim().is_empty() {
        if let Some(cell) = cells.find(|cell| !cell.text.trim().is_empty()) {
            findings.push(used::no_row_name(place(cell.span)));
        }
        return;
    }
    made.text.push_str("ingredient row\n");
    let mut label = None;
    for (rank, cell) in cells.enumerate() {
        let text = cell.text.trim();
        if text.is_empty() {
            continue;
        }
        let Some(heading) = headings.get(rank) else {
            findings.push(used::no_heading_above(place(cell.span), text));
            continue;
        };
        let Some(heading) = heading else { continue };
        if heading.cell == CellKind::Label && text.len() <= LONGEST_CELL {
            label = Some(cell.clone());
            continue;
        }
        let line = heading.line(text, has_decimal_comma);
        let Some(line) = line.filter(|_| text.len() <= LONGEST_CELL) else {
            findings.push(used::cell(place(cell.span), heading));
            continue;
        };
        let start = made.text.len();
        made.text.push_str("  ");
        made.text.push_str(&line);
        made.origins.push(Origin {
            made: start..made.text.len(),
            cell: cell.span,
            heading: heading.span,
        });
        made.text.push('\n');
    }
    made.names.push((name.clone(), label));
}

/// The row's ingredient with the places of the table.
fn row_item(
    item: tree::Item,
    (name, label): &(Cell, Option<Cell>),
    origins: &[Origin],
) -> Option<tree::Item> {
    let ItemBody::Ingredient(mut ingredient) = item.body else {
        return None;
    };
    let text = name.text.trim();
    ingredient.name = tree::Name {
        text: trug_syntax::composed(text),
        span: name.span,
    };
    ingredient.label = label.as_ref().map(|label| tree::Text {
        text: label.text.trim().to_owned(),
        span: label.span,
    });
    ingredient.lines = ingredient
        .lines
        .into_iter()
        .filter_map(|line| line_of_table(line, origins))
        .collect();
    let last = ingredient.lines.iter().map(|line| line.span.end).max();
    let end = last.unwrap_or(name.span.end).max(name.span.end);
    Some(tree::Item {
        header: name.span,
        keyword: name.span,
        whole: Span {
            start: name.span.start,
            end,
        },
        has_unread_line: item.has_unread_line,
        body: ItemBody::Ingredient(ingredient),
    })
}

fn line_of_table(line: IngredientLine, origins: &[Origin]) -> Option<IngredientLine> {
    if matches!(line.statement, IngredientStatement::Unread) {
        return None;
    }
    let origin = origin(origins, line.span)?;
    let statement = places::moved(line.statement, origin.cell, origin.heading);
    Some(IngredientLine {
        span: origin.cell,
        statement,
        accept: None,
    })
}

/// Where a place of the made text comes from. Lines are made in order.
fn origin(origins: &[Origin], span: Span) -> Option<&Origin> {
    let at = span.start as usize;
    let after = origins.partition_point(|origin| origin.made.start <= at);
    let origin = origins.get(after.checked_sub(1)?)?;
    (at <= origin.made.end).then_some(origin)
}

fn place(span: Span) -> Place {
    Place::new(FileId::default(), span)
}

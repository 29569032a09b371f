//! A table: a spreadsheet saved as text (RFC 4180), read as ingredients, a row each.
//!
//! A heading is a line's word and its unit, so a cell is read as the line `word cell unit` would be,
//! and every place in it is turned back into the cell's or the heading's.

mod cells;
mod places;

use std::ops::Range;

use trug_findings::{FileId, Finding, Place, Span};
use trug_syntax::tree::{self, IngredientLine, IngredientStatement, ItemBody};

use crate::findings::used;
pub(crate) use cells::{Cell, Row, rows};

/// How the first heading reads.
const FIRST_HEADING: &str = "ingredient";

/// Lines of two words; all others open with one.
const TWO_WORDS: [&str; 3] = ["sold in", "at most", "at least"];

/// The one line whose word says it all.
const WITHOUT_UNIT: &str = "form";

/// Whether a path is that of a table.
pub(crate) fn is_table(name: &str) -> bool {
    let extension = name.rsplit_once('.').map_or("", |(_, extension)| extension);
    extension.eq_ignore_ascii_case("csv")
}

/// A heading: where it stands, its words before the cell and after it.
struct Heading {
    span: Span,
    word: String,
    unit: String,
}

/// Where one line of the text made from a table comes from.
struct Origin {
    made: Range<usize>,
    cell: Span,
    heading: Span,
}

/// Reads a table. Each row becomes an ingredient whose name and label are its first cell's text.
///
/// Whether that is a name or a label, only a text that uses the table can tell.
pub(super) fn read(text: &str) -> tree::File {
    let mut findings = Vec::new();
    let mut rows = rows(text, &mut findings).into_iter();
    let Some(headings) = rows.next().and_then(|row| headings(&row, &mut findings)) else {
        if findings.is_empty() {
            findings.push(used::no_headings(Place::new(
                FileId::default(),
                Span::at(0),
            )));
        }
        return tree::File {
            items: Vec::new(),
            findings,
        };
    };
    let mut made = String::new();
    let mut origins = Vec::new();
    let mut names: Vec<Cell> = Vec::new();
    for row in rows {
        let Some(name) = make_row(&row, &headings, &mut made, &mut origins, &mut findings) else {
            continue;
        };
        names.push(name);
    }
    let parsed = trug_syntax::parse(FileId::default(), &made);
    findings.extend(parsed.findings.into_iter().filter_map(|finding| {
        let place = origin(&origins, finding.place.span)?.cell;
        Some(Finding {
            place: Place::new(FileId::default(), place),
            related: Vec::new(),
            fixes: Vec::new(),
            ..finding
        })
    }));
    let items = parsed.items.into_iter().zip(&names);
    let items = items.filter_map(|(item, name)| row_item(item, name, &origins));
    tree::File {
        items: items.collect(),
        findings,
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
        let heading = heading(cell);
        if heading.is_none() {
            findings.push(used::heading(place(cell.span), text));
        }
        heading
    };
    Some(cells.map(heading).collect())
}

/// Splits `protein % of dry-matter` into the line's word and what follows the cell.
fn heading(cell: &Cell) -> Option<Heading> {
    let text = cell.text.trim();
    let blank = |text: &str| text.find(char::is_whitespace);
    let is_two = TWO_WORDS.iter().any(|word| text.starts_with(word));
    let first = blank(text).unwrap_or(text.len());
    let second = text.get(first..).unwrap_or_default().trim_start();
    let end = if is_two {
        text.len() - second.len() + blank(second).unwrap_or(second.len())
    } else {
        first
    };
    let (word, unit) = text.split_at_checked(end)?;
    let is_label = word == "label";
    let wants_no_unit = word == WITHOUT_UNIT;
    let unit = unit.trim();
    if can_not_stand_in_a_line(text) || (unit.is_empty() && !wants_no_unit) {
        return None;
    }
    Some(Heading {
        span: cell.span,
        word: if is_label {
            format!("label {unit}")
        } else {
            word.to_owned()
        },
        unit: if is_label {
            String::new()
        } else {
            unit.to_owned()
        },
    })
}

/// Writes a row as an ingredient with its lines; its first cell, or none where that is empty.
fn make_row(
    row: &Row,
    headings: &[Option<Heading>],
    made: &mut String,
    origins: &mut Vec<Origin>,
    findings: &mut Vec<Finding>,
) -> Option<Cell> {
    let mut cells = row.cells.iter();
    let name = cells.next()?;
    if name.text.trim().is_empty() {
        if let Some(cell) = cells.find(|cell| !cell.text.trim().is_empty()) {
            findings.push(used::no_row_name(place(cell.span)));
        }
        return None;
    }
    made.push_str("ingredient row\n");
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
        let is_label = heading.word.starts_with("label ");
        if can_not_stand_in_a_line(text) && !is_label {
            findings.push(used::cell(place(cell.span), &heading.word));
            continue;
        }
        let start = made.len();
        if is_label {
            let quoted = text.replace('"', "\"\"").replace(['\n', '\r'], " ");
            made.push_str(&format!("  {} \"{quoted}\"", heading.word));
        } else {
            made.push_str(&format!("  {} {text} {}", heading.word, heading.unit));
        }
        origins.push(Origin {
            made: start..made.len(),
            cell: cell.span,
            heading: heading.span,
        });
        made.push('\n');
    }
    Some(name.clone())
}

/// Quotes, comments and line ends belong to texts, not to cells.
fn can_not_stand_in_a_line(text: &str) -> bool {
    text.contains(['"', '#', '\n', '\r'])
}

/// The row's ingredient with the places of the table.
fn row_item(item: tree::Item, name: &Cell, origins: &[Origin]) -> Option<tree::Item> {
    let ItemBody::Ingredient(mut ingredient) = item.body else {
        return None;
    };
    let text = name.text.trim();
    ingredient.name = tree::Name {
        text: trug_syntax::composed(text),
        span: name.span,
    };
    ingredient.label = Some(tree::Text {
        text: text.to_owned(),
        span: name.span,
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

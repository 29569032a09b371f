//! Rows and cells of a table, with their places (RFC 4180; semicolons and tabs divide as well).

use trug_findings::{FileId, Finding, Place, Span};

use crate::findings::used;

/// One row.
#[derive(Debug, Default)]
pub(crate) struct Row {
    pub(crate) cells: Vec<Cell>,
}

/// One cell: what it says, and where, with its quotes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cell {
    pub(crate) text: String,
    pub(crate) span: Span,
}

/// The rows that say anything.
pub(crate) fn rows(text: &str, findings: &mut Vec<Finding>) -> Vec<Row> {
    let start = if text.starts_with('\u{feff}') { 3 } else { 0 };
    let divider = divider(text.get(start..).unwrap_or_default());
    let mut rows = Vec::new();
    let mut row = Row::default();
    let mut at = start;
    while at < text.len() {
        let (cell, end) = cell(text, at, divider, findings);
        row.cells.push(cell);
        let rest = text.get(end..).unwrap_or_default();
        if let Some(after) = rest.strip_prefix(divider) {
            at = text.len() - after.len();
            if after.is_empty() {
                break;
            }
            continue;
        }
        at = end + line_end(rest);
        close(&mut row, &mut rows);
    }
    close(&mut row, &mut rows);
    rows
}

fn close(row: &mut Row, rows: &mut Vec<Row>) {
    let row = std::mem::take(row);
    if row.cells.iter().any(|cell| !cell.text.trim().is_empty()) {
        rows.push(row);
    }
}

/// What divides the cells: the first of comma, semicolon and tab outside quotes in the first line.
fn divider(text: &str) -> char {
    let mut is_quoted = false;
    for letter in text.chars() {
        match letter {
            '"' => is_quoted = !is_quoted,
            ',' | ';' | '\t' if !is_quoted => return letter,
            '\n' | '\r' if !is_quoted => break,
            _ => {}
        }
    }
    ','
}

/// The cell that starts at `at`, and where it ends.
fn cell(text: &str, at: usize, divider: char, findings: &mut Vec<Finding>) -> (Cell, usize) {
    let rest = text.get(at..).unwrap_or_default();
    let ends = |letter: char| letter == divider || letter == '\n' || letter == '\r';
    let Some(quoted) = rest.strip_prefix('"') else {
        let length = rest.find(ends).unwrap_or(rest.len());
        let cell = Cell {
            text: rest.get(..length).unwrap_or_default().to_owned(),
            span: Span::new(at, at + length),
        };
        return (cell, at + length);
    };
    let mut said = String::new();
    let mut letters = quoted.char_indices().peekable();
    let mut length = None;
    while let Some((offset, letter)) = letters.next() {
        if letter != '"' {
            said.push(letter);
        } else if letters.next_if(|(_, next)| *next == '"').is_some() {
            said.push('"');
        } else {
            length = Some(offset + 1);
            break;
        }
    }
    let Some(length) = length else {
        let opening = Place::new(FileId::default(), Span::new(at, at + 1));
        findings.push(used::open_quote(opening));
        let span = Span::new(at, text.len());
        let text_of_it = String::new();
        return (
            Cell {
                text: text_of_it,
                span,
            },
            text.len(),
        );
    };
    let close = at + 1 + length;
    // What stands between the closing quote and the divider is taken along.
    let tail = text.get(close..).unwrap_or_default();
    let more = tail.find(ends).unwrap_or(tail.len());
    said.push_str(tail.get(..more).unwrap_or_default().trim_end());
    let cell = Cell {
        text: said,
        span: Span::new(at, close),
    };
    (cell, close + more)
}

/// How many bytes the line end at the head of `rest` takes.
fn line_end(rest: &str) -> usize {
    if rest.starts_with("\r\n") {
        2
    } else {
        usize::from(rest.starts_with(['\n', '\r']))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<Vec<String>> {
        let rows = rows(text, &mut Vec::new());
        let cells = |row: Row| row.cells.into_iter().map(|cell| cell.text).collect();
        rows.into_iter().map(cells).collect()
    }

    #[test]
    fn cells_are_divided_as_rfc_4180_says() {
        assert_eq!(told("a,b\r\n1,2\r\n"), [["a", "b"], ["1", "2"]]);
        assert_eq!(told("a,b\n1,2"), [["a", "b"], ["1", "2"]]);
        assert_eq!(
            told("\"a\",\"b \"\"x\"\", c\nd\"\n"),
            [["a", "b \"x\", c\nd"]]
        );
        assert_eq!(
            told("\u{feff}a;b\n1,5;2\n\n;\n"),
            [["a", "b"], ["1,5", "2"]]
        );
        assert_eq!(told("a\tb\n1\t\n"), [["a", "b"], ["1", ""]]);
        assert_eq!(told(""), Vec::<Vec<String>>::new());
    }

    #[test]
    fn an_open_quote_is_said_and_ends_the_table() {
        let mut findings = Vec::new();
        let rows = rows("a,b\n\"1,2\n3,4\n", &mut findings);
        assert_eq!((rows.len(), findings.len()), (1, 1));
        assert_eq!(findings[0].place.span, Span::new(4, 5));
    }

    #[test]
    fn a_cell_knows_its_place() {
        let text = "a,\"b\"\n é ,2";
        let rows = rows(text, &mut Vec::new());
        let spans: Vec<&str> = rows
            .iter()
            .flat_map(|row| &row.cells)
            .map(|cell| cell.span.of(text))
            .collect();
        assert_eq!(spans, ["a", "\"b\"", " é ", "2"]);
    }
}

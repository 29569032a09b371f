//! Rows and cells of a table, with their places (RFC 4180; semicolons and tabs divide as well).

use trug_findings::Span;

/// A table, cell by cell.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Grid {
    /// The rows that say anything.
    pub rows: Vec<Row>,
    /// What no table has, in the order of the text.
    pub faults: Vec<Fault>,
    /// Its numbers have a comma for the decimal point: semicolons divide, some number has such a comma, and none a point.
    pub has_decimal_comma: bool,
}

/// One row.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// Its cells.
    pub cells: Vec<Cell>,
}

/// One cell: what it says, and where, with its quotes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cell {
    /// What it says, without its quotes.
    pub text: String,
    /// Where.
    pub span: Span,
}

/// What no table has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A quote that is not closed: what follows is not read.
    OpenQuote(Span),
    /// Letters between a closing quote and the end of the cell: these, which are taken along.
    AfterQuote(Span),
}

/// Reads a table. Whatever it holds, there are rows.
#[must_use]
pub fn grid(text: &str) -> Grid {
    let start = if text.starts_with('\u{feff}') { 3 } else { 0 };
    let divider = divider(text.get(start..).unwrap_or_default());
    let mut grid = Grid::default();
    let mut row = Row::default();
    let mut at = start;
    while at < text.len() {
        let (cell, end) = cell(text, at, divider, &mut grid.faults);
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
        close(&mut row, &mut grid.rows);
    }
    close(&mut row, &mut grid.rows);
    grid.has_decimal_comma = divider == ';' && has_decimal_comma(&grid.rows);
    grid
}

fn close(row: &mut Row, rows: &mut Vec<Row>) {
    let row = std::mem::take(row);
    if row.cells.iter().any(|cell| !cell.text.trim().is_empty()) {
        rows.push(row);
    }
}

/// What divides the cells: of semicolon, tab and comma the one that stands most often outside quotes in the first line.
fn divider(text: &str) -> char {
    let mut counts = [(';', 0_usize), ('\t', 0), (',', 0)];
    let mut is_quoted = false;
    for letter in text.trim_start_matches(['\n', '\r']).chars() {
        match letter {
            '"' => is_quoted = !is_quoted,
            '\n' | '\r' if !is_quoted => break,
            _ if is_quoted => {}
            _ => {
                for (divider, count) in &mut counts {
                    *count += usize::from(*divider == letter);
                }
            }
        }
    }
    let mut most = (',', 0);
    for (divider, count) in counts {
        if most.1 < count {
            most = (divider, count);
        }
    }
    most.0
}

/// The cell that starts at `at`, and where it ends.
fn cell(text: &str, at: usize, divider: char, faults: &mut Vec<Fault>) -> (Cell, usize) {
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
        faults.push(Fault::OpenQuote(Span::new(at, at + 1)));
        let cell = Cell {
            text: String::new(),
            span: Span::new(at, text.len()),
        };
        return (cell, text.len());
    };
    let close = at + 1 + length;
    let tail = text.get(close..).unwrap_or_default();
    let more = tail.find(ends).unwrap_or(tail.len());
    let after = tail.get(..more).unwrap_or_default().trim_end();
    if !after.is_empty() {
        faults.push(Fault::AfterQuote(Span::new(close, close + after.len())));
        said.push_str(after);
    }
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

/// Whether the numbers below the headings have a comma for the decimal point: some do beyond doubt, and none has a point.
fn has_decimal_comma(rows: &[Row]) -> bool {
    let cells = rows.iter().skip(1).flat_map(|row| row.cells.iter().skip(1));
    let mut has_comma = false;
    for number in cells.flat_map(|cell| numbers(&cell.text)) {
        if number.contains('.') {
            return false;
        }
        has_comma |= has_sure_comma(number);
    }
    has_comma
}

/// The numbers of a cell that opens with one.
fn numbers(text: &str) -> impl Iterator<Item = &str> {
    let text = text.trim();
    let bare = text.trim_start_matches(['+', '-', '\u{2212}', ' ']);
    let bare = bare.strip_prefix("at least ").unwrap_or(bare);
    let bare = bare.strip_prefix("at most ").unwrap_or(bare);
    let is_number = bare.starts_with(|letter: char| letter.is_ascii_digit());
    let numbers = if is_number { bare } else { "" };
    let is_part = |letter: char| letter.is_ascii_digit() || letter == ',' || letter == '.';
    numbers
        .split(move |letter| !is_part(letter))
        .map(|number| number.trim_matches(['.', ',']))
        .filter(|number| !number.is_empty())
        // `16..18` is two numbers and `01.11.2026` is a day.
        .flat_map(|number| number.split(".."))
        .filter(|number| number.matches('.').count() < 2)
}

/// A comma that can only part decimals: before exactly three digits it may part thousands.
fn has_sure_comma(number: &str) -> bool {
    let Some((whole, part)) = number.split_once(',') else {
        return false;
    };
    let is_zero = whole.trim_start_matches('0').is_empty();
    !part.contains(',') && !part.is_empty() && (part.len() != 3 || is_zero)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<Vec<String>> {
        let cells = |row: Row| row.cells.into_iter().map(|cell| cell.text).collect();
        grid(text).rows.into_iter().map(cells).collect()
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
        assert_eq!(told("a, b;c;d\n"), [["a, b", "c", "d"]]);
        assert_eq!(told(""), Vec::<Vec<String>>::new());
    }

    #[test]
    fn an_open_quote_is_said_and_ends_the_table() {
        let grid = grid("a,b\n\"1,2\n3,4\n");
        assert_eq!(grid.rows.len(), 1);
        assert_eq!(grid.faults, [Fault::OpenQuote(Span::new(4, 5))]);
    }

    #[test]
    fn letters_after_a_closing_quote_are_said() {
        let text = "a,b\n\"1\"x ,2\n\"1\" ,2\n";
        let grid = grid(text);
        assert_eq!(grid.faults, [Fault::AfterQuote(Span::new(7, 8))]);
        assert_eq!(grid.rows[1].cells[0].text, "1x");
    }

    #[test]
    fn a_cell_knows_its_place() {
        let text = "a,\"b\"\n é ,2";
        let grid = grid(text);
        let spans: Vec<&str> = grid
            .rows
            .iter()
            .flat_map(|row| &row.cells)
            .map(|cell| cell.span.of(text))
            .collect();
        assert_eq!(spans, ["a", "\"b\"", " é ", "2"]);
    }

    #[test]
    fn a_decimal_comma_is_known_only_where_the_whole_table_says_so() {
        let is = |text: &str| grid(text).has_decimal_comma;
        assert!(is("a;b\nx;1,5\ny;8,000\nz;7\n"));
        assert!(is("a;b\nx;0,125 ± 0,01\n"));
        assert!(is("a;b\nx;at least 0,5\ny;01.11.2026\n"));
        assert!(!is("a;b\nx;1,5\ny;1.5\n"), "two customs in one table");
        assert!(!is("a;b\nx;1.234,5\n"), "a point for thousands");
        assert!(!is("a;b\nx;8,000\n"), "thousands or decimals");
        assert!(!is("a;b\nx;7\n"));
        assert!(!is("a,b\nx,\"1,5\"\n"), "a comma divides");
        assert!(!is("a\tb\nx\t1,5\n"), "a tab divides");
        assert!(
            is("a 1.5;b 2.5\nx 3.5;1,5\n"),
            "names and headings say nothing"
        );
    }
}

//! Headings of a table: the word of a line, what of the line the cell below is, and what follows it.

use trug_findings::Span;

use super::cells::Cell;

/// Lines of two words; all others open with one.
const TWO_WORDS: [&str; 7] = [
    "sold in",
    "at most",
    "at least",
    "nothing else",
    "apart from",
    "never with",
    "never for",
];

/// Lines whose cell is all that follows the word.
const WHOLE: [&str; 4] = ["form", "apart from", "never with", "never for"];

/// A heading: where it stands, its words before the cell and after it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heading {
    /// Where.
    pub span: Span,
    /// The words before the cell.
    pub word: String,
    /// What follows the cell.
    pub unit: String,
    /// What of a line the cell is.
    pub cell: CellKind,
}

/// What of a line the cell under a heading is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellKind {
    /// `protein %`: the number between word and unit.
    Number,
    /// `form`, `never with`: all that follows the word.
    Whole,
    /// `label si`, `caution`: a text, without the quotes of the language.
    Text,
    /// `label`: what people call the ingredient, which stands on no line of its own.
    Label,
    /// `nothing else`: `yes` where it holds.
    Yes,
}

impl Heading {
    /// Splits `protein % of dry-matter` into the line's word and what follows the cell; none where it lacks a unit.
    #[must_use]
    pub fn of(cell: &Cell) -> Option<Heading> {
        let text = cell.text.trim();
        let blank = |text: &str| text.find(char::is_whitespace);
        let two = TWO_WORDS.iter().find(|word| {
            let after = text.strip_prefix(**word);
            after.is_some_and(|after| after.is_empty() || after.starts_with(char::is_whitespace))
        });
        let end = two.map_or_else(|| blank(text).unwrap_or(text.len()), |word| word.len());
        let (word, unit) = text.split_at_checked(end)?;
        let unit = unit.trim();
        let (kind, word, unit) = match (word, unit.is_empty()) {
            ("label", true) => (CellKind::Label, word.to_owned(), ""),
            ("label", false) => (CellKind::Text, format!("label {unit}"), ""),
            ("caution", true) => (CellKind::Text, word.to_owned(), ""),
            ("nothing else", true) => (CellKind::Yes, word.to_owned(), ""),
            (_, true) if WHOLE.contains(&word) => (CellKind::Whole, word.to_owned(), ""),
            (_, true) => return None,
            _ => (CellKind::Number, word.to_owned(), unit),
        };
        if breaks_line(text) {
            return None;
        }
        Some(Heading {
            span: cell.span,
            word,
            unit: unit.to_owned(),
            cell: kind,
        })
    }

    /// The line that a cell under this heading is; none where the cell can be no part of one.
    #[must_use]
    pub fn line(&self, cell: &str, has_decimal_comma: bool) -> Option<String> {
        let Heading { word, unit, .. } = self;
        match self.cell {
            CellKind::Text => Some(format!("{word} {}", quoted(cell))),
            CellKind::Whole => (!breaks_line(cell)).then(|| format!("{word} {cell}")),
            CellKind::Yes => (cell == "yes").then(|| word.clone()),
            CellKind::Label => None,
            CellKind::Number if cell.contains('"') || breaks_line(cell) => None,
            CellKind::Number if has_decimal_comma => {
                Some(format!("{word} {} {unit}", with_points(cell)))
            }
            CellKind::Number => Some(format!("{word} {cell} {unit}")),
        }
    }
}

/// Whether a line would end here, or a comment begin: outside quotes.
fn breaks_line(text: &str) -> bool {
    let mut is_quoted = false;
    for letter in text.chars() {
        match letter {
            '"' => is_quoted = !is_quoted,
            '\n' | '\r' => return true,
            '#' if !is_quoted => return true,
            _ => {}
        }
    }
    is_quoted
}

/// A text as a line has it.
fn quoted(text: &str) -> String {
    format!(
        "\"{}\"",
        text.replace('"', "\"\"").replace(['\n', '\r'], " ")
    )
}

/// A point for each comma between digits; as long as before, so places stay.
#[must_use]
pub fn with_points(cell: &str) -> String {
    let is_digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
    let mut before = None;
    let mut letters = cell.chars().peekable();
    let mut with_points = String::with_capacity(cell.len());
    while let Some(letter) = letters.next() {
        let is_comma = letter == ',' && is_digit(before) && is_digit(letters.peek().copied());
        with_points.push(if is_comma { '.' } else { letter });
        before = Some(letter);
    }
    with_points
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(heading: &str, cell: &str) -> Option<String> {
        let heading = Heading::of(&Cell {
            text: heading.to_owned(),
            span: Span::default(),
        });
        heading?.line(cell, false)
    }

    #[test]
    fn a_cell_stands_where_its_heading_says() {
        let is =
            |heading, cell, wanted: &str| assert_eq!(line(heading, cell).as_deref(), Some(wanted));
        is(
            "price LKR/kg as of 2026-11-01",
            "92",
            "price 92 LKR/kg as of 2026-11-01",
        );
        is(" sold in  kg ", "50", "sold in 50 kg");
        is("at most % for duckling", "30", "at most 30 % for duckling");
        is(
            "label si",
            "he said \"yes\"\n",
            "label si \"he said \"\"yes\"\" \"",
        );
        is(
            "ceiling g/kg \"Upsets.\"",
            "10",
            "ceiling 10 g/kg \"Upsets.\"",
        );
        is(
            "never with",
            "copper-premix \"why\"",
            "never with copper-premix \"why\"",
        );
        is("form", "crystal", "form crystal");
        is("nothing else", "yes", "nothing else");
        assert_eq!(line("supplier", "Mill"), None);
        assert_eq!(line("atmost", "3"), None);
        assert_eq!(line("protein %", "8 # 9"), None);
        assert_eq!(line("nothing else", "no"), None);
    }

    #[test]
    fn commas_between_digits_become_points() {
        assert_eq!(with_points("8,5 ± 0,4, x,1"), "8.5 ± 0.4, x,1");
    }
}

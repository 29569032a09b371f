//! Names in the cells of a table: the tree has whole cells, a name is a word of one.

use trug_findings::Span;
use trug_syntax::composed;

use super::Named;

/// Narrows each name to where it stands in its cell.
pub(super) fn narrow(text: &str, names: &mut [Named]) {
    for named in names {
        if let Some(span) = word_in(text, named.span, &named.text) {
            named.span = span;
        }
    }
}

/// Where a word stands in a cell. A cell that is not made of words, such as a label, is taken without blanks and quotes.
pub(super) fn word_in(text: &str, cell: Span, word: &str) -> Option<Span> {
    let said = text.get(cell.range())?;
    let base = cell.start as usize;
    let mut at = 0;
    for piece in said.split_inclusive(ends_word) {
        let bare = piece.strip_suffix(ends_word).unwrap_or(piece);
        if !bare.is_empty() && composed(bare) == word {
            return Some(Span::new(base + at, base + at + bare.len()));
        }
        at += piece.len();
    }
    let is_edge = |letter: char| letter == '"' || letter.is_whitespace();
    let start = said.len() - said.trim_start_matches(is_edge).len();
    let end = said.trim_end_matches(is_edge).len();
    (start < end).then(|| Span::new(base + start, base + end))
}

fn ends_word(letter: char) -> bool {
    letter.is_whitespace() || matches!(letter, '"' | '/')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_of_a_cell_is_found() {
        let found = |text: &str, word: &str| {
            let span = word_in(text, Span::new(0, text.len()), word);
            span.map(|span| span.of(text).to_owned())
        };
        let some = |text: &str| Some(text.to_owned());
        assert_eq!(found("protein % of dry-matter", "protein"), some("protein"));
        assert_eq!(found("\"price LKR/sack\"", "sack"), some("sack"));
        assert_eq!(found(" \"maize\" ", "maize"), some("maize"));
        assert_eq!(found(" Broken rice ", "Broken rice"), some("Broken rice"));
        assert_eq!(found("", "maize"), None);
    }
}

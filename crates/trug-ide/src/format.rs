//! The one layout of a text, as the fewest edits: a cursor, a fold or a mark elsewhere stays where it is.

use std::ops::Range;

use trug_findings::{FileId, Span};
use trug_model::Farm;
use trug_syntax::words::item_word;

use crate::lines::{Line, line_at, lines, on_character, tokens};
use crate::parts::{item_at, written};

const INDENTATION: &str = "  ";

/// A piece of a text and what comes in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextEdit {
    /// What goes.
    pub span: Span,
    /// What comes.
    pub text: String,
}

/// The edits that lay a whole text out.
#[must_use]
pub fn format(farm: &Farm, file: FileId) -> Vec<TextEdit> {
    let Some(source) = written(farm, file) else {
        return Vec::new();
    };
    edits(source.text(), &trug_syntax::tidy(source.text()))
}

/// The edits that lay out the lines a range touches.
#[must_use]
pub fn format_range(farm: &Farm, file: FileId, range: Span) -> Vec<TextEdit> {
    let Some(source) = farm.sources().get(file.index()) else {
        return Vec::new();
    };
    let text = source.text();
    let start = line_at(text, range.start as usize).whole.start;
    let end = line_at(text, range.end as usize).whole.end;
    let inside =
        |edit: &TextEdit| start <= edit.span.start as usize && edit.span.end as usize <= end;
    format(farm, file).into_iter().filter(inside).collect()
}

/// The edits after a line end was typed before `offset`: the line just left is laid out, the new one indented where
/// the item above takes lines.
#[must_use]
pub fn format_on_line_end(farm: &Farm, file: FileId, offset: usize) -> Vec<TextEdit> {
    let Some(source) = written(farm, file) else {
        return Vec::new();
    };
    let text = source.text();
    let new = line_at(text, on_character(text, offset));
    if new.whole.start == 0 {
        return Vec::new();
    }
    let left = line_at(text, new.whole.start - 1);
    let span = Span::new(left.whole.start, left.whole.end);
    let mut edits = format_range(farm, file, span);
    edits.extend(indented(farm, file, text, &left, &new));
    edits
}

/// The new line's indentation, where it should be another.
fn indented(farm: &Farm, file: FileId, text: &str, left: &Line, new: &Line) -> Option<TextEdit> {
    let item = item_at(&farm.tree(file).items, left.content.start)?;
    let takes_lines = item_word(item.keyword.of(text)).is_some_and(|word| word.has_lines());
    let is_below = left.content.start < left.content.end && takes_lines;
    let is_empty = new.content.start == new.content.end;
    // What is already written on the new line keeps its place at the margin, unless it was cut off a line.
    let indentation = if is_below && (is_empty || left.is_indented) {
        INDENTATION
    } else {
        ""
    };
    let blanks = Span::new(new.whole.start, new.content.start);
    let starts_item = item_word(new_word(text, new)).is_some();
    if blanks.of(text) == indentation || starts_item || (!is_below && !is_empty) {
        return None;
    }
    Some(TextEdit {
        span: blanks,
        text: indentation.to_owned(),
    })
}

fn new_word<'t>(text: &'t str, line: &Line) -> &'t str {
    let first = tokens(text, line.content.clone()).into_iter().next();
    first.map_or("", |token| token.span.of(text))
}

/// The edits from one text to another that says the same in the same order of lines.
fn edits(from: &str, to: &str) -> Vec<TextEdit> {
    if from == to {
        return Vec::new();
    }
    let (old, new) = (pieces(from), pieces(to));
    if old.len() != new.len() {
        return vec![TextEdit {
            span: Span::new(0, from.len()),
            text: to.to_owned(),
        }];
    }
    let pairs = old.into_iter().zip(new);
    pairs
        .filter_map(|(old, new)| edit(from, old, to.get(new)?))
        .collect()
}

/// Lines that say something and what stands between them, by turns: a gap is the first and the last.
fn pieces(text: &str) -> Vec<Range<usize>> {
    let mut pieces = Vec::new();
    let mut at = 0;
    for line in lines(text) {
        let says = text.get(line.whole.clone()).unwrap_or("");
        if says.trim().is_empty() {
            continue;
        }
        pieces.push(at..line.whole.start);
        at = line.whole.end;
        pieces.push(line.whole);
    }
    pieces.push(at..text.len());
    pieces
}

/// What differs between a piece and its new form, without what both start and end with.
fn edit(text: &str, piece: Range<usize>, to: &str) -> Option<TextEdit> {
    let from = text.get(piece.clone())?;
    if from == to {
        return None;
    }
    let same = |a: &mut dyn Iterator<Item = char>, b: &mut dyn Iterator<Item = char>| {
        a.zip(b)
            .take_while(|(a, b)| a == b)
            .map(|(a, _)| a.len_utf8())
            .sum::<usize>()
    };
    let start = same(&mut from.chars(), &mut to.chars());
    let (rest_from, rest_to) = (from.get(start..)?, to.get(start..)?);
    let end = same(&mut rest_from.chars().rev(), &mut rest_to.chars().rev());
    Some(TextEdit {
        span: Span::new(piece.start + start, piece.end - end),
        text: rest_to.get(..rest_to.len() - end)?.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn applied(text: &str, edits: &[TextEdit]) -> String {
        let mut applied = text.to_owned();
        for edit in edits.iter().rev() {
            applied.replace_range(edit.span.range(), &edit.text);
        }
        applied
    }

    #[test]
    fn edits_make_the_layout_and_touch_nothing_else() {
        for text in [
            "ration a\n maize 1 % # x\n\n\n  rest   2 %\n",
            "\u{feff}ration a\r\n\tmaize   1 %\r\n\r\n\r\nration b",
            "\n\n  x\nration a\r  ග්‍රෑම් 5%",
            "",
            "   \n",
            "ration a\n  maize 4 kg lot B on top\n",
        ] {
            let tidy = trug_syntax::tidy(text);
            assert_eq!(applied(text, &edits(text, &tidy)), tidy, "{text:?}");
        }
        let text = "ration a\n  for            duck\n maize 1 %\n";
        let found = edits(text, &trug_syntax::tidy(text));
        assert!(found.iter().all(|edit| edit.span.start >= 31), "{found:?}");
    }
}

//! A text with its name and its line index.

use std::sync::Arc;

use crate::place::Span;

/// A text of the farm under the name people know it by: relative to the root, with `/`.
#[derive(Clone, Debug)]
pub struct Source {
    name: Arc<str>,
    text: Arc<str>,
    line_starts: Arc<[u32]>,
}

/// A line and a column, both counted from 1; a column is one Unicode scalar value.
///
/// A tab is one column, a byte order mark at the head of the text is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// The line.
    pub line: usize,
    /// The column in it.
    pub column: usize,
}

const BYTE_ORDER_MARK: char = '\u{feff}';

impl Source {
    /// Indexes `text`.
    pub fn new(name: impl Into<Arc<str>>, text: impl Into<Arc<str>>) -> Source {
        let text = text.into();
        let after_newlines = text
            .bytes()
            .enumerate()
            .filter(|(_, byte)| *byte == b'\n')
            .map(|(index, _)| Span::at(index + 1).start);
        let line_starts = std::iter::once(0).chain(after_newlines).collect();
        Source {
            name: name.into(),
            text,
            line_starts,
        }
    }

    /// The name, as findings print it.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text, shared.
    #[must_use]
    pub fn shared_text(&self) -> Arc<str> {
        Arc::clone(&self.text)
    }

    /// How many lines the text has; an empty text has one.
    #[must_use]
    pub fn line_count(&self) -> usize {
        self.line_starts.len()
    }

    /// Offset of the first byte of a line, counted from 0.
    #[must_use]
    pub fn line_start(&self, line: usize) -> usize {
        self.line_starts
            .get(line)
            .map_or(self.text.len(), |start| *start as usize)
    }

    /// The line an offset stands in, counted from 0.
    #[must_use]
    pub fn line_of(&self, offset: usize) -> usize {
        let after = self
            .line_starts
            .partition_point(|start| *start as usize <= offset);
        after.saturating_sub(1)
    }

    /// Line and column of an offset. One past the end, or inside a character, counts as the nearest before.
    #[must_use]
    pub fn position(&self, offset: usize) -> Position {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = self.line_of(offset);
        let before = &self.text[self.line_start(line)..offset];
        let marks = usize::from(line == 0 && before.starts_with(BYTE_ORDER_MARK));
        Position {
            line: line + 1,
            column: before.chars().count() - marks + 1,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_and_no_byte_order_mark() {
        let source = Source::new("a.trug", "\u{feff}aß\tx\r\nසහල්");
        let at = |offset| {
            let position = source.position(offset);
            (position.line, position.column)
        };
        assert_eq!(at(0), (1, 1));
        assert_eq!(at(3), (1, 1));
        assert_eq!(at(4), (1, 2));
        assert_eq!(at(6), (1, 3));
        assert_eq!(at(7), (1, 4));
        assert_eq!(at(10), (2, 1));
        assert_eq!(at(source.text().len()), (2, 5));
        assert_eq!(at(9999), (2, 5));
    }
}

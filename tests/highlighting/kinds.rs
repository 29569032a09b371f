//! What a run of characters can be, to all grammars alike.

/// A kind of word or sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    /// A word that opens an item.
    Item,
    /// A word or two that open a line.
    Line,
    /// A word of the language in a line.
    Word,
    /// A name, or a code.
    Name,
    /// A number or a day.
    Number,
    Unit,
    /// In quotes.
    Text,
    Comment,
    Operator,
}

const KINDS: [(&str, Kind); 9] = [
    ("item", Kind::Item),
    ("line", Kind::Line),
    ("word", Kind::Word),
    ("name", Kind::Name),
    ("number", Kind::Number),
    ("unit", Kind::Unit),
    ("text", Kind::Text),
    ("comment", Kind::Comment),
    ("operator", Kind::Operator),
];

impl Kind {
    pub(crate) fn named(word: &str) -> Kind {
        let known = KINDS.iter().find(|(name, _)| *name == word);
        known
            .unwrap_or_else(|| panic!("no kind is called {word}"))
            .1
    }
}

/// A run of characters of a line, in bytes from the line's start.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Token {
    pub(crate) start: usize,
    pub(crate) end: usize,
    pub(crate) kind: Kind,
}

/// A line of a text; its number is counted from 0.
#[derive(Clone, Debug)]
pub(crate) struct Line<'t> {
    /// Where it starts in the text.
    pub(crate) start: usize,
    pub(crate) text: &'t str,
}

/// The lines of a text, without their ends and the mark at its head.
pub(crate) fn lines(text: &str) -> Vec<Line<'_>> {
    let mut lines = Vec::new();
    let mut start = if text.starts_with('\u{feff}') { 3 } else { 0 };
    while let Some(rest) = text.get(start..) {
        let length = rest.find(['\n', '\r']).unwrap_or(rest.len());
        lines.push(Line {
            start,
            text: &rest[..length],
        });
        let end = if rest[length..].starts_with("\r\n") {
            2
        } else {
            1
        };
        start += length + end;
    }
    lines
}

/// The tokens of a line in one form: parted at blanks but in texts and comments, joined where two of a kind touch.
pub(crate) fn usual(line: &str, tokens: &[Token]) -> Vec<Token> {
    let mut usual: Vec<Token> = Vec::new();
    let mut tokens = tokens.to_vec();
    tokens.sort();
    for token in tokens {
        let is_whole = matches!(token.kind, Kind::Text | Kind::Comment);
        let pieces = if is_whole {
            vec![(token.start, token.end)]
        } else {
            pieces(line, token.start, token.end)
        };
        for (start, end) in pieces {
            match usual.last_mut() {
                Some(last) if last.end == start && last.kind == token.kind => last.end = end,
                _ => usual.push(Token {
                    start,
                    end,
                    kind: token.kind,
                }),
            }
        }
    }
    usual
}

fn pieces(line: &str, start: usize, end: usize) -> Vec<(usize, usize)> {
    let mut pieces = Vec::new();
    let mut open = None;
    assert!(
        end <= line.len(),
        "{line:?}: {start} to {end} is past its end"
    );
    for (at, character) in line[start..end].char_indices() {
        match (character.is_whitespace(), open) {
            (true, Some(from)) => {
                pieces.push((from, start + at));
                open = None;
            }
            (false, None) => open = Some(start + at),
            _ => {}
        }
    }
    pieces.extend(open.map(|from| (from, end)));
    pieces
}

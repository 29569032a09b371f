//! The line an offset stands in, and its tokens, by a light scan that also does for lines that cannot be read.

use std::ops::Range;

use trug_findings::Span;

const BYTE_ORDER_MARK: &str = "\u{feff}";

/// One line of a text; all offsets are bytes of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    /// From the first byte to the line end, which is left out.
    pub(crate) whole: Range<usize>,
    /// What it says, without blanks and comment at its ends; empty where it says nothing.
    pub(crate) content: Range<usize>,
    /// Blanks stand before the content.
    pub(crate) is_indented: bool,
}

/// What a token looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shape {
    /// A name, a unit, a word of the language, a code.
    Word,
    /// An exact decimal, with its sign.
    Number,
    /// A calendar day.
    Date,
    /// Quotes and what they hold; the closing one may be missing.
    Text,
    /// `..`, `±`, `=`, `+`, `/` and the like.
    Sign,
    /// From the hash to the end of the line.
    Comment,
}

/// A run of characters that belong together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Token {
    pub(crate) span: Span,
    pub(crate) shape: Shape,
}

/// The offset itself where a character starts there; else the nearest before.
pub(crate) fn on_character(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

/// The line that an offset stands in.
pub(crate) fn line_at(text: &str, offset: usize) -> Line {
    let mut offset = on_character(text, offset);
    let bytes = text.as_bytes();
    let at = |index: usize| bytes.get(index).copied();
    // Between CR and LF is the end of the line they close.
    if offset > 0 && at(offset) == Some(b'\n') && at(offset - 1) == Some(b'\r') {
        offset -= 1;
    }
    let is_end = |byte: &u8| matches!(byte, b'\n' | b'\r');
    let start = bytes
        .iter()
        .take(offset)
        .rposition(is_end)
        .map_or(0, |end| end + 1);
    let end = bytes
        .iter()
        .skip(offset)
        .position(is_end)
        .map_or(text.len(), |end| offset + end);
    of(text, start..end)
}

/// Every line of a text that touches a range, in order.
pub(crate) fn lines_in(text: &str, range: Span) -> impl Iterator<Item = Line> {
    let mut next = Some(line_at(text, range.start as usize).whole.start);
    let last = range.end as usize;
    std::iter::from_fn(move || {
        let start = next.filter(|start| *start <= last && *start <= text.len())?;
        let line = line_at(text, start);
        next = after_end(text, line.whole.end);
        Some(line)
    })
}

/// Every line of a text.
pub(crate) fn lines(text: &str) -> impl Iterator<Item = Line> {
    lines_in(text, Span::new(0, text.len()))
}

/// Where the next line starts; none behind the last.
fn after_end(text: &str, end: usize) -> Option<usize> {
    let rest = text.get(end..)?;
    if rest.starts_with("\r\n") {
        Some(end + 2)
    } else if rest.is_empty() {
        None
    } else {
        Some(end + 1)
    }
}

fn of(text: &str, mut whole: Range<usize>) -> Line {
    if whole.start == 0 && text.starts_with(BYTE_ORDER_MARK) {
        whole.start = BYTE_ORDER_MARK.len().min(whole.end);
    }
    let comment = comment_in(text.get(whole.clone()).unwrap_or(""));
    let said = whole.start..comment.map_or(whole.end, |at| whole.start + at);
    let said = text.get(said).unwrap_or("");
    let indentation = said.len() - said.trim_start().len();
    let content = whole.start + indentation..whole.start + said.trim_end().len().max(indentation);
    Line {
        whole,
        content,
        is_indented: indentation > 0,
    }
}

fn comment_in(line: &str) -> Option<usize> {
    let mut opened: Option<char> = None;
    for (at, character) in line.char_indices() {
        match (opened, character) {
            (None, '#') => return Some(at),
            (None, mark) if mark == '"' || is_typographic_quote(mark) => opened = Some(mark),
            (Some('"'), '"') => opened = None,
            (Some(mark), closes) if mark != '"' && is_typographic_quote(closes) => opened = None,
            _ => {}
        }
    }
    None
}

/// The quotes a text processor writes; any of them opens and closes.
pub(crate) fn is_typographic_quote(character: char) -> bool {
    matches!(
        character,
        '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{201f}' | '\u{ab}' | '\u{bb}'
    )
}

/// The tokens of a part of a line.
pub(crate) fn tokens(text: &str, range: Range<usize>) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut at = range.start;
    while let Some(rest) = text.get(at..range.end).filter(|rest| !rest.is_empty()) {
        let start = at + (rest.len() - rest.trim_start().len());
        let Some(rest) = text.get(start..range.end).filter(|rest| !rest.is_empty()) else {
            break;
        };
        let (shape, length) = token(rest);
        at = start + length.max(1);
        tokens.push(Token {
            span: Span::new(start, at),
            shape,
        });
    }
    tokens
}

/// What the text starts with, and how long that is. It is not empty and starts with no blank.
fn token(text: &str) -> (Shape, usize) {
    let mut characters = text.chars();
    let first = characters.next().unwrap_or(' ');
    let is_digit = |character: Option<char>| character.is_some_and(|it| it.is_ascii_digit());
    match first {
        '#' => (Shape::Comment, text.trim_end().len()),
        '"' => (Shape::Text, quoted(text, true)),
        _ if is_typographic_quote(first) => (Shape::Text, quoted(text, false)),
        '0'..='9' => number(text),
        '+' | '-' | '\u{2212}' | '\u{2013}' if is_digit(characters.next()) => {
            let (_, length) = number(text.get(first.len_utf8()..).unwrap_or(""));
            (Shape::Number, first.len_utf8() + length)
        }
        _ => sign(text).map_or_else(|| (Shape::Word, word(text)), |length| (Shape::Sign, length)),
    }
}

fn sign(text: &str) -> Option<usize> {
    let signs = [
        "+/-", "+-", "..", "\u{2026}", "\u{b1}", "\u{d7}", "\u{2212}", "\u{2013}", "+", "-", "/",
        "*", "=", "(", ")",
    ];
    signs
        .iter()
        .find(|sign| text.starts_with(**sign))
        .map(|sign| sign.len())
}

fn quoted(text: &str, is_straight: bool) -> usize {
    let mut characters = text.char_indices().skip(1).peekable();
    while let Some((at, character)) = characters.next() {
        if is_straight && character == '"' && characters.next_if(|(_, next)| *next == '"').is_none()
        {
            return at + 1;
        }
        if !is_straight && is_typographic_quote(character) {
            return at + character.len_utf8();
        }
    }
    text.trim_end().len()
}

fn number(text: &str) -> (Shape, usize) {
    let bytes = text.as_bytes();
    let digits = |from: usize| {
        bytes
            .iter()
            .skip(from)
            .take_while(|byte| byte.is_ascii_digit())
            .count()
    };
    let is_date = [4, 7].iter().all(|at| bytes.get(*at) == Some(&b'-'))
        && (digits(0), digits(5)) == (4, 2)
        && digits(8) == 2;
    if is_date {
        return (Shape::Date, 10);
    }
    let whole = digits(0);
    let part = digits(whole + 1);
    let has_part = bytes.get(whole) == Some(&b'.') && part > 0;
    (
        Shape::Number,
        if has_part { whole + 1 + part } else { whole },
    )
}

fn word(text: &str) -> usize {
    let mut length = 0;
    for (at, character) in text.char_indices() {
        let ends = character.is_whitespace()
            || matches!(
                character,
                '"' | '#' | '(' | ')' | '=' | '*' | '\u{d7}' | '\u{b1}' | '\u{2026}'
            )
            || is_typographic_quote(character)
            || text.get(at..).is_some_and(|rest| rest.starts_with(".."));
        if ends && at > 0 {
            return at;
        }
        length = at + character.len_utf8();
    }
    length
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_found_at_any_offset() {
        let text = "\u{feff}a \"#\" # b\r\n\r  ග 1\n";
        let said = |offset| {
            let line = line_at(text, offset);
            &text[line.content]
        };
        for offset in 0..=text.len() + 3 {
            let _ = said(offset);
        }
        assert_eq!(said(0), "a \"#\"");
        assert_eq!(said(14), "");
        assert_eq!(said(18), "ග 1");
        assert_eq!(lines(text).count(), 4);
    }

    #[test]
    fn tokens_take_up_every_character_but_blanks() {
        let text = "maize 2.5kg/t ± 0.4 (a + b)/c -3 .. 4 2026-11-01 \"a \"\"b\" x12..14% # c";
        let tokens = tokens(text, 0..text.len());
        let told: Vec<&str> = tokens.iter().map(|token| token.span.of(text)).collect();
        assert_eq!(
            told,
            [
                "maize",
                "2.5",
                "kg/t",
                "±",
                "0.4",
                "(",
                "a",
                "+",
                "b",
                ")",
                "/",
                "c",
                "-3",
                "..",
                "4",
                "2026-11-01",
                "\"a \"\"b\"",
                "x12",
                "..",
                "14",
                "%",
                "# c"
            ]
        );
    }
}

//! The tokens of a line that could be read, and the line with one blank between them.

use std::ops::Range;

use crate::lines::is_typographic_quote;

/// The tokens of a text, as ranges of it.
pub(super) fn of(text: &str) -> impl Iterator<Item = Range<usize>> {
    let mut at = 0;
    std::iter::from_fn(move || {
        let rest = text.get(at..)?;
        let start = at + (rest.len() - rest.trim_start().len());
        let rest = text.get(start..).filter(|rest| !rest.is_empty())?;
        at = start + length(rest);
        Some(start..at)
    })
}

/// A text with one blank between its tokens, none inside parentheses.
pub(super) fn spaced(text: &str) -> String {
    let mut spaced = String::with_capacity(text.len());
    for token in of(text).filter_map(|range| text.get(range)) {
        if !spaced.is_empty() && !spaced.ends_with('(') && token != ")" {
            spaced.push(' ');
        }
        spaced.push_str(token);
    }
    spaced
}

/// How long the token is that a text starts with; the text is not empty and starts with no blank.
fn length(text: &str) -> usize {
    let mut characters = text.chars();
    let Some(first) = characters.next() else {
        return 0;
    };
    let second = characters.next();
    let is_digit =
        |character: Option<char>| character.is_some_and(|character| character.is_ascii_digit());
    if first == '"' || is_typographic_quote(first) {
        return quoted(text, first == '"');
    }
    for sign in ["+/-", "+-", ".."] {
        if text.starts_with(sign) {
            return sign.len();
        }
    }
    match first {
        '(' | ')' | '=' | '*' | '/' | '\u{d7}' | '\u{b1}' | '\u{2026}' => first.len_utf8(),
        '0'..='9' => number(text),
        '+' | '-' | '\u{2212}' | '\u{2013}' if is_digit(second) => {
            first.len_utf8() + text.get(first.len_utf8()..).map_or(0, number)
        }
        _ => word(text),
    }
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
    text.len()
}

/// A day or a number, without its unit.
fn number(text: &str) -> usize {
    let bytes = text.as_bytes();
    let is_date = bytes.len() >= 10
        && bytes
            .iter()
            .take(10)
            .enumerate()
            .all(|(at, byte)| match at {
                4 | 7 => *byte == b'-',
                _ => byte.is_ascii_digit(),
            });
    if is_date {
        return 10;
    }
    let digits = |from: usize| {
        bytes
            .iter()
            .skip(from)
            .take_while(|byte| byte.is_ascii_digit())
            .count()
    };
    let whole = digits(0);
    match bytes.get(whole) {
        Some(b'.') if digits(whole + 1) > 0 => whole + 1 + digits(whole + 1),
        _ => whole,
    }
}

/// A name, a unit, a code, an operator.
fn word(text: &str) -> usize {
    let ends = |character: char| {
        character.is_whitespace()
            || matches!(
                character,
                '"' | '(' | ')' | '=' | '*' | '\u{d7}' | '\u{b1}' | '\u{2026}'
            )
            || is_typographic_quote(character)
    };
    let end = text.find(ends).unwrap_or(text.len());
    if end == 0 {
        text.chars().next().map_or(0, char::len_utf8)
    } else {
        end
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tokens_are_parted_by_one_blank() {
        assert_eq!(
            spaced("8.0±0.4%  of\u{a0}dry-matter"),
            "8.0 ± 0.4 % of dry-matter"
        );
        assert_eq!(spaced("16..18 %"), "16 .. 18 %");
        assert_eq!(
            spaced("price  2.5kg/t as of 2026-11-01"),
            "price 2.5 kg/t as of 2026-11-01"
        );
        assert_eq!(spaced("( a+ b  )  /c"), "(a+ b) / c");
        assert_eq!(spaced("\"a  \"\" b\"   x"), "\"a  \"\" b\" x");
        assert_eq!(spaced("-150 .. -50 meq/kg"), "-150 .. -50 meq/kg");
    }
}

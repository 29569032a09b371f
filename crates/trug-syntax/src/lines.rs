//! A text to its lines, by hand: indentation, content, comment. Every byte of the text lies in one line.
//!
//! A line ends in LF, CRLF or a lone CR: a text with old line ends would else be one long comment, silently.

use std::ops::Range;

/// The mark some editors put at the head of a text; it is accepted and kept.
pub(crate) const BYTE_ORDER_MARK: &str = "\u{feff}";

/// One line of a text; all offsets are bytes of the text.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// From the first byte to the line end, which is left out.
    pub(crate) whole: Range<usize>,
    /// What it says, without blanks and comment at its ends; empty where it says nothing.
    pub(crate) content: Range<usize>,
    /// From the `#` to the end.
    pub(crate) comment: Option<Range<usize>>,
    /// Blanks stand before the content or comment.
    pub(crate) is_indented: bool,
    /// No byte of it is above 127.
    pub(crate) is_ascii: bool,
    /// The quote mark that nothing closes.
    pub(crate) open_quote: Option<usize>,
}

impl Line {
    /// Whether it says nothing; a comment may stand in it.
    pub(crate) fn is_blank(&self) -> bool {
        self.content.is_empty()
    }
}

/// The lines of a text, in order.
pub(crate) struct Lines<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Lines<'t> {
    pub(crate) fn of(text: &'t str) -> Lines<'t> {
        let at = if text.starts_with(BYTE_ORDER_MARK) {
            BYTE_ORDER_MARK.len()
        } else {
            0
        };
        Lines { text, at }
    }

    /// The lines of a part of a text: of the text up to the part's end, from where it begins.
    pub(crate) fn of_part(text: &'t str, part: std::ops::Range<usize>) -> Lines<'t> {
        let text = text.get(..part.end).unwrap_or(text);
        let at = part.start;
        Lines { text, at }
    }
}

impl Iterator for Lines<'_> {
    type Item = Line;

    fn next(&mut self) -> Option<Line> {
        if self.at >= self.text.len() {
            return None;
        }
        let (line, next) = line_at(self.text, self.at);
        self.at = next;
        Some(line)
    }
}

/// The quotes a text processor writes; any of them opens and closes.
pub(crate) fn is_typographic_quote(character: char) -> bool {
    matches!(
        character,
        '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{201f}' | '\u{ab}' | '\u{bb}'
    )
}

#[derive(Clone, Copy, PartialEq)]
enum Quote {
    None,
    Straight(usize),
    Typographic(usize),
}

/// The line that starts at `start`, and where the next one does.
fn line_at(text: &str, start: usize) -> (Line, usize) {
    let bytes = text.as_bytes();
    let mut quote = Quote::None;
    let mut comment = None;
    let mut is_ascii = true;
    let mut at = start;
    while let Some(&byte) = bytes.get(at) {
        match byte {
            b'\n' | b'\r' => break,
            b'#' if quote == Quote::None && comment.is_none() => comment = Some(at),
            b'"' if comment.is_none() => quote = after_straight(quote, at),
            128.. => {
                is_ascii = false;
                if comment.is_none() && (byte == 0xe2 || byte == 0xc2) {
                    quote = after_wide(text, quote, at);
                }
            }
            _ => {}
        }
        at += 1;
    }
    let next = match (bytes.get(at), bytes.get(at + 1)) {
        (Some(b'\r'), Some(b'\n')) => at + 2,
        (Some(_), _) => at + 1,
        (None, _) => at,
    };
    let open_quote = match quote {
        Quote::None => None,
        Quote::Straight(opened) | Quote::Typographic(opened) => Some(opened),
    };
    let said = text.get(start..comment.unwrap_or(at)).unwrap_or("");
    let indentation = said.len() - said.trim_start().len();
    let content = start + indentation..start + said.trim_end().len().max(indentation);
    let line = Line {
        whole: start..at,
        content,
        comment: comment.map(|from| from..at),
        is_indented: indentation > 0,
        is_ascii,
        open_quote,
    };
    (line, next)
}

fn after_straight(quote: Quote, at: usize) -> Quote {
    match quote {
        Quote::None => Quote::Straight(at),
        Quote::Straight(_) => Quote::None,
        Quote::Typographic(_) => quote,
    }
}

fn after_wide(text: &str, quote: Quote, at: usize) -> Quote {
    let character = text.get(at..).and_then(|rest| rest.chars().next());
    match quote {
        Quote::Straight(_) => quote,
        _ if !character.is_some_and(is_typographic_quote) => quote,
        Quote::None => Quote::Typographic(at),
        Quote::Typographic(_) => Quote::None,
    }
}

/// The part of a text up to its first blank.
pub(crate) fn first_word(text: &str) -> &str {
    let is_end = |byte: &u8| matches!(byte, b' ' | b'\t' | 0x0b | 0x0c | 128..);
    match text.bytes().position(|byte| is_end(&byte)) {
        None => text,
        Some(end)
            if text.is_char_boundary(end) && text.as_bytes().get(end).is_some_and(u8::is_ascii) =>
        {
            text.get(..end).unwrap_or("")
        }
        Some(_) => text.split(char::is_whitespace).next().unwrap_or(""),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn contents(text: &str) -> Vec<&str> {
        Lines::of(text).map(|line| &text[line.content]).collect()
    }

    #[test]
    fn every_line_end_ends_a_line() {
        assert_eq!(
            contents("\u{feff}a\r\n  b # c\rd\n\n e\u{a0}"),
            ["a", "b", "d", "", "e"]
        );
    }

    #[test]
    fn a_hash_in_quotes_opens_no_comment() {
        assert_eq!(contents("a \"#1\"\"#2\" # b \"c"), ["a \"#1\"\"#2\""]);
        assert_eq!(contents("a “#1” # b"), ["a “#1”"]);
        let open: Vec<_> = Lines::of("a \"b # c").map(|line| line.open_quote).collect();
        assert_eq!(open, [Some(2)]);
    }
}

//! Bytes to the lines and characters of the protocol and back: the one place that knows encodings and line ends.
//!
//! A line ends in `\n`, `\r\n` or a lone `\r`. A position beyond its line means the line's end, a line beyond the text
//! the text's end, a character's middle its start: every position means an offset, so nothing on the wire is refused.

use std::ops::Range as Bytes;

use trug_findings::Span;

use crate::lsp::{Position, PositionEncodingKind, Range};

/// In what a character of a position is counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Encoding {
    /// In bytes.
    Utf8,
    /// In 16-bit units: what every client must know, and the only one where none is agreed on.
    #[default]
    Utf16,
    /// In Unicode scalar values.
    Utf32,
}

impl Encoding {
    /// The one of those offered that costs least; UTF-16 where none is offered that is known.
    #[must_use]
    pub(crate) fn best_of(offered: &[PositionEncodingKind]) -> Encoding {
        let preferred = [Encoding::Utf8, Encoding::Utf32];
        preferred
            .into_iter()
            .find(|one| offered.contains(&one.kind()))
            .unwrap_or_default()
    }

    /// Its name in the protocol.
    #[must_use]
    pub(crate) fn kind(self) -> PositionEncodingKind {
        match self {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
            Encoding::Utf32 => PositionEncodingKind::UTF32,
        }
    }
}

/// Bytes between two entries of the table of counts.
const STRIDE: usize = 256;

/// Where the lines of a text start, and how far it is in every encoding: a lookup does not depend on how long a line is.
#[derive(Clone, Debug)]
pub(crate) struct Lines {
    /// First byte of each line.
    starts: Vec<u32>,
    /// UTF-16 units and scalar values before each multiple of [`STRIDE`]; empty where the text is ASCII.
    counts: Vec<(u32, u32)>,
}

impl Lines {
    /// Indexes a text.
    #[must_use]
    pub(crate) fn of(text: &str) -> Lines {
        let bytes = text.as_bytes();
        let mut starts = vec![0];
        for (at, byte) in bytes.iter().enumerate() {
            let ends = match byte {
                b'\n' => true,
                b'\r' => bytes.get(at + 1) != Some(&b'\n'),
                _ => false,
            };
            if ends {
                starts.push(small(at + 1));
            }
        }
        Lines {
            starts,
            counts: if text.is_ascii() {
                Vec::new()
            } else {
                counts(bytes)
            },
        }
    }

    /// How many lines there are; an empty text has one.
    #[cfg(test)]
    #[must_use]
    pub(crate) fn count(&self) -> usize {
        self.starts.len()
    }

    /// The offset a position means.
    #[must_use]
    pub(crate) fn offset(&self, text: &str, position: Position, encoding: Encoding) -> usize {
        let Some(start) = self.starts.get(position.line as usize) else {
            return text.len();
        };
        let start = *start as usize;
        let end = self.line_end(text, position.line as usize);
        let wanted = position.character as usize;
        if encoding == Encoding::Utf8 || self.counts.is_empty() {
            return boundary(text, start.saturating_add(wanted).min(end));
        }
        let wanted = self.before(text, start, encoding).saturating_add(wanted);
        self.reach(text, start, end, wanted, encoding)
    }

    /// The position of an offset; one inside a character or past the end counts as the nearest before.
    #[must_use]
    pub(crate) fn position(&self, text: &str, offset: usize, encoding: Encoding) -> Position {
        let mut offset = boundary(text, offset.min(text.len()));
        let after = self
            .starts
            .partition_point(|start| *start as usize <= offset);
        let line = after.saturating_sub(1);
        // Between the two characters of a line end there is no position of its own.
        offset = offset.min(self.line_end(text, line));
        let start = self.starts.get(line).map_or(0, |start| *start as usize);
        let character = if encoding == Encoding::Utf8 || self.counts.is_empty() {
            offset - start
        } else {
            self.before(text, offset, encoding) - self.before(text, start, encoding)
        };
        Position::new(small(line), small(character))
    }

    /// The range of a span.
    #[must_use]
    pub(crate) fn range(&self, text: &str, span: Span, encoding: Encoding) -> Range {
        let at = |offset: u32| self.position(text, offset as usize, encoding);
        Range::new(at(span.start), at(span.end.max(span.start)))
    }

    /// The bytes a range means; one whose ends are exchanged means what lies between them.
    #[must_use]
    pub(crate) fn bytes(&self, text: &str, range: Range, encoding: Encoding) -> Bytes<usize> {
        let one = self.offset(text, range.start, encoding);
        let other = self.offset(text, range.end, encoding);
        one.min(other)..one.max(other)
    }

    /// The end of a line, before what ends it.
    fn line_end(&self, text: &str, line: usize) -> usize {
        let Some(next) = self.starts.get(line + 1) else {
            return text.len();
        };
        let next = *next as usize;
        let before = text.as_bytes().get(..next).unwrap_or_default();
        if before.ends_with(b"\r\n") {
            next - 2
        } else {
            next - 1
        }
    }

    /// Units before an offset that starts a character, from the start of the text.
    fn before(&self, text: &str, offset: usize, encoding: Encoding) -> usize {
        let rank = (offset / STRIDE).min(self.counts.len().saturating_sub(1));
        let known = self
            .counts
            .get(rank)
            .map_or(0, |count| pick(*count, encoding));
        let rest = text.as_bytes().get(rank * STRIDE..offset);
        known + rest.map_or(0, |rest| units(rest, encoding))
    }

    /// The last character start of a line before which there are at most `wanted` units of the text.
    fn reach(
        &self,
        text: &str,
        start: usize,
        end: usize,
        wanted: usize,
        encoding: Encoding,
    ) -> usize {
        let after = self
            .counts
            .partition_point(|count| pick(*count, encoding) <= wanted);
        let from = boundary(text, (after.saturating_sub(1) * STRIDE).max(start).min(end));
        let mut units = self.before(text, from, encoding);
        let mut offset = from;
        for letter in text.get(from..end).unwrap_or_default().chars() {
            units += match encoding {
                Encoding::Utf8 => letter.len_utf8(),
                Encoding::Utf16 => letter.len_utf16(),
                Encoding::Utf32 => 1,
            };
            if wanted < units {
                break;
            }
            offset += letter.len_utf8();
        }
        offset
    }
}

/// Texts above 10 MiB are refused before they are read, so a number always fits; a larger one saturates.
fn small(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

fn boundary(text: &str, mut offset: usize) -> usize {
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

fn counts(bytes: &[u8]) -> Vec<(u32, u32)> {
    let mut so_far = (0, 0);
    let mut counts = vec![so_far];
    for part in bytes.chunks(STRIDE) {
        so_far.0 += small(units(part, Encoding::Utf16));
        so_far.1 += small(units(part, Encoding::Utf32));
        counts.push(so_far);
    }
    counts
}

fn pick((utf16, utf32): (u32, u32), encoding: Encoding) -> usize {
    match encoding {
        Encoding::Utf16 => utf16 as usize,
        _ => utf32 as usize,
    }
}

/// Units that start among these bytes: a character counts where its first byte stands.
fn units(bytes: &[u8], encoding: Encoding) -> usize {
    let starts = bytes.iter().filter(|byte| **byte & 0xC0 != 0x80).count();
    let pairs = || bytes.iter().filter(|byte| 0xF0 <= **byte).count();
    match encoding {
        Encoding::Utf8 => bytes.len(),
        Encoding::Utf16 => starts + pairs(),
        Encoding::Utf32 => starts,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const ALL: [Encoding; 3] = [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32];

    fn measure(text: &str, encoding: Encoding) -> usize {
        match encoding {
            Encoding::Utf8 => text.len(),
            Encoding::Utf16 => text.encode_utf16().count(),
            Encoding::Utf32 => text.chars().count(),
        }
    }

    /// Lines without their ends, and the offset of each: told letter by letter.
    fn plain_lines(text: &str) -> Vec<(usize, String)> {
        let mut lines = vec![(0, String::new())];
        let mut letters = text.char_indices().peekable();
        while let Some((at, letter)) = letters.next() {
            if letter == '\r' && letters.peek().is_some_and(|(_, next)| *next == '\n') {
                letters.next();
                lines.push((at + 2, String::new()));
            } else if letter == '\r' || letter == '\n' {
                lines.push((at + 1, String::new()));
            } else if let Some((_, line)) = lines.last_mut() {
                line.push(letter);
            }
        }
        lines
    }

    fn texts() -> impl Strategy<Value = String> {
        let piece = prop_oneof![
            Just("\n".to_owned()),
            Just("\r\n".to_owned()),
            Just("\r".to_owned()),
            Just("e\u{301}".to_owned()),
            Just("𝒳🦆👩\u{200d}🌾".to_owned()),
            Just("සහල්".to_owned()),
            Just("\u{feff}".to_owned()),
            "[a-z %\t]{0,40}",
            Just("ж".repeat(400)),
        ];
        proptest::collection::vec(piece, 0..30).prop_map(|pieces| pieces.concat())
    }

    proptest! {
        #[test]
        fn every_position_of_a_line_means_its_letter(text in texts()) {
            let lines = Lines::of(&text);
            let plain = plain_lines(&text);
            prop_assert_eq!(lines.count(), plain.len());
            for encoding in ALL {
                for (number, (start, line)) in plain.iter().enumerate() {
                    for (at, _) in line.char_indices().chain([(line.len(), ' ')]) {
                        let character = measure(&line[..at], encoding);
                        let position = Position::new(small(number), small(character));
                        prop_assert_eq!(lines.offset(&text, position, encoding), start + at);
                        prop_assert_eq!(lines.position(&text, start + at, encoding), position);
                    }
                }
            }
        }

        #[test]
        fn any_position_and_any_offset_means_something(
            text in texts(), line in 0_u32..40, character in any::<u32>(), offset in any::<usize>(),
        ) {
            let lines = Lines::of(&text);
            for encoding in ALL {
                for character in [character, character % 64] {
                    let position = Position::new(line, character);
                    let at = lines.offset(&text, position, encoding);
                    prop_assert!(text.is_char_boundary(at));
                    let back = lines.position(&text, at, encoding);
                    prop_assert!(back <= position || line as usize >= lines.count());
                    prop_assert_eq!(lines.offset(&text, back, encoding), at);
                }
                for offset in [offset, offset % (text.len() + 3)] {
                    let at = lines.position(&text, offset, encoding);
                    prop_assert!((at.line as usize) < lines.count());
                    prop_assert!(lines.offset(&text, at, encoding) <= offset);
                }
            }
        }
    }

    #[test]
    fn what_lies_beyond_means_the_end_before_the_line_end() {
        let text = "ab\r\nd🦆\n";
        let lines = Lines::of(text);
        let at =
            |line, character| lines.offset(text, Position::new(line, character), Encoding::Utf16);
        assert_eq!(at(0, 9), 2);
        assert_eq!(at(1, 2), 5);
        assert_eq!(at(1, u32::MAX), 9);
        assert_eq!(at(2, 0), 10);
        assert_eq!(at(u32::MAX, u32::MAX), 10);
        assert_eq!(
            lines.position(text, 3, Encoding::Utf16),
            Position::new(0, 2)
        );
    }

    #[test]
    fn what_costs_least_is_agreed_on() {
        use PositionEncodingKind as Kind;
        assert_eq!(
            Encoding::best_of(&[Kind::UTF16, Kind::UTF8]),
            Encoding::Utf8
        );
        assert_eq!(
            Encoding::best_of(&[Kind::UTF32, Kind::UTF16]),
            Encoding::Utf32
        );
        assert_eq!(Encoding::best_of(&[Kind::new("utf-7")]), Encoding::Utf16);
        assert_eq!(Encoding::best_of(&[]), Encoding::Utf16);
    }
}

//! A few lines of a text made ready to be drawn: cut to the page, cleaned, with the places to underline.
//!
//! The drawing library reads a text from its beginning for every label, counts columns in bytes and breaks on spans it
//! does not expect. It is given only these lines, so the cost of a finding does not depend on the size of its text.

use std::ops::Range;

use miette::{LabeledSpan, MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};
use trug_findings::{Place, Position, Source};

use crate::words::{columns_of, lines_of, steers};

/// Columns of a tab stop.
const TAB: usize = 4;
/// Columns before a line's text beside its number: ` N │ `.
const MARGIN: usize = 4;
/// Columns between the middle of an underline and its label: `╰── `.
const LABEL_STEM: usize = 4;
/// A label that would get fewer columns than this stands below the snippet instead.
const LEAST_LABEL: usize = 24;

/// A place to underline, and what to write there.
pub(super) struct Mark<'a> {
    pub(super) place: Place,
    pub(super) label: Option<&'a str>,
}

/// Lines of one text with underlined places. The first mark is the one the head of the drawing names.
#[derive(Debug)]
pub(super) struct Snippet {
    name: String,
    text: String,
    first_line: usize,
    line_count: usize,
    at: Position,
    labels: Vec<LabeledSpan>,
    /// The first mark's label, where there was no room for it.
    pub(super) below: Option<String>,
}

impl Snippet {
    /// Draws the lines from the first to the last mark. All marks stand in `source`; the first one starts `at`.
    pub(super) fn new(
        source: &Source,
        at: Position,
        marks: &[Mark<'_>],
        page: &Page,
    ) -> Option<Snippet> {
        let starts = marks.iter().map(|mark| line_of(source, mark.place));
        let first_line = starts.clone().min()?;
        let last_line = starts.max()?;
        let room = page.room(last_line);
        let mut snippet = Snippet {
            name: crate::words::printable(source.name()).into_owned(),
            text: String::new(),
            first_line,
            line_count: last_line - first_line,
            at,
            labels: Vec::new(),
            below: None,
        };
        for line in first_line..=last_line {
            snippet.push_line(source, line, marks, room, page.ellipsis);
        }
        Some(snippet)
    }

    fn push_line(
        &mut self,
        source: &Source,
        line: usize,
        marks: &[Mark<'_>],
        room: usize,
        ellipsis: &str,
    ) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        let is_here = |mark: &&Mark<'_>| line_of(source, mark.place) == line;
        let focus = marks.iter().find(is_here);
        let focus = focus.map_or(0, |mark| mark.place.span.start as usize);
        let drawn = DrawnLine::new(source, line, focus, room, ellipsis);
        let before = self.text.len();
        self.text.push_str(&drawn.text);
        for (rank, mark) in marks.iter().enumerate() {
            if line_of(source, mark.place) == line {
                let range = drawn.range_of(mark.place.span.range());
                if before + range.end > self.text.len() {
                    self.text.push(' ');
                }
                let label = mark.label.and_then(|label| {
                    let middle = drawn.columns_to(range.start) + drawn.columns_between(&range) / 2;
                    self.fitted(label, room.saturating_sub(middle + LABEL_STEM), rank == 0)
                });
                let span = SourceSpan::from(before + range.start..before + range.end);
                self.labels.push(if rank == 0 {
                    LabeledSpan::new_primary_with_span(label, span)
                } else {
                    LabeledSpan::new_with_span(label, span)
                });
            }
        }
        if self.text.len() == before {
            // An empty line still wants a character, or the drawing loses count of its lines.
            self.text.push(' ');
        }
    }

    /// A label broken to `room` columns; put below where that is too narrow.
    fn fitted(&mut self, label: &str, room: usize, is_primary: bool) -> Option<String> {
        let label = crate::words::printable(label);
        if room < LEAST_LABEL && crate::words::columns(&label) > room && is_primary {
            self.below = Some(label.into_owned());
            return None;
        }
        Some(lines_of(&label, room.max(LEAST_LABEL)).join("\n"))
    }

    /// The places to underline.
    pub(super) fn labels(&self) -> impl Iterator<Item = LabeledSpan> + '_ {
        self.labels.iter().cloned()
    }
}

/// The drawing asks twice: with lines of context for what to draw, without for what its head says.
impl SourceCode for Snippet {
    fn read_span<'a>(
        &'a self,
        _span: &SourceSpan,
        context_lines_before: usize,
        _context_lines_after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let is_head = context_lines_before == 0;
        let (line, column) = if is_head {
            (self.at.line - 1, self.at.column - 1)
        } else {
            (self.first_line, 0)
        };
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            self.text.as_bytes(),
            SourceSpan::from(0..self.text.len()),
            line,
            column,
            self.line_count,
        )))
    }
}

/// The page a snippet is drawn on.
pub(super) struct Page {
    pub(super) width: usize,
    /// What stands where a line is cut.
    pub(super) ellipsis: &'static str,
}

impl Page {
    /// Columns left for a line's own text, beside its number.
    fn room(&self, last_line: usize) -> usize {
        let digits = (last_line + 1).to_string().len();
        self.width.saturating_sub(digits + MARGIN).max(20)
    }
}

/// The line a place starts in, counted from 0.
pub(super) fn line_of(source: &Source, place: Place) -> usize {
    source.line_of((place.span.start as usize).min(source.text().len()))
}

/// One line as it will be seen, and where its bytes went.
struct DrawnLine {
    text: String,
    /// For each character drawn: its byte in the source, its byte in `text`, its column.
    places: Vec<[usize; 3]>,
    /// The same one past the last character.
    end: [usize; 3],
}

impl DrawnLine {
    fn new(source: &Source, line: usize, focus: usize, room: usize, ellipsis: &str) -> DrawnLine {
        let whole = line_range(source, line);
        let window = window(source.text(), &whole, focus, room, ellipsis.len());
        let mut drawn = DrawnLine {
            text: String::new(),
            places: Vec::new(),
            end: [0; 3],
        };
        let mut column = 0;
        if whole.start < window.start {
            drawn.text.push_str(ellipsis);
            column += crate::words::columns(ellipsis);
        }
        let seen = source.text().get(window.clone()).unwrap_or("");
        for (offset, character) in seen.char_indices() {
            drawn
                .places
                .push([window.start + offset, drawn.text.len(), column]);
            column += draw_character(character, column, &mut drawn.text);
        }
        drawn.end = [window.end, drawn.text.len(), column];
        if window.end < whole.end {
            drawn.text.push_str(ellipsis);
        }
        drawn
    }

    /// Where a range of the source is in `text`: at least one character, in the part that is seen.
    fn range_of(&self, range: Range<usize>) -> Range<usize> {
        let start = self.place_at(range.start);
        let end = self.place_before(range.end);
        let next = self.place_after(start);
        start..end.max(next)
    }

    /// The character a byte belongs to.
    fn place_at(&self, offset: usize) -> usize {
        if offset >= self.end[0] {
            return self.end[1];
        }
        let after = self.places.partition_point(|place| place[0] <= offset);
        let place = self.places.get(after.saturating_sub(1));
        place.map_or(self.end[1], |place| place[1])
    }

    /// The end of the last character before a byte.
    fn place_before(&self, offset: usize) -> usize {
        let after = self.places.partition_point(|place| place[0] < offset);
        self.places.get(after).map_or(self.end[1], |place| place[1])
    }

    /// One character on; past the end there is a blank to stand on.
    fn place_after(&self, start: usize) -> usize {
        let after = self.places.partition_point(|place| place[1] <= start);
        let next = self.places.get(after).map_or(self.end[1], |place| place[1]);
        next.max(start + 1)
    }

    fn columns_to(&self, place: usize) -> usize {
        let at = self.places.partition_point(|known| known[1] < place);
        self.places.get(at).map_or(self.end[2], |known| known[2])
    }

    fn columns_between(&self, range: &Range<usize>) -> usize {
        self.columns_to(range.end)
            .saturating_sub(self.columns_to(range.start))
    }
}

/// The bytes of a line without its line end, and without a byte order mark.
fn line_range(source: &Source, line: usize) -> Range<usize> {
    let start = source.line_start(line);
    let end = source.line_start(line + 1);
    let whole = source.text().get(start..end).unwrap_or("");
    let mark = if line == 0 && whole.starts_with('\u{feff}') {
        '\u{feff}'.len_utf8()
    } else {
        0
    };
    let bare = whole.strip_suffix('\n').unwrap_or(whole);
    let bare = bare.strip_suffix('\r').unwrap_or(bare);
    start + mark..(start + bare.len()).max(start + mark)
}

/// The part of a line that is shown: all of it where it fits, else `room` columns around `focus`.
///
/// Looks at no more characters than can be seen, however long the line.
fn window(
    text: &str,
    line: &Range<usize>,
    focus: usize,
    room: usize,
    ellipsis: usize,
) -> Range<usize> {
    let end = forward(text, line.start, line.end, room);
    if end == line.end {
        return line.clone();
    }
    let room = room.saturating_sub(2 * ellipsis);
    let mut focus = focus.clamp(line.start, line.end);
    while !text.is_char_boundary(focus) {
        focus -= 1;
    }
    // The head of the line says what it is about; where it is too far, a third of the page stands before the place.
    let near = forward(text, line.start, line.end, room * 2 / 3);
    let mut start = if focus < near {
        line.start
    } else {
        back(text, focus, line.start, room / 3)
    };
    let end = forward(text, start, line.end, room);
    if end == line.end {
        start = back(text, line.end, line.start, room);
    }
    start..end
}

/// The offset up to which `room` columns reach from `start`.
fn forward(text: &str, start: usize, limit: usize, room: usize) -> usize {
    let rest = text.get(start..limit).unwrap_or("");
    let mut used = 0;
    for (offset, character) in rest.char_indices() {
        used += seen_columns(character, used);
        // Marks that take no column are let in without end; nobody writes so many.
        if used > room || offset > 16 * room {
            return start + offset;
        }
    }
    limit
}

/// The offset from which `room` columns reach to `end`.
fn back(text: &str, end: usize, limit: usize, room: usize) -> usize {
    let before = text.get(limit..end).unwrap_or("");
    let mut used = 0;
    for (offset, character) in before.char_indices().rev() {
        // A tab may take as much as its whole stop.
        used += if character == '\t' {
            TAB
        } else {
            seen_columns(character, 0)
        };
        let start = limit + offset + character.len_utf8();
        if used > room || end - start > 16 * room {
            return start;
        }
    }
    limit
}

fn seen_columns(character: char, column: usize) -> usize {
    match character {
        '\t' => TAB - column % TAB,
        _ if steers(character) => 1,
        _ => columns_of(character),
    }
}

/// Writes one character as it is to be seen and says how many columns it takes.
fn draw_character(character: char, column: usize, text: &mut String) -> usize {
    let wide = seen_columns(character, column);
    match character {
        '\t' => text.extend(std::iter::repeat_n(' ', wide)),
        _ if steers(character) => text.push(char::REPLACEMENT_CHARACTER),
        _ => text.push(character),
    }
    wide
}

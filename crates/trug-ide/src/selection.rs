//! What a selection grows to: word, quantity, line, item, text.

use trug_findings::{FileId, Source, Span};
use trug_model::Farm;

use crate::names::parts_of;
use crate::symbols::spans_of;

/// The ranges around an offset, each within the next, the whole text last.
#[must_use]
pub fn selections(farm: &Farm, file: FileId, offset: usize) -> Vec<Span> {
    let Some(source) = farm.sources().get(file.index()) else {
        return Vec::new();
    };
    let text = source.text();
    let offset = on_boundary(text, offset);
    let mut ranges = in_line(source, offset);
    if !farm.is_table(file) {
        let items = &farm.tree(file).items;
        let after = items.partition_point(|item| item.whole.start as usize <= offset);
        if let Some(item) = after.checked_sub(1).and_then(|rank| items.get(rank)) {
            ranges.extend(parts_of(item));
            ranges.extend(spans_of(item));
            ranges.extend([item.header, item.whole]);
        }
    }
    ranges.push(Span::new(0, text.len()));
    let holds = |span: &Span| span.start as usize <= offset && offset <= span.end as usize;
    ranges.retain(|span| holds(span) && span.start < span.end);
    ranges.sort_by_key(|span| (span.end - span.start, span.start));
    let mut grown: Vec<Span> = Vec::new();
    for range in ranges {
        let is_around = |inner: &Span| range.to(*inner) == range && range != *inner;
        if grown.last().is_none_or(is_around) {
            grown.push(range);
        }
    }
    grown
}

/// The nearest offset before, or at, this one at which a character begins.
fn on_boundary(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

/// The word at an offset, the text in quotes or the comment it stands in, and the line without blanks at its ends.
fn in_line(source: &Source, offset: usize) -> Vec<Span> {
    let text = source.text();
    let line = source.line_of(offset);
    let start = source.line_start(line);
    let end = source.line_start(line + 1);
    let said = text.get(start..end).unwrap_or("");
    let trimmed = said.trim_start_matches('\u{feff}').trim();
    let before = said.find(trimmed).unwrap_or(0);
    let mut ranges = vec![Span::new(start + before, start + before + trimmed.len())];
    ranges.extend(word(text, offset));
    let mut quote: Option<usize> = None;
    for (at, letter) in said.char_indices() {
        match (letter, quote) {
            ('"', None) => quote = Some(at),
            ('"', Some(opened)) => {
                let (opened, at) = (start + opened, start + at);
                ranges.extend([Span::new(opened, at + 1), Span::new(opened + 1, at)]);
                ranges.extend(accept_before(text, opened).map(|from| Span::new(from, at + 1)));
                quote = None;
            }
            ('#', None) => {
                let comment = said.get(at..).unwrap_or("").trim_end();
                ranges.push(Span::new(start + at, start + at + comment.len()));
                break;
            }
            _ => {}
        }
    }
    ranges
}

/// Where the `accept` stands whose reason opens here.
fn accept_before(text: &str, quote: usize) -> Option<usize> {
    let before = text.get(..quote)?.trim_end();
    let code = before.rfind(char::is_whitespace)?;
    let before = before.get(..code)?.trim_end();
    before
        .ends_with("accept")
        .then(|| before.len() - "accept".len())
}

/// The word that holds an offset, or ends at it.
fn word(text: &str, offset: usize) -> Option<Span> {
    let (before, after) = text.split_at_checked(offset)?;
    let start = before
        .char_indices()
        .rev()
        .take_while(|(_, letter)| is_of_word(*letter))
        .last()
        .map_or(offset, |(at, _)| at);
    let length = after.find(|letter| !is_of_word(letter));
    let end = offset + length.unwrap_or(after.len());
    (start < end).then(|| Span::new(start, end))
}

fn is_of_word(letter: char) -> bool {
    !letter.is_whitespace() && !"\"/=+*×#(),;".contains(letter)
}

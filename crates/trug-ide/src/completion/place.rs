//! Where in a line one writes: the item it belongs to, the words before, and the word that is being written.

use trug_findings::Span;
use trug_syntax::tree::File;
use trug_syntax::words::{self, ItemWord};

use crate::lines::{Shape, Token, is_typographic_quote, line_at, tokens};
use crate::parts;

/// A word before the cursor, by its form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Said<'t> {
    Word(&'t str),
    Sign(&'t str),
    Number,
    Date,
    Text,
}

/// A place in a text where something is being written.
#[derive(Debug)]
pub(super) struct Place<'t> {
    /// The item whose line it is; none at the margin of a text, and where its header opens with no word.
    pub(super) item: Option<&'static ItemWord>,
    /// Where the item's header starts.
    pub(super) header: Option<usize>,
    /// It is the line that opens the item.
    pub(super) is_header: bool,
    /// What stands before the word that is being written.
    pub(super) said: Vec<Said<'t>>,
    /// That word, all of it; empty where a new one is begun.
    pub(super) word: Span,
    /// It stands inside quotes: what they hold.
    pub(super) quoted: Option<Span>,
    /// Something stands behind it on the line.
    pub(super) has_more: bool,
    /// A number stands right before the word, without a blank.
    pub(super) touches_number: bool,
}

/// The place at `offset`; none inside a comment.
pub(super) fn place_at<'t>(text: &'t str, tree: &File, offset: usize) -> Option<Place<'t>> {
    let line = line_at(text, offset);
    let start = line.whole.start + text.get(line.whole.clone()).map_or(0, indentation);
    let all = tokens(text, line.whole.clone());
    let in_comment =
        |token: &Token| token.shape == Shape::Comment && (token.span.start as usize) < offset;
    if offset < line.whole.start || all.iter().any(in_comment) {
        return None;
    }
    let before = tokens(text, line.whole.start..offset);
    let is_header = start == line.whole.start && (!before.is_empty() || line.whole.start == offset);
    let written = before
        .last()
        .filter(|token| token.span.end as usize == offset);
    let (word, quoted, before) = match written {
        Some(token) if token.shape == Shape::Word => {
            (whole_word(*token, &all), None, up_to_last(&before))
        }
        Some(token) if token.shape == Shape::Text && is_open(token.span.of(text)) => (
            Span::at(offset),
            Some(inside(text, *token, &all)),
            up_to_last(&before),
        ),
        _ => (Span::at(offset), None, before.as_slice()),
    };
    let touches_number = before
        .last()
        .is_some_and(|token| token.shape == Shape::Number && token.span.end == word.start);
    let (item, header) = if is_header {
        let first = before.first().map_or("", |token| token.span.of(text));
        (words::item_word(first), Some(start))
    } else {
        let above = parts::item_at(&tree.items, line.whole.start.saturating_sub(1));
        let word = above.and_then(|item| words::item_word(item.keyword.of(text)));
        (word, above.map(|item| item.header.start as usize))
    };
    Some(Place {
        item,
        header,
        is_header,
        said: before.iter().map(|token| said(text, token)).collect(),
        word,
        quoted,
        has_more: all
            .iter()
            .any(|token| token.span.start > word.end && token.shape != Shape::Comment),
        touches_number,
    })
}

fn indentation(line: &str) -> usize {
    line.len() - line.trim_start().len()
}

fn up_to_last(tokens: &[Token]) -> &[Token] {
    tokens.split_last().map_or(&[], |(_, before)| before)
}

/// The word with what of it stands behind the cursor.
fn whole_word(written: Token, all: &[Token]) -> Span {
    let whole = all
        .iter()
        .find(|token| token.span.start == written.span.start);
    whole.map_or(written.span, |token| token.span.to(written.span))
}

/// What the quotes hold, without the closing one.
fn inside(text: &str, written: Token, all: &[Token]) -> Span {
    let whole = whole_word(written, all);
    let opened = whole.of(text).chars().next().map_or(0, char::len_utf8);
    let held = Span::new(whole.start as usize + opened, whole.end as usize);
    let closing = held
        .of(text)
        .chars()
        .next_back()
        .filter(|last| is_quote(*last));
    let length = closing.map_or(0, char::len_utf8);
    Span::new(held.start as usize, held.end as usize - length)
}

fn is_quote(character: char) -> bool {
    character == '"' || is_typographic_quote(character)
}

fn is_open(quoted: &str) -> bool {
    let mut characters = quoted.chars();
    let opens = characters.next();
    let is_straight = opens == Some('"');
    let rest = characters.as_str();
    if is_straight {
        rest.matches('"').count().is_multiple_of(2)
    } else {
        !rest.chars().any(is_typographic_quote)
    }
}

fn said<'t>(text: &'t str, token: &Token) -> Said<'t> {
    let written = token.span.of(text);
    match token.shape {
        Shape::Word | Shape::Comment => Said::Word(written),
        Shape::Sign => Said::Sign(written),
        Shape::Number => Said::Number,
        Shape::Date => Said::Date,
        Shape::Text => Said::Text,
    }
}

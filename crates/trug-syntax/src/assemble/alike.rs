//! Lines that differ from one read before in a name and a number alone: these are not read again.
//!
//! Texts are long and most of their lines alike. A name ends at a blank and a plain number where neither digit nor point follows, so
//! what the grammar makes of the rest of a line depends on neither. Only a line that [`Statement::become_that_of`] puts together again
//! just as it was read is kept for others.

mod statement;

use std::collections::HashMap;
use std::ops::Range;

use trug_findings::Span;

use crate::grammar::Rule;
use crate::tree::ItemBody;
use crate::words::LineWord;
use statement::{Changes, Statement};

/// So many kinds of line are kept; a text with more has few that are alike.
const MOST: usize = 1_000;
/// A longer number is read in full.
const MOST_DIGITS: usize = 18;

/// The lines of a text that others may be like.
#[derive(Default)]
pub(super) struct Alike<'t> {
    known: HashMap<Key<'t>, Pattern>,
}

/// A line of an item.
#[derive(Clone, Copy)]
pub(super) struct At<'t> {
    pub(super) form: &'static LineWord,
    pub(super) content: &'t str,
    pub(super) span: Span,
}

/// What lines that are alike have in common.
#[derive(PartialEq, Eq, Hash)]
struct Key<'t> {
    rule: Rule,
    /// From the line's name, or from its start where it opens with a word, to its number; to its end where that is no other.
    before: &'t str,
    /// Behind its number; none where that is no other.
    after: Option<&'t str>,
}

/// A line cut where it may differ from others; all are bytes of its content.
struct Cut<'t> {
    key: Key<'t>,
    /// The end of its name; zero where it opens with a word.
    name: usize,
    number: Option<Range<usize>>,
}

/// A line that others may be like.
struct Pattern {
    statement: Statement,
    /// Where its name and its number end in the text.
    name_end: usize,
    number_end: usize,
}

impl<'t> Alike<'t> {
    /// Puts a line into its item as one like it was read before; false where none was.
    pub(super) fn put(&self, body: &mut ItemBody, line: At<'t>) -> bool {
        if self.known.is_empty() {
            return false;
        }
        cuts(line).into_iter().flatten().any(|cut| {
            let pattern = self.known.get(&cut.key);
            pattern.is_some_and(|pattern| pattern.of(line, &cut).put(body, line.span))
        })
    }

    /// Keeps the line that was just put into its item, and that says nothing else, so that others may be like it.
    pub(super) fn keep(&mut self, body: &ItemBody, line: At<'t>) {
        if self.known.len() >= MOST {
            return;
        }
        let Some(statement) = Statement::last_of(body, line.span) else {
            return;
        };
        let base = line.span.start as usize;
        let number = statement.number();
        for cut in cuts(line).into_iter().flatten() {
            let end = cut.number.as_ref().map_or(usize::MAX, |cut| base + cut.end);
            let pattern = Pattern {
                statement: statement.clone(),
                name_end: base + cut.name,
                number_end: end,
            };
            let of_number = |cut: &Range<usize>| Span::new(base + cut.start, base + cut.end);
            let is_its_number = cut
                .number
                .as_ref()
                .is_none_or(|cut| number == Some(of_number(cut)));
            if is_its_number && pattern.of(line, &cut) == statement {
                self.known.insert(cut.key, pattern);
                return;
            }
        }
    }
}

impl Pattern {
    /// What a line like this one says.
    fn of(&self, line: At<'_>, cut: &Cut<'_>) -> Statement {
        let base = line.span.start as usize;
        let mut statement = self.statement.clone();
        statement.become_that_of(&Changes {
            name: line.content.get(..cut.name).unwrap_or(""),
            at: base,
            digits: cut
                .number
                .clone()
                .and_then(|number| line.content.get(number)),
            name_end: (self.name_end, base + cut.name),
            number_end: cut
                .number
                .as_ref()
                .map(|number| (self.number_end, base + number.end)),
        });
        statement
    }
}

/// The ways to cut a line: without its first number, and with it.
fn cuts(line: At<'_>) -> [Option<Cut<'_>>; 2] {
    let content = line.content;
    let name = if line.form.is_word() {
        Some(0)
    } else {
        simple_name(content)
    };
    let Some(name) = name else {
        return [None, None];
    };
    let cut = |number: Option<Range<usize>>| {
        let key = Key {
            rule: line.form.rule,
            before: content.get(name..number.as_ref().map_or(content.len(), |at| at.start))?,
            after: match &number {
                Some(number) => Some(content.get(number.end..)?),
                None => None,
            },
        };
        Some(Cut { key, name, number })
    };
    let number = plain_number(content.as_bytes(), name);
    let is_named = name > 0;
    [
        number.and_then(|number| cut(Some(number))),
        is_named.then(|| cut(None)).flatten(),
    ]
}

/// Where a name in plain letters ends at a blank.
fn simple_name(content: &str) -> Option<usize> {
    let bytes = content.as_bytes();
    let is_part = |byte: &u8| byte.is_ascii_alphanumeric() || *byte == b'-';
    let end = bytes.iter().position(|byte| !is_part(byte))?;
    let last = bytes.get(end.checked_sub(1)?)?;
    let is_name = bytes.first()?.is_ascii_alphabetic() && *last != b'-';
    (is_name && bytes.get(end) == Some(&b' ')).then_some(end)
}

/// The first digits behind `from`, with a point among them or none, where they stand as a number of their own.
fn plain_number(bytes: &[u8], from: usize) -> Option<Range<usize>> {
    let count = |from: usize| {
        let rest = bytes.get(from..).unwrap_or_default();
        rest.iter().take_while(|byte| byte.is_ascii_digit()).count()
    };
    let rest = bytes.get(from..)?;
    let start = from + rest.iter().position(u8::is_ascii_digit)?;
    let mut end = start + count(start);
    let decimals = count(end + 1);
    if bytes.get(end) == Some(&b'.') && decimals > 0 {
        end += 1 + decimals;
    }
    let is_after_blank = start.checked_sub(1).and_then(|at| bytes.get(at)) == Some(&b' ');
    let is_plain = is_after_blank && bytes.get(end) != Some(&b'.') && end - start <= MOST_DIGITS;
    is_plain.then_some(start..end)
}

#[cfg(test)]
mod tests;

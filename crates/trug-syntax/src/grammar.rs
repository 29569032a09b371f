//! The one place that knows pest: a rule of the grammar and a line, to the parts of the line.

use pest::Parser;
use pest::error::InputLocation;

use crate::lines::{first_word, is_typographic_quote};

mod rules {
    #![expect(
        unreachable_pub,
        reason = "written by the derive from grammar/trug.pest"
    )]

    #[derive(pest_derive::Parser)]
    #[grammar = "../../grammar/trug.pest"]
    pub struct Grammar;
}

use rules::Grammar;
pub(crate) use rules::Rule;

/// A part of a line, with the parts inside it.
pub(crate) type Part<'t> = pest::iterators::Pair<'t, Rule>;
/// An indented line, and what ends it with the offset where that starts.
pub(crate) type ReadLine<'t> = (Part<'t>, Option<(usize, Part<'t>)>);
/// Parts side by side.
pub(crate) type Parts<'t> = pest::iterators::Pairs<'t, Rule>;

/// Reads all of `text` by one rule; else says up to which byte it could be read.
pub(crate) fn read(rule: Rule, text: &str) -> Result<Part<'_>, usize> {
    let (part, end) = read_start(rule, text)?;
    if end == text.len() {
        Ok(part)
    } else {
        Err(behind_blanks(text, end))
    }
}

fn behind_blanks(text: &str, at: usize) -> usize {
    let left = text.get(at..).unwrap_or("");
    at + left.len() - left.trim_start().len()
}

/// Reads an indented line: by its rule, and what may end any line, with the offset where that starts.
///
/// The rules of lines know nothing of where a value is from, nor of `accept`, except that of amounts, whose clauses stand
/// in any order. So a line without these words costs nothing, and is looked at for them only where its own rule cannot
/// read all of it.
pub(crate) fn read_line(rule: Rule, text: &str) -> Result<ReadLine<'_>, usize> {
    let at_fault = match read_start(rule, text) {
        Ok((part, end)) if end == text.len() => return Ok((part, None)),
        Ok((part, end)) => match read_end(rule, text, end) {
            Some(read) => return Ok((part, Some(read))),
            None => behind_blanks(text, end),
        },
        Err(at) => at,
    };
    if has_own_end(rule) {
        return Err(at_fault);
    }
    // A rule that takes a name there may have taken the word for one.
    let (start, _) = end_start(text).ok_or(at_fault)?;
    let (line, end) = text.split_at_checked(start).ok_or(at_fault)?;
    let line = read(rule, line.trim_end())?;
    let end = read(Rule::line_end, end).map_err(|at| start + at)?;
    Ok((line, Some((start, end))))
}

/// What ends a line, right behind what its own rule read of it.
fn read_end(rule: Rule, text: &str, at: usize) -> Option<(usize, Part<'_>)> {
    let start = behind_blanks(text, at);
    let left = text.get(start..)?;
    let opens = start > at && ENDS.contains(&first_word(left)) && !has_own_end(rule);
    let end = opens.then(|| read(Rule::line_end, left).ok())?;
    end.map(|end| (start, end))
}

/// Whether a rule reads what may end a line among its own parts.
fn has_own_end(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::amount_line | Rule::accept_line | Rule::origin_line
    )
}

/// Words that open what may end any line.
const ENDS: [&str; 3] = ["accept", "source", "unverified"];

/// Where what ends a line starts, and with which word: behind others and outside quotes.
pub(crate) fn end_start(text: &str) -> Option<(usize, &'static str)> {
    if !ENDS.iter().any(|word| text.contains(word)) {
        return None;
    }
    let mut in_quotes = false;
    let mut after_blank = false;
    for (at, character) in text.char_indices() {
        if character == '"' || is_typographic_quote(character) {
            in_quotes = !in_quotes;
        }
        if after_blank && !in_quotes && matches!(character, 'a' | 's' | 'u') {
            let first = first_word(text.get(at..)?);
            if let Some(word) = ENDS.iter().find(|word| **word == first) {
                return Some((at, word));
            }
        }
        after_blank = character.is_whitespace();
    }
    None
}

/// Reads the start of `text` by one rule, and says where that ends.
pub(crate) fn read_start(rule: Rule, text: &str) -> Result<(Part<'_>, usize), usize> {
    let mut parts = Grammar::parse(rule, text).map_err(|error| match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    })?;
    let part = parts.next().ok_or(0_usize)?;
    let end = part.as_span().end();
    Ok((part, end))
}

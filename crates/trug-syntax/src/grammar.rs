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
/// An indented line, and what it accepts at its end with the offset where that starts.
pub(crate) type ReadLine<'t> = (Part<'t>, Option<(usize, Part<'t>)>);
/// Parts side by side.
pub(crate) type Parts<'t> = pest::iterators::Pairs<'t, Rule>;

/// Reads all of `text` by one rule; else says up to which byte it could be read.
pub(crate) fn read(rule: Rule, text: &str) -> Result<Part<'_>, usize> {
    let (part, end) = read_start(rule, text)?;
    if end == text.len() {
        Ok(part)
    } else {
        let blanks = text
            .get(end..)
            .map_or(0, |left| left.len() - left.trim_start().len());
        Err(end + blanks)
    }
}

/// Reads an indented line: by its rule, and what it accepts at its end, with the offset where that starts.
///
/// The rules of lines do not know of `accept`, except that of amounts, whose clauses stand in any order. So a line
/// without the word costs nothing, and a line is looked at for it only where its own rule cannot read all of it.
pub(crate) fn read_line(rule: Rule, text: &str) -> Result<ReadLine<'_>, usize> {
    let at_fault = match read(rule, text) {
        Ok(part) => return Ok((part, None)),
        Err(at) => at,
    };
    if matches!(rule, Rule::amount_line | Rule::accept_line) {
        return Err(at_fault);
    }
    let start = accept_start(text).ok_or(at_fault)?;
    let (line, accept) = text.split_at_checked(start).ok_or(at_fault)?;
    let line = read(rule, line.trim_end())?;
    let accept = read(Rule::accept, accept).map_err(|at| start + at)?;
    Ok((line, Some((start, accept))))
}

/// Where the word `accept` stands in a line, behind others and outside quotes.
pub(crate) fn accept_start(text: &str) -> Option<usize> {
    if !text.contains("accept") {
        return None;
    }
    let mut in_quotes = false;
    let mut after_blank = false;
    for (at, character) in text.char_indices() {
        if character == '"' || is_typographic_quote(character) {
            in_quotes = !in_quotes;
        }
        let is_start = after_blank && !in_quotes && character == 'a';
        if is_start && first_word(text.get(at..)?) == "accept" {
            return Some(at);
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

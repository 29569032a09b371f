//! The one place that knows pest: a rule of the grammar and a line, to the parts of the line.

use pest::Parser;
use pest::error::InputLocation;

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

/// Reads the start of `text` by one rule, and says where that ends.
pub(crate) fn read_start(rule: Rule, text: &str) -> Result<(Part<'_>, usize), usize> {
    let mut parts = Grammar::parse(rule, text).map_err(|error| match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    })?;
    let part = parts.next().ok_or(0_usize)?;
    let end = part.as_span().end();
    Ok((part, end))
}

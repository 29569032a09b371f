//! The texts that the `use` lines of a text lead to.

use trug_findings::{FileId, Span};
use trug_model::Farm;

/// A `use` that leads to a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Link {
    /// The path as written, without its quotes; the name of a book.
    pub span: Span,
    /// The text.
    pub target: FileId,
}

/// The links of a text, in its order. A `use` of what is not there is none.
#[must_use]
pub fn links(farm: &Farm, file: FileId) -> Vec<Link> {
    let text = farm.sources().get(file.index()).map_or("", |it| it.text());
    let uses = farm.uses(file).iter();
    uses.filter_map(|(span, target)| {
        Some(Link {
            span: without_quotes(*span, text),
            target: (*target)?,
        })
    })
    .collect()
}

/// The range of what the quotes hold, whatever kind of quotes they are.
fn without_quotes(span: Span, text: &str) -> Span {
    let is_quote = |letter: char| !letter.is_alphanumeric() && !"./-_~".contains(letter);
    let said = span.of(text);
    let first = said.chars().next().filter(|it| is_quote(*it));
    let last = said.chars().next_back().filter(|it| is_quote(*it));
    match (first, last) {
        (Some(first), Some(last)) if first.len_utf8() + last.len_utf8() <= said.len() => Span::new(
            span.start as usize + first.len_utf8(),
            span.end as usize - last.len_utf8(),
        ),
        _ => span,
    }
}

//! A comparison drawn for a reviewer: in a terminal, as a comment, as a page, and for programs.
//!
//! Every word and number is made once, in [`telling`]; the forms only lay them out.

mod causes;
mod html;
mod json;
mod markdown;
mod rows;
mod sentences;
mod telling;
mod text;
mod values;

use trug_compare::Comparison;

pub use html::compare_html;
pub use json::compare_document;
pub use markdown::{MOST_CHARACTERS, compare_markdown};
pub use text::compare_text;

/// A comparison with what it cannot know by itself.
#[derive(Clone, Copy, Debug)]
pub struct Compared<'a> {
    /// What changed.
    pub comparison: &'a Comparison,
    /// What people call the first side, as it was asked for.
    pub before: &'a str,
    /// The same of the second side.
    pub after: &'a str,
    /// The one ration that was asked for.
    pub ration: Option<&'a str>,
    /// The day that both sides were judged on.
    pub today: Option<&'a str>,
}

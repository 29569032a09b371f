//! The JSON documents programs rely on: each has its own structs, apart from the types of the domain.
//!
//! Fields stand in the order they are printed in. None is ever renamed; more may be added.

pub mod analysis;
pub mod balance;
pub mod buy;
pub mod compare;
pub mod evenness;
pub mod finding;
pub mod number;
pub mod plan;
pub(crate) mod sarif;
pub mod trace;

use serde::Serialize;

/// A document over several lines, with a line end at its end.
#[must_use]
pub fn to_json(document: &impl Serialize) -> String {
    with_line_end(serde_json::to_string_pretty(document))
}

/// A document in one line, with its line end: for `jsonl`.
#[must_use]
pub fn to_json_line(document: &impl Serialize) -> String {
    with_line_end(serde_json::to_string(document))
}

/// Our documents are structs, lists, strings and numbers: writing them cannot fail, and an empty line is no JSON that could be taken for one.
fn with_line_end(written: serde_json::Result<String>) -> String {
    let mut text = written.unwrap_or_default();
    text.push('\n');
    text
}

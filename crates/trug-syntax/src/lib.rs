//! Text to items and lines; never fails.
//!
//! A text is split into lines by hand; each line is read by the one rule of the grammar that its margin, its item
//! and its first word call for; a line that fails is looked at again for the mistake it holds. The grammar itself is
//! `grammar/trug.pest`; nothing of pest leaves this crate.

pub mod findings;
pub mod tree;
pub mod words;

mod assemble;
mod grammar;
mod lines;
mod mistakes;
mod names;
mod reader;
#[cfg(test)]
mod reference;
mod spelling;
mod tidy;

use trug_findings::FileId;

pub use names::{composed, is_name};
pub use spelling::usual_unit;
pub use tidy::tidy;
pub use words::is_reserved;

/// Reads a text. Whatever it holds, there is a tree; what could not be read is in its findings.
#[must_use]
pub fn parse(file: FileId, text: &str) -> tree::File {
    assemble::assemble(file, text)
}

/// Reads a part of a text that begins where a line does, and leaves the rest alone. Places are those of the whole text.
#[must_use]
pub fn parse_part(file: FileId, text: &str, part: std::ops::Range<usize>) -> tree::File {
    assemble::assemble_part(file, text, part)
}

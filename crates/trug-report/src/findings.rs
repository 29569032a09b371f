//! Findings drawn for people and for programs: the same ones, in the same order, in every form.

mod draw;
mod human;
mod json;
mod lines;
mod order;
mod sarif;
mod snippet;

pub use human::{Style, human};
pub use json::{finding_json, findings_document};
pub use lines::lines;
pub(crate) use order::{file_name, start_of};
pub use sarif::sarif;

//! A trace to words, JSON, CSV and a page.

mod csv;
mod html;
mod json;
mod text;
mod words;

pub use csv::trace_csv;
pub use html::trace_html;
pub use json::trace_document;
pub use text::trace_text;

use trug_findings::{Place, Source};

use crate::findings::{file_name, start_of};

/// Where something is named: `lots.trug:18`.
fn at(place: Place, sources: &[Source]) -> String {
    let line = start_of(place, sources).line;
    format!("{}:{line}", file_name(place, sources))
}

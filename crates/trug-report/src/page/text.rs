//! The one way by which a text gets into a page.

use std::fmt::Write as _;

use maud::{Escaper, Render};

use crate::words::printable;

/// A text of the farm's or of the tool's: shown as written, with nothing in it that could be markup or steer the line.
pub(crate) struct Text<'a>(pub(crate) &'a str);

impl Render for Text<'_> {
    fn render_to(&self, page: &mut String) {
        // Writing to a string cannot fail.
        let _ = Escaper::new(page).write_str(&printable(self.0));
    }
}

/// Languages whose usual script runs from right to left, by their first subtag.
const RIGHT_TO_LEFT: [&str; 10] = ["ar", "ckb", "dv", "fa", "he", "ps", "sd", "ug", "ur", "yi"];

/// Whether a page in this language runs from right to left.
pub(crate) fn is_right_to_left(language: &str) -> bool {
    let first = language.split('-').next().unwrap_or(language);
    RIGHT_TO_LEFT
        .iter()
        .any(|known| first.eq_ignore_ascii_case(known))
}

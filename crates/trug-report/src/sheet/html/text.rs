//! The one way by which a text gets into the page.

use std::fmt::Write as _;

use maud::{Escaper, Render};

use crate::words::printable;

/// A text of the booklet: shown as written, with nothing in it that could be markup or a command.
///
/// Controls and the marks that turn the direction of a line become the replacement character, and so do the code
/// points that are no characters, which a page may not hold.
pub(super) struct Text<'a>(pub(super) &'a str);

impl Render for Text<'_> {
    fn render_to(&self, page: &mut String) {
        let shown = printable(self.0);
        let mut escaper = Escaper::new(page);
        for character in shown.chars() {
            let character = match character {
                none if is_no_character(none) => char::REPLACEMENT_CHARACTER,
                some => some,
            };
            // Writing to a string cannot fail.
            let _ = escaper.write_char(character);
        }
    }
}

/// The 66 code points that are never characters.
fn is_no_character(character: char) -> bool {
    let code = u32::from(character);
    matches!(code, 0xfdd0..=0xfdef) || code & 0xfffe == 0xfffe
}

/// Languages whose usual script runs from right to left, by their first subtag.
const RIGHT_TO_LEFT: [&str; 10] = [
    "ar", "ckb", "dv", "fa", "he", "ps", "sd", "ug", "ur", "yi",
];

/// Whether a page in this language runs from right to left.
pub(super) fn is_right_to_left(language: &str) -> bool {
    let first = language.split('-').next().unwrap_or(language);
    RIGHT_TO_LEFT
        .iter()
        .any(|known| first.eq_ignore_ascii_case(known))
}

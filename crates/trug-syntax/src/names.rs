//! What can be a name, and the one form in which names are kept.

use smol_str::SmolStr;
use unicode_normalization::{IsNormalized, UnicodeNormalization, is_nfc_quick};

use crate::grammar::{self, Rule};

/// Whether a text has the form of a name: letters and marks of any script, digits, hyphens; a letter first, no hyphen last.
///
/// Reserved words have that form too; see [`crate::is_reserved`].
#[must_use]
pub fn is_name(text: &str) -> bool {
    grammar::read(Rule::name, text).is_ok()
}

/// A word in Unicode's composed form, so that two spellings of one name are equal.
#[must_use]
pub fn composed(word: &str) -> SmolStr {
    if word.is_ascii() || is_nfc_quick(word.chars()) == IsNormalized::Yes {
        SmolStr::new(word)
    } else {
        word.nfc().collect()
    }
}

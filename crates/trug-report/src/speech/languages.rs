//! The languages the project has phrases in.

use unic_langid::LanguageIdentifier;

use super::ENGLISH;

/// Every language with phrases, by its tag, and its Fluent file.
pub const PHRASES: [(&str, &str); 6] = [
    (ENGLISH, include_str!("../../phrases/en.ftl")),
    ("es", include_str!("../../phrases/es.ftl")),
    ("fr", include_str!("../../phrases/fr.ftl")),
    ("hi", include_str!("../../phrases/hi.ftl")),
    ("pt", include_str!("../../phrases/pt.ftl")),
    ("sw", include_str!("../../phrases/sw.ftl")),
];

/// The phrases for a language, whatever its region; English where it has none.
pub(super) fn phrases_of(language: &LanguageIdentifier) -> (&'static str, &'static str) {
    let named = PHRASES
        .into_iter()
        .find(|(tag, _)| *tag == language.language.as_str());
    let [english, ..] = PHRASES;
    named.unwrap_or(english)
}

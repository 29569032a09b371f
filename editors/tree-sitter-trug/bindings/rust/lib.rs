//! The rations language of trug, for tree-sitter.

use tree_sitter_language::LanguageFn;

unsafe extern "C" {
    fn tree_sitter_trug() -> *const ();
}

/// The language.
// SAFETY: the generated parser has this function, and it gives the language the runtime wants.
pub const LANGUAGE: LanguageFn = unsafe { LanguageFn::from_raw(tree_sitter_trug) };

/// What each word of a text is, for colouring.
pub const HIGHLIGHTS_QUERY: &str = include_str!("../../queries/highlights.scm");

//! The words of the language: what opens an item, what opens a line in it, what joins the rest.
//!
//! One table serves reading (the rule for a line), findings (what a line wants, and an example), completion and the
//! reference. A word that stands here is reserved as a name, nowhere else is one.

mod lines;
mod table;

use std::sync::LazyLock;

use crate::grammar::Rule;

pub(crate) use lines::{ACCEPT, SOURCE};
pub use table::{CLAUSES, ITEMS};

/// A word that opens an item.
#[derive(Debug)]
pub struct ItemWord {
    /// The word.
    pub word: &'static str,
    /// What its header wants, after "wants".
    pub wants: &'static str,
    /// A header as it is typed.
    pub example: &'static str,
    /// The words that open its lines; empty where it has none.
    pub lines: &'static [LineWord],
    /// What a line is that opens with none of these words.
    pub otherwise: Option<&'static LineWord>,
    pub(crate) rule: Rule,
}

/// A word or two that open a line.
#[derive(Debug)]
pub struct LineWord {
    /// The words, as `sold in`; the first of them is reserved. A kind of line without a word has its description, as `a nutrient`.
    pub word: &'static str,
    /// What such a line wants, after "wants".
    pub wants: &'static str,
    /// A line as it is typed.
    pub example: &'static str,
    pub(crate) rule: Rule,
}

impl LineWord {
    const fn new(
        word: &'static str,
        rule: Rule,
        wants: &'static str,
        example: &'static str,
    ) -> LineWord {
        LineWord {
            word,
            wants,
            example,
            rule,
        }
    }

    /// The word the line opens with.
    #[must_use]
    pub fn first(&self) -> &'static str {
        self.word.split(' ').next().unwrap_or(self.word)
    }

    /// Whether it opens with a word of the language, and not with a name or a number.
    #[must_use]
    pub fn is_word(&self) -> bool {
        !self.word.starts_with("a ") && !self.word.starts_with("an ")
    }
}

/// The item a word opens.
#[must_use]
pub fn item_word(word: &str) -> Option<&'static ItemWord> {
    ITEMS
        .iter()
        .find(|item| same_start(item.word, word) && item.word == word)
}

impl ItemWord {
    /// The kind of line a word opens in this item.
    #[must_use]
    pub fn line_word(&self, first: &str) -> Option<&'static LineWord> {
        self.lines.iter().find(|line| {
            same_start(line.word, first)
                && line
                    .word
                    .strip_prefix(first)
                    .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        })
    }

    /// Whether it has lines at all.
    #[must_use]
    pub fn has_lines(&self) -> bool {
        !self.lines.is_empty() || self.otherwise.is_some()
    }
}

/// Whether two words open with the same letter. Most do not, which makes looking a word up cheap.
fn same_start(a: &str, b: &str) -> bool {
    a.as_bytes().first() == b.as_bytes().first()
}

/// The reserved words in alphabetical order, and how many of them stand before each letter's.
static RESERVED: LazyLock<(Vec<&str>, [usize; 27])> = LazyLock::new(|| {
    let lines = ITEMS
        .iter()
        .flat_map(|item| item.lines)
        .map(LineWord::first);
    let mut words: Vec<_> = ITEMS
        .iter()
        .map(|item| item.word)
        .chain(lines)
        .chain(CLAUSES.iter().copied())
        .collect();
    words.sort_unstable();
    words.dedup();
    let mut before = [0; 27];
    for (letter, count) in (b'a'..).zip(&mut before) {
        *count = words.partition_point(|word| word.as_bytes().first() < Some(&letter));
    }
    (words, before)
});

/// Every reserved word once, in alphabetical order.
#[must_use]
pub fn reserved() -> &'static [&'static str] {
    &RESERVED.0
}

/// Whether a word belongs to the language and cannot be a name; capitals make no difference.
///
/// Asked of every line that opens with a name, so it looks at the words of one letter only.
#[must_use]
pub fn is_reserved(word: &str) -> bool {
    let Some(first @ b'a'..=b'z') = word.bytes().next().map(|byte| byte.to_ascii_lowercase())
    else {
        return false;
    };
    let (words, before) = &*RESERVED;
    let letter = usize::from(first - b'a');
    let range =
        before.get(letter).copied().unwrap_or(0)..before.get(letter + 1).copied().unwrap_or(0);
    words.get(range).is_some_and(|words| {
        words
            .iter()
            .any(|reserved| reserved.eq_ignore_ascii_case(word))
    })
}

/// Whether a word is the second of two that open a line, as the `in` of `sold in`.
pub(crate) fn is_second(word: &str) -> bool {
    let mut lines = ITEMS.iter().flat_map(|item| item.lines);
    lines.any(|line| {
        line.word
            .split_once(' ')
            .is_some_and(|(_, second)| second == word)
    })
}

//! How texts come in: by name, from a disk, a memory, or an editor.

use std::sync::Arc;

/// The largest text that is read, in bytes: 10 MiB.
pub const LARGEST_TEXT: usize = 10 * 1024 * 1024;

/// Gives texts by name. A name is a path with `/`, relative to the root.
pub trait Texts: Sync {
    /// The text of that name, or why there is none.
    ///
    /// # Errors
    /// Says which of the foreseen reasons it is; all of them become findings.
    fn get(&self, name: &str) -> Result<Arc<str>, Absent>;
}

/// Why a text cannot be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Absent {
    /// There is none of that name.
    Missing,
    /// It lies outside the root, by a link.
    Outside,
    /// It is not UTF-8, or holds a NUL: the offset of the first such byte.
    NotText(usize),
    /// It is over 10 MiB.
    TooLarge,
    /// It is a folder, a pipe, or could not be opened: the system's own words.
    Unreadable(String),
}

/// Texts held in memory: for tests, and for what an editor has open.
#[derive(Clone, Debug, Default)]
pub struct InMemory(pub std::collections::BTreeMap<String, Arc<str>>);

impl InMemory {
    /// Holds these texts under these names.
    pub fn new<'a>(texts: impl IntoIterator<Item = (&'a str, &'a str)>) -> InMemory {
        let shared = |(name, text): (&str, &str)| (name.to_owned(), Arc::from(text));
        InMemory(texts.into_iter().map(shared).collect())
    }
}

impl Texts for InMemory {
    fn get(&self, name: &str) -> Result<Arc<str>, Absent> {
        self.0.get(name).cloned().ok_or(Absent::Missing)
    }
}

//! A farm: the texts asked for, all they use, and where each name is declared.

pub(crate) mod names;
mod paths;
mod reading;
mod scope;
mod table;

use trug_findings::{FileId, Finding, Place, Source, Span};
use trug_syntax::tree;

pub use names::{ItemRef, Namespace};
pub(crate) use scope::{Found, Scope};

use crate::texts::Texts;

/// What reading a farm depends on besides its texts.
#[derive(Clone, Debug, Default)]
pub struct Settings {
    /// The day, for what depends on it.
    pub today: Option<jiff::civil::Date>,
    /// A `use` may name texts outside the root.
    pub may_leave_root: bool,
}

/// Texts, read, with what each of them uses.
#[derive(Debug)]
pub struct Farm {
    files: Vec<File>,
    asked: Vec<FileId>,
    sources: Vec<Source>,
    settings: Settings,
}

/// One text of a farm.
#[derive(Debug)]
pub(crate) struct File {
    /// The text, read.
    pub(crate) tree: tree::File,
    /// The `use` lines that name texts, and what they lead to; none where that is missing.
    pub(crate) uses: Vec<(Span, Option<FileId>)>,
    /// Where its names are declared.
    pub(crate) names: names::NameTable,
    /// A bundled book, or a text of the farm.
    pub(crate) is_book: bool,
    /// A table, whose rows add to the ingredients of the texts that use it.
    pub(crate) is_table: bool,
    /// What reading the file itself found: it is not text, or it uses what is not there.
    pub(crate) findings: Vec<Finding>,
}

/// The bundled books, by the name a text uses them under.
pub const BOOKS: &[(&str, &str)] = &[("poultry", include_str!("book/poultry.trug"))];

impl Farm {
    /// Reads the texts of these names and all they use, each once, in parallel.
    #[must_use]
    pub fn read(names: &[String], texts: &dyn Texts, settings: Settings) -> Farm {
        reading::read(names, texts, settings)
    }

    /// Every text, by its number. Texts are numbered in the order of their names.
    #[must_use]
    pub fn sources(&self) -> &[Source] {
        &self.sources
    }

    /// The texts asked for, in the order of their names.
    #[must_use]
    pub fn asked(&self) -> &[FileId] {
        &self.asked
    }

    /// The text of that name.
    #[must_use]
    pub fn file(&self, name: &str) -> Option<FileId> {
        let rank = self
            .sources
            .iter()
            .position(|source| source.name() == name)?;
        Some(FileId(u32::try_from(rank).ok()?))
    }

    /// The items of a text.
    #[must_use]
    pub fn tree(&self, file: FileId) -> &tree::File {
        &self.files[file.index()].tree
    }

    /// What it was read with.
    #[must_use]
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// Whether the text is a bundled book.
    #[must_use]
    pub fn is_book(&self, file: FileId) -> bool {
        self.files[file.index()].is_book
    }

    /// Whether the text is a table, judged in every text that uses it.
    #[must_use]
    pub fn is_table(&self, file: FileId) -> bool {
        self.files[file.index()].is_table
    }

    pub(crate) fn entry(&self, file: FileId) -> &File {
        &self.files[file.index()]
    }

    pub(crate) fn item(&self, item: ItemRef) -> &tree::Item {
        &self.files[item.file.index()].tree.items[item.rank as usize]
    }

    /// The numbers of its texts.
    pub fn files(&self) -> impl Iterator<Item = FileId> + use<> {
        let count = u32::try_from(self.files.len()).unwrap_or(u32::MAX);
        (0..count).map(FileId)
    }

    pub(crate) fn text_of(&self, place: Place) -> &str {
        place.span.of(self.sources[place.file.index()].text())
    }
}

//! A farm: the texts asked for, all they use, and where each name is declared.

pub(crate) mod names;
mod paths;
mod reading;
mod scope;
mod shelf;
pub mod table;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use trug_findings::{FileId, Finding, Place, Source, Span};
use trug_syntax::tree;

pub use names::{ItemRef, Namespace};
pub(crate) use paths::join;
pub(crate) use scope::{Found, Scope};
use shelf::Tree;

use crate::library::Library;
use crate::rounds::Rounds;
use crate::texts::{Absent, Texts};

/// What reading a farm depends on besides its texts.
#[derive(Clone, Debug)]
pub struct Settings {
    /// The day, for what depends on it.
    pub today: Option<jiff::civil::Date>,
    /// A `use` may name texts outside the root.
    pub may_leave_root: bool,
    /// The books a `use` may name.
    pub library: &'static Library,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            today: None,
            may_leave_root: false,
            library: Library::bundled(),
        }
    }
}

/// Texts, read, with what each of them uses.
///
/// A farm does not change: [`Farm::reread`] makes another, which shares with it what stayed the same.
#[derive(Clone, Debug)]
pub struct Farm {
    files: Vec<Arc<File>>,
    asked: Vec<FileId>,
    sources: Vec<Source>,
    /// What was named and could not be had.
    absent: Arc<BTreeMap<String, Absent>>,
    /// Which texts use each text: made when first asked for, and shared by farms in which nothing uses another text.
    users: Arc<OnceLock<BTreeMap<FileId, Vec<FileId>>>>,
    /// Texts that use each other, made and shared likewise.
    circles: Arc<OnceLock<Rounds<FileId>>>,
    settings: Settings,
}

/// One text of a farm.
#[derive(Debug)]
pub(crate) struct File {
    /// The text, read. Its findings do not know the number of the text: [`Farm::reading_findings`] does.
    pub(crate) tree: Arc<Tree>,
    /// The `use` lines that name texts, and what they lead to; none where that is missing.
    pub(crate) uses: Vec<(Span, Option<FileId>)>,
    /// Where its names are declared.
    pub(crate) names: Arc<names::NameTable>,
    /// Why it is none, where it is asked for and is no text.
    pub(crate) absent: Option<Absent>,
    /// A bundled book, or a text of the farm.
    pub(crate) is_book: bool,
    /// A table, whose rows add to the ingredients of the texts that use it.
    pub(crate) is_table: bool,
    /// What reading the file itself found: it is not text, or it uses what is not there.
    pub(crate) findings: Vec<Finding>,
}

impl Farm {
    /// Reads the texts of these names and all they use, each once, in parallel.
    #[must_use]
    pub fn read(names: &[String], texts: &dyn Texts, settings: Settings) -> Farm {
        reading::read(names, texts, settings, None)
    }

    /// Reads again what changed, and takes the rest as it was: what [`Farm::read`] of the same names would give.
    ///
    /// `changed` names the texts that may be others now, also those that may have come or gone.
    #[must_use]
    pub fn reread(&self, names: &[String], texts: &dyn Texts, changed: &BTreeSet<String>) -> Farm {
        let settings = self.settings.clone();
        let before = reading::Before {
            farm: self,
            changed,
        };
        before
            .exchanged(names, texts)
            .unwrap_or_else(|| reading::read(names, texts, settings, Some(&before)))
    }

    /// The texts that read this one, directly or through others, in the order of their names; itself is the first.
    #[must_use]
    pub fn readers_of(&self, file: FileId) -> Vec<FileId> {
        let users = self.users.get_or_init(|| {
            let mut users: BTreeMap<FileId, Vec<FileId>> = BTreeMap::new();
            for user in self.files() {
                for target in self.entry(user).uses.iter().filter_map(|(_, to)| *to) {
                    users.entry(target).or_default().push(user);
                }
            }
            users
        });
        let mut known = BTreeSet::from([file]);
        let mut next = vec![file];
        while let Some(used) = next.pop() {
            for user in users.get(&used).into_iter().flatten() {
                if known.insert(*user) {
                    next.push(*user);
                }
            }
        }
        known.remove(&file);
        std::iter::once(file).chain(known).collect()
    }

    /// The texts that use this one and that it uses, directly or through others, itself among them, in the order of their names;
    /// none where it does not use itself.
    pub(crate) fn circle_of(&self, file: FileId) -> Option<&[FileId]> {
        let circles = self.circles.get_or_init(|| {
            let uses = |file: &FileId| {
                let uses = self.entry(*file).uses.iter();
                uses.filter_map(|(_, target)| *target).collect()
            };
            Rounds::of(self.files(), uses, |file| *file)
        });
        circles.round_of(&file)
    }

    /// Whether two farms have the same text, read with the same result, under this number.
    #[must_use]
    pub fn is_same_text(&self, file: FileId, other: &Farm) -> bool {
        let (one, other) = (self.files.get(file.index()), other.files.get(file.index()));
        matches!((one, other), (Some(one), Some(other)) if Arc::ptr_eq(one, other))
    }

    /// What reading a text by itself found.
    pub(crate) fn reading_findings(&self, file: FileId) -> Vec<Finding> {
        let mut findings = self.tree(file).findings.clone();
        for finding in &mut findings {
            reading::renumber(finding, file);
        }
        findings
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
        let by_name = |source: &Source| source.name().cmp(name);
        let rank = self.sources.binary_search_by(by_name).ok()?;
        Some(FileId(u32::try_from(rank).ok()?))
    }

    /// The items of a text.
    #[must_use]
    pub fn tree(&self, file: FileId) -> &tree::File {
        self.files[file.index()].tree.whole()
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

    pub(crate) fn entries(&self) -> &[Arc<File>] {
        &self.files
    }

    pub(crate) fn entry(&self, file: FileId) -> &File {
        &self.files[file.index()]
    }

    pub(crate) fn item(&self, item: ItemRef) -> &tree::Item {
        self.files[item.file.index()].tree.item(item.rank)
    }

    /// The numbers of its texts.
    pub fn files(&self) -> impl Iterator<Item = FileId> + use<> {
        let count = u32::try_from(self.files.len()).unwrap_or(u32::MAX);
        (0..count).map(FileId)
    }

    /// Where what stands at a place is from: what its line says of that, else its item.
    #[must_use]
    pub fn origin(&self, place: Place) -> Option<&tree::Origin> {
        self.origin_in(place).map(|(_, origin)| origin)
    }

    /// The same, with the item it stands in.
    pub(crate) fn origin_in(&self, place: Place) -> Option<(&tree::Item, &tree::Origin)> {
        let tree = &self.files.get(place.file.index())?.tree;
        let item = tree.item_at(place.span.start as usize)?;
        Some((item, item.origin(place.span)?))
    }

    pub(crate) fn text_of(&self, place: Place) -> &str {
        place.span.of(self.sources[place.file.index()].text())
    }
}

//! Reads the texts asked for and everything they use, wave by wave, each wave in parallel.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rayon::prelude::*;
use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place, Source, Span};
use trug_syntax::tree::{self, ItemBody, UseSource, UsedBook};

use super::shelf::Tree;
use super::{Farm, File, Settings, paths, table};
use crate::findings::used;
use crate::library::{Library, PREFIX};
use crate::texts::{Absent, Texts};

/// A text as it came in, before it has its number.
struct Fetched {
    text: Source,
    absent: Option<Absent>,
    tree: Arc<Tree>,
    /// What it was before, where that may still hold.
    before: Option<(FileId, Arc<File>)>,
}

type Fetches = BTreeMap<String, Result<Fetched, Absent>>;

/// A farm as it was read before, and which of its texts may be others now.
pub(super) struct Before<'a> {
    pub(super) farm: &'a Farm,
    pub(super) changed: &'a BTreeSet<String>,
}

/// Where a `use` leads.
#[derive(PartialEq)]
enum Target {
    Text(String),
    Outside,
    /// By that name, of the edition that was asked for.
    NoBook(SmolStr),
}

pub(super) fn read(
    names: &[String],
    texts: &dyn Texts,
    settings: Settings,
    before: Option<&Before<'_>>,
) -> Farm {
    let mut fetched = Fetches::new();
    let mut wave: Vec<String> = names.to_vec();
    wave.sort();
    wave.dedup();
    let asked = wave.clone();
    while !wave.is_empty() {
        let read: Vec<_> = wave
            .par_iter()
            .map(|name| match before.and_then(|before| before.get(name)) {
                Some(known) => known,
                None => fetch(name, texts, settings.library),
            })
            .collect();
        let next = wanted(&wave, &read, &fetched, &settings);
        fetched.extend(wave.into_iter().zip(read));
        wave = next;
    }
    number(fetched, &asked, settings)
}

impl Before<'_> {
    /// The farm with only the changed texts exchanged: possible where the same texts are there and each still uses the
    /// same others, which is nearly every edit. Nothing is numbered anew, so the cost does not grow with the farm.
    pub(super) fn exchanged(&self, names: &[String], texts: &dyn Texts) -> Option<Farm> {
        let asked = self.farm.asked.iter();
        let asked = asked.map(|id| self.farm.sources[id.index()].name());
        if !asked.eq(names.iter().map(String::as_str)) {
            return None;
        }
        let mut farm = self.farm.clone();
        for name in self.changed {
            let id = self.farm.file(name)?;
            let known = self.farm.entry(id);
            let fetched = fetch(name, texts, self.farm.settings.library).ok()?;
            let old = targets(name, &known.tree, &self.farm.settings);
            let new = targets(name, &fetched.tree, &self.farm.settings);
            let is_same = |(old, new): (&(Span, Target), &(Span, Target))| old.1 == new.1;
            if known.absent.is_some()
                || old.len() != new.len()
                || !old.iter().zip(&new).all(is_same)
            {
                return None;
            }
            let index = Index {
                sources: &self.farm.sources,
                absent: Arc::clone(&self.farm.absent),
                settings: self.farm.settings.clone(),
            };
            farm.sources[id.index()] = fetched.text.clone();
            farm.files[id.index()] = Arc::new(finish(id, name, fetched, &index));
        }
        Some(farm)
    }

    /// What the text was, if it did not change.
    fn get(&self, name: &str) -> Option<Result<Fetched, Absent>> {
        if self.changed.contains(name) {
            return None;
        }
        if let Some(absent) = self.farm.absent.get(name) {
            return Some(Err(absent.clone()));
        }
        let id = self.farm.file(name)?;
        let file = self.farm.files.get(id.index())?;
        if let Some(absent) = &file.absent {
            return Some(Err(absent.clone()));
        }
        Some(Ok(Fetched {
            text: self.farm.sources.get(id.index())?.clone(),
            absent: None,
            tree: Arc::clone(&file.tree),
            before: Some((id, Arc::clone(file))),
        }))
    }
}

fn fetch(name: &str, texts: &dyn Texts, library: &Library) -> Result<Fetched, Absent> {
    if name.starts_with(PREFIX) {
        let book = library.text(name).ok_or(Absent::Missing)?;
        return Ok(Fetched {
            tree: Arc::new(Tree::of_book(book)),
            text: Source::new(name, book),
            absent: None,
            before: None,
        });
    }
    let text = texts.get(name)?;
    let tree = Tree::Read(if table::is_table(name) {
        table::read(&text)
    } else {
        trug_syntax::parse(FileId::default(), &text)
    });
    Ok(Fetched {
        tree: Arc::new(tree),
        text: Source::new(name, text),
        absent: None,
        before: None,
    })
}

/// The names that this wave uses and that were not fetched yet.
fn wanted(
    wave: &[String],
    read: &[Result<Fetched, Absent>],
    fetched: &Fetches,
    settings: &Settings,
) -> Vec<String> {
    let mut names = Vec::new();
    for (name, result) in wave.iter().zip(read) {
        let Ok(text) = result else { continue };
        for (_, target) in targets(name, &text.tree, settings) {
            if let Target::Text(target) = target
                && !fetched.contains_key(&target)
                && wave.binary_search(&target).is_err()
            {
                names.push(target);
            }
        }
    }
    names.sort();
    names.dedup();
    names
}

fn targets(name: &str, tree: &Tree, settings: &Settings) -> Vec<(Span, Target)> {
    let mut targets = Vec::new();
    for item in tree.uses() {
        let ItemBody::Use(used) = &item.body else {
            continue;
        };
        targets.push(match &used.source {
            UseSource::Book(book) => (book.span(), book_target(name, book, settings.library)),
            UseSource::Table(path) | UseSource::File(path) => match paths::join(name, &path.text) {
                Some(joined) if settings.may_leave_root || !paths::leaves_root(&joined) => {
                    (path.span, Target::Text(joined))
                }
                _ => (path.span, Target::Outside),
            },
        });
    }
    targets
}

fn book_target(from: &str, book: &UsedBook, library: &Library) -> Target {
    match library.target(from, book) {
        Some(name) => Target::Text(name),
        None => Target::NoBook(book.name.text.clone()),
    }
}

/// Numbers the texts in the order of their names and ties each `use` to its text.
///
/// A name that is not there is said where it is used; one that was asked for, or that is there and
/// is no text, stays a text of the farm with its finding.
fn number(fetched: Fetches, asked: &[String], settings: Settings) -> Farm {
    let mut absent = BTreeMap::new();
    let mut texts = Vec::new();
    for (name, result) in fetched {
        match result {
            Ok(text) => texts.push((name, text)),
            Err(why) => {
                let is_no_text = matches!(why, Absent::NotText(_) | Absent::TooLarge);
                if is_no_text || asked.binary_search(&name).is_ok() {
                    let text = Source::new(name.as_str(), "");
                    let empty = Fetched {
                        text,
                        absent: Some(why),
                        tree: Arc::new(Tree::Read(tree::File::default())),
                        before: None,
                    };
                    texts.push((name, empty));
                } else {
                    absent.insert(name, why);
                }
            }
        }
    }
    let sources: Vec<Source> = texts.iter().map(|(_, text)| text.text.clone()).collect();
    let index = Index {
        sources: &sources,
        absent: Arc::new(absent),
        settings,
    };
    let files = texts
        .into_par_iter()
        .enumerate()
        .map(|(rank, (name, text))| shared(file_id(rank), &name, text, &index))
        .collect();
    let asked = asked.iter().filter_map(|name| index.id_of(name)).collect();
    let (absent, settings) = (index.absent, index.settings);
    Farm {
        files,
        asked,
        sources,
        absent,
        users: Arc::default(),
        circles: Arc::default(),
        settings,
    }
}

/// The texts that were found, in the order of their names, and those that were not.
struct Index<'a> {
    sources: &'a [Source],
    absent: Arc<BTreeMap<String, Absent>>,
    settings: Settings,
}

impl Index<'_> {
    fn id_of(&self, name: &str) -> Option<FileId> {
        let by_name = |known: &Source| known.name().cmp(name);
        self.sources.binary_search_by(by_name).ok().map(file_id)
    }
}

fn file_id(rank: usize) -> FileId {
    FileId(u32::try_from(rank).unwrap_or(u32::MAX))
}

/// The text as it was before, where it has its number still and uses what it used; else made anew.
fn shared(id: FileId, name: &str, text: Fetched, index: &Index<'_>) -> Arc<File> {
    let before = text.before.clone();
    let file = finish(id, name, text, index);
    match before {
        Some((number, known))
            if number == id && known.uses == file.uses && known.findings == file.findings =>
        {
            known
        }
        _ => Arc::new(file),
    }
}

fn finish(id: FileId, name: &str, text: Fetched, index: &Index<'_>) -> File {
    let tree = text.tree;
    let mut findings = Vec::new();
    if let Some(absent) = &text.absent {
        let place = Place::new(id, Span::at(0));
        findings.push(used::no_text(place, absent, table::is_table(name)));
    }
    let mut uses = Vec::new();
    for (span, target) in targets(name, &tree, &index.settings) {
        let place = Place::new(id, span);
        let mut found = None;
        match target {
            Target::Text(target) => {
                found = index.id_of(&target);
                if found.is_none() {
                    let why = index.absent.get(&target).unwrap_or(&Absent::Missing);
                    findings.push(used::absent(place, &target, why));
                }
            }
            Target::Outside => findings.push(used::outside(place)),
            Target::NoBook(book) => {
                findings.push(used::no_book(place, &book, index.settings.library));
            }
        }
        uses.push((span, found));
    }
    let is_table = table::is_table(name);
    let names = match &text.before {
        Some((_, known)) => Arc::clone(&known.names),
        // Whether a row is of a name or of a label, only a text that uses the table can tell.
        None if is_table => Arc::default(),
        None => Arc::new(tree.names()),
    };
    File {
        names,
        absent: text.absent,
        is_table,
        is_book: name.starts_with(PREFIX),
        tree,
        uses,
        findings,
    }
}

/// Trees are read before texts have their numbers.
pub(super) fn renumber(finding: &mut Finding, id: FileId) {
    finding.place.file = id;
    for related in &mut finding.related {
        related.place.file = id;
    }
    for fix in &mut finding.fixes {
        for edit in &mut fix.edits {
            edit.place.file = id;
        }
    }
}

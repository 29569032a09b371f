//! Reads the texts asked for and everything they use, wave by wave, each wave in parallel.

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;
use trug_findings::{FileId, Finding, Place, Source, Span};
use trug_syntax::tree::{self, ItemBody, UseSource};

use super::names::NameTable;
use super::{BOOKS, Farm, File, Settings, paths, table};
use crate::findings::used;
use crate::texts::{Absent, Texts};

const BOOK_PREFIX: &str = "book:";

/// A text as it came in, before it has its number.
struct Fetched {
    text: Arc<str>,
    absent: Option<Absent>,
    tree: tree::File,
}

type Fetches = BTreeMap<String, Result<Fetched, Absent>>;

/// Where a `use` leads.
enum Target {
    Text(String),
    Outside,
    NoBook,
}

pub(super) fn read(names: &[String], texts: &dyn Texts, settings: Settings) -> Farm {
    let mut fetched = Fetches::new();
    let mut wave: Vec<String> = names.to_vec();
    wave.sort();
    wave.dedup();
    let asked = wave.clone();
    while !wave.is_empty() {
        let read: Vec<_> = wave.par_iter().map(|name| fetch(name, texts)).collect();
        let next = wanted(&wave, &read, &fetched, &settings);
        fetched.extend(wave.into_iter().zip(read));
        wave = next;
    }
    number(fetched, &asked, settings)
}

fn fetch(name: &str, texts: &dyn Texts) -> Result<Fetched, Absent> {
    let text = match name.strip_prefix(BOOK_PREFIX) {
        Some(book) => book_text(book).ok_or(Absent::Missing)?,
        None => texts.get(name)?,
    };
    let tree = if table::is_table(name) {
        table::read(&text)
    } else {
        trug_syntax::parse(FileId::default(), &text)
    };
    Ok(Fetched {
        tree,
        text,
        absent: None,
    })
}

fn book_text(book: &str) -> Option<Arc<str>> {
    let (_, text) = BOOKS.iter().find(|(name, _)| *name == book)?;
    Some(Arc::from(*text))
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

fn targets(name: &str, tree: &tree::File, settings: &Settings) -> Vec<(Span, Target)> {
    let mut targets = Vec::new();
    for item in &tree.items {
        let ItemBody::Use(used) = &item.body else {
            continue;
        };
        targets.push(match &used.source {
            UseSource::Book(book) if book_text(&book.text).is_some() => {
                let name = format!("{BOOK_PREFIX}{}", book.text);
                (book.span, Target::Text(name))
            }
            UseSource::Book(book) => (book.span, Target::NoBook),
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
                    let tree = tree::File::default();
                    let text = Arc::from("");
                    let absent = Some(why);
                    texts.push((name, Fetched { text, absent, tree }));
                } else {
                    absent.insert(name, why);
                }
            }
        }
    }
    let names: Vec<String> = texts.iter().map(|(name, _)| name.clone()).collect();
    let sources = texts
        .iter()
        .map(|(name, text)| Source::new(name.as_str(), Arc::clone(&text.text)))
        .collect();
    let index = Index {
        names,
        absent,
        settings,
    };
    let files = texts
        .into_par_iter()
        .enumerate()
        .map(|(rank, (name, text))| finish(file_id(rank), &name, text, &index))
        .collect();
    let asked = asked.iter().filter_map(|name| index.id_of(name)).collect();
    Farm {
        files,
        asked,
        sources,
        settings: index.settings,
    }
}

/// The names that were found, sorted, and those that were not.
struct Index {
    names: Vec<String>,
    absent: BTreeMap<String, Absent>,
    settings: Settings,
}

impl Index {
    fn id_of(&self, name: &str) -> Option<FileId> {
        let by_name = |known: &String| known.as_str().cmp(name);
        self.names.binary_search_by(by_name).ok().map(file_id)
    }
}

fn file_id(rank: usize) -> FileId {
    FileId(u32::try_from(rank).unwrap_or(u32::MAX))
}

fn finish(id: FileId, name: &str, text: Fetched, index: &Index) -> File {
    let mut tree = text.tree;
    for finding in &mut tree.findings {
        renumber(finding, id);
    }
    let mut findings = Vec::new();
    if let Some(absent) = &text.absent {
        findings.push(used::no_text(Place::new(id, Span::at(0)), absent));
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
            Target::NoBook => findings.push(used::no_book(place)),
        }
        uses.push((span, found));
    }
    let is_table = table::is_table(name);
    File {
        // Whether a row is of a name or of a label, only a text that uses the table can tell.
        names: if is_table {
            NameTable::default()
        } else {
            NameTable::of(&tree)
        },
        is_table,
        is_book: name.starts_with(BOOK_PREFIX),
        tree,
        uses,
        findings,
    }
}

/// Trees are read before texts have their numbers.
fn renumber(finding: &mut Finding, id: FileId) {
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

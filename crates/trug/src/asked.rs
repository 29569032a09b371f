//! From the paths typed to the names of the texts asked for.
//!
//! Folders are walked in the order of their names; links are not followed, so no loop can hold the tool up.

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::fs::Metadata;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use ignore::{DirEntry, WalkBuilder};
use trug_model::LARGEST_TEXT;

use crate::ending::{Ending, Failure, say, shown};
use crate::refused::why;
use crate::root;
use crate::setting::Setting;

/// The largest list of what is left out that is read, in bytes: no larger than a text.
const LARGEST: u64 = LARGEST_TEXT as u64;

/// The name of standard input.
pub(crate) const STANDARD_INPUT: &str = "-";

/// The texts asked for, and where they lie.
#[derive(Debug)]
pub(crate) struct Asked {
    /// What names are relative to.
    pub(crate) root: PathBuf,
    /// The folders that `use` may read from: the root, or each of several roots.
    pub(crate) roots: Vec<PathBuf>,
    /// Names of texts in path order; `-` is standard input.
    pub(crate) names: BTreeSet<String>,
    /// A folder was among what was named.
    pub(crate) has_folder: bool,
    /// Something on the way could not be looked at, and that was said.
    is_partial: bool,
}

/// Finds out what the paths name. What is not there, or is no text and no folder, ends the run.
pub(crate) fn ask(paths: &[PathBuf], setting: &Setting) -> Result<Asked, Failure> {
    let things = paths
        .iter()
        .map(|path| look(path))
        .collect::<Result<Vec<Thing>, Failure>>()?;
    let roots = roots(&things, setting)?;
    let root = root::common(&roots)
        .ok_or_else(|| Failure::new("the paths named have no folder in common"))?;
    let mut asked = Asked {
        root,
        roots,
        names: BTreeSet::new(),
        has_folder: false,
        is_partial: false,
    };
    for thing in things {
        asked.add(thing, setting)?;
    }
    if asked.names.is_empty() {
        return Err(nothing(paths));
    }
    Ok(asked)
}

/// What a path turned out to be; paths are absolute and without links, except for the last part of a file's.
enum Thing {
    StandardInput,
    File(PathBuf),
    Folder(PathBuf),
}

fn look(path: &Path) -> Result<Thing, Failure> {
    if path == Path::new(STANDARD_INPUT) {
        return Ok(Thing::StandardInput);
    }
    let refused = |error: std::io::Error| match error.kind() {
        ErrorKind::NotFound => Failure::new(format!("there is no file or folder {}", shown(path))),
        _ => Failure::new(format!(
            "{} could not be looked at: {}",
            shown(path),
            why(&error)
        )),
    };
    let metadata = path.metadata().map_err(refused)?;
    if metadata.is_dir() {
        return path.canonicalize().map(Thing::Folder).map_err(refused);
    }
    if !metadata.is_file() {
        return Err(no_file(path, &metadata));
    }
    let (Some(folder), Some(name)) = (path.parent(), path.file_name()) else {
        return Err(no_file(path, &metadata));
    };
    let folder = if folder == Path::new("") {
        Path::new(".")
    } else {
        folder
    };
    Ok(Thing::File(
        folder.canonicalize().map_err(refused)?.join(name),
    ))
}

/// The root of each thing named, each once, in the order named.
fn roots(things: &[Thing], setting: &Setting) -> Result<Vec<PathBuf>, Failure> {
    if let Some(named) = &setting.root {
        return Ok(vec![root::named(named)?]);
    }
    let mut roots: Vec<PathBuf> = Vec::new();
    for thing in things {
        let root = match thing {
            Thing::Folder(folder) => root::above(folder),
            Thing::File(file) => root::above(file.parent().unwrap_or(file)),
            Thing::StandardInput => root::above(&here()?),
        };
        if !roots.contains(&root) {
            roots.push(root);
        }
    }
    Ok(roots)
}

fn here() -> Result<PathBuf, Failure> {
    Path::new(".").canonicalize().map_err(|error| {
        Failure::new(format!(
            "the folder the tool was started in could not be looked at: {}",
            why(&error)
        ))
    })
}

impl Asked {
    /// `Partial` where something on the way could not be looked at.
    pub(crate) fn ending(&self) -> Ending {
        if self.is_partial {
            Ending::Partial
        } else {
            Ending::Clean
        }
    }

    fn add(&mut self, thing: Thing, setting: &Setting) -> Result<(), Failure> {
        match thing {
            Thing::StandardInput => {
                self.names.insert(STANDARD_INPUT.to_owned());
            }
            Thing::File(file) => {
                let name = self.name(&file, setting)?;
                self.names.insert(name);
            }
            Thing::Folder(folder) => {
                self.has_folder = true;
                // A folder outside the root is refused even where there is nothing in it.
                self.name(&folder, setting)?;
                self.walk(&folder);
            }
        }
        Ok(())
    }

    fn name(&self, path: &Path, setting: &Setting) -> Result<String, Failure> {
        if path.to_str().is_none() {
            return Err(
                Failure::new(format!("the name {} is not UTF-8", shown(path)))
                    .help("give it a name in letters"),
            );
        }
        if let Some(name) = root::name_in(&self.root, path) {
            return Ok(name);
        }
        let outside = || {
            Failure::new(format!(
                "{} is outside the root {}",
                shown(path),
                shown(&self.root)
            ))
            .help("name a root that holds it, or allow it by --allow-outside")
        };
        root::name_from(&self.root, path)
            .filter(|_| setting.may_leave_root)
            .ok_or_else(outside)
    }

    fn walk(&mut self, folder: &Path) {
        let unread = Unread::default();
        for entry in walk(folder, &unread) {
            let entry = match entry {
                Ok(entry) => entry,
                Err(error) => {
                    say(&format!("part of a folder could not be looked at: {error}"));
                    self.is_partial = true;
                    continue;
                }
            };
            if is_text(&entry) {
                self.add_found(&entry);
            }
        }
        for list in unread.paths() {
            say(&format!(
                "{} is no plain file of at most 10 MiB, so what its folder leaves out is not known",
                shown(&list)
            ));
            self.is_partial = true;
        }
    }

    fn add_found(&mut self, entry: &DirEntry) {
        let path = entry.path();
        if !entry.file_type().is_some_and(|kind| kind.is_file()) {
            say(&format!("{} is not a plain file", shown(path)));
            self.is_partial = true;
        } else if let Some(name) =
            root::name_in(&self.root, path).or_else(|| root::name_from(&self.root, path))
        {
            self.names.insert(name);
        } else {
            say(&format!(
                "{} is passed over: its name is not UTF-8",
                shown(path)
            ));
        }
    }
}

/// The texts in a folder. What cannot be looked at is passed over.
pub(crate) fn texts_in(folder: &Path) -> impl Iterator<Item = PathBuf> {
    let entries = walk(folder, &Unread::default()).filter_map(Result::ok);
    let texts = entries
        .filter(|entry| is_text(entry) && entry.file_type().is_some_and(|kind| kind.is_file()));
    texts.map(DirEntry::into_path)
}

/// Lists of what is left out that cannot be read: a pipe or a device would never end.
#[derive(Clone, Default)]
struct Unread(Arc<Mutex<BTreeSet<PathBuf>>>);

impl Unread {
    fn paths(&self) -> BTreeSet<PathBuf> {
        std::mem::take(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }

    /// Whether what a folder leaves out can be read; kept in mind where not.
    fn can_read(&self, folder: &Path) -> bool {
        let list = folder.join(".gitignore");
        let is_plain = |metadata: Metadata| metadata.is_file() && metadata.len() <= LARGEST;
        let can = list
            .metadata()
            .map_or(true, |metadata| metadata.is_dir() || is_plain(metadata));
        if !can {
            let mut unread = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            unread.insert(list);
        }
        can
    }
}

/// Only what the folder itself says is left out counts, so that two people with one farm see the same.
///
/// What a folder leaves out that cannot be read is not known, so nothing in it is looked at.
fn walk(
    folder: &Path,
    unread: &Unread,
) -> impl Iterator<Item = Result<DirEntry, ignore::Error>> + use<> {
    // Folders above have a say too.
    let is_known = folder.ancestors().all(|folder| unread.can_read(folder));
    let unread = unread.clone();
    let walk = is_known.then(|| {
        WalkBuilder::new(folder)
            .follow_links(false)
            .hidden(true)
            .git_ignore(true)
            .require_git(false)
            .git_global(false)
            .git_exclude(false)
            .ignore(false)
            .sort_by_file_name(OsStr::cmp)
            .filter_entry(move |entry| {
                let is_folder = entry.file_type().is_some_and(|kind| kind.is_dir());
                !is_folder || unread.can_read(entry.path())
            })
            .build()
    });
    walk.into_iter().flatten()
}

/// Something called `….trug` that is no folder and no link.
fn is_text(entry: &DirEntry) -> bool {
    let can_be_read = |kind: std::fs::FileType| !kind.is_dir() && !kind.is_symlink();
    entry.path().extension() == Some(OsStr::new("trug"))
        && entry.file_type().is_some_and(can_be_read)
}

fn nothing(paths: &[PathBuf]) -> Failure {
    let named: Vec<String> = paths.iter().map(|path| shown(path)).collect();
    Failure::new(format!("there is no .trug text in {}", named.join(", ")))
        .help("name a text or a folder that holds one; hidden files, links and what .gitignore lists are passed over")
}

fn no_file(path: &Path, metadata: &Metadata) -> Failure {
    let what = if metadata.is_dir() {
        "is a folder"
    } else {
        "is not a plain file"
    };
    Failure::new(format!("{} {what}", shown(path)))
}

//! From the paths typed to the names of the texts asked for.
//!
//! Folders are walked in the order of their names; links are not followed, so no loop can hold the tool up.

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::fs::Metadata;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use ignore::{DirEntry, WalkBuilder};

use crate::ending::{Ending, Failure, say, shown};
use crate::root;
use crate::setting::Setting;

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
        _ => Failure::new(format!("{} could not be looked at: {error}", shown(path))),
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
            "the folder the tool was started in could not be looked at: {error}"
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
        for entry in walk(folder) {
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
    let entries = walk(folder).filter_map(Result::ok);
    let texts = entries
        .filter(|entry| is_text(entry) && entry.file_type().is_some_and(|kind| kind.is_file()));
    texts.map(DirEntry::into_path)
}

/// Only what the folder itself says is left out counts, so that two people with one farm see the same.
fn walk(folder: &Path) -> ignore::Walk {
    WalkBuilder::new(folder)
        .follow_links(false)
        .hidden(true)
        .git_ignore(true)
        .require_git(false)
        .git_global(false)
        .git_exclude(false)
        .ignore(false)
        .sort_by_file_name(OsStr::cmp)
        .build()
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

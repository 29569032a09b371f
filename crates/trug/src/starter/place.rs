//! Puts files where nothing is: all of them or none, and never over or through something that is there.
//!
//! Each file appears whole. The last one marks the farm; where it is not there, files that say what they would are left of a
//! run that was stopped, and only the others are made.

use std::collections::BTreeSet;
use std::fs;
use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};

use crate::ending::{Failure, say, shown};
use crate::refused::{way_out, why};
use crate::starter::StarterFile;
use crate::write::{Beside, folder_of, still_says};

/// Makes the files in `folder`, which is made too where it is not there.
///
/// What is in the way is looked for first, so that it can be told in one list. What comes in between all the same, or
/// cannot be written, takes everything back that was made until then.
pub(crate) fn place(folder: &Path, files: &[StarterFile]) -> Result<(), Failure> {
    let missing = missing(folder, files);
    let in_the_way = in_the_way(folder, &missing)?;
    if !in_the_way.is_empty() {
        return Err(refused(folder, &in_the_way));
    }
    let mut made = Made::default();
    make(folder, &missing, &mut made).map_err(|(path, error)| {
        let what_was_made = if made.take_back() {
            "; what was made before it is removed again"
        } else {
            ", so nothing was made"
        };
        let help = "name a folder that you may write to, on a disk with room";
        Failure::new(format!(
            "{} could not be written: {}{what_was_made}",
            shown(&path),
            why(&error)
        ))
        .help(way_out(&error).unwrap_or(help))
    })
}

/// All files; of a farm that was begun and never marked, those that are not there yet as they should be.
fn missing(folder: &Path, files: &[StarterFile]) -> Vec<StarterFile> {
    let is_marked = |mark: &StarterFile| folder.join(mark.path).symlink_metadata().is_ok();
    if files.last().is_none_or(is_marked) {
        return files.to_vec();
    }
    let is_there = |file: &StarterFile| {
        let path = folder.join(file.path);
        let is_link = |path: &Path| path.symlink_metadata().is_ok_and(|it| it.is_symlink());
        let is_ours = !is_link(&path) && !parts(file).any(|part| is_link(&folder.join(part)));
        is_ours && still_says(&path, file.text.as_bytes())
    };
    files
        .iter()
        .filter(|file| !is_there(file))
        .copied()
        .collect()
}

/// What is in the way, a line for each thing.
fn in_the_way(folder: &Path, files: &[StarterFile]) -> Result<BTreeSet<String>, Failure> {
    let mut found = BTreeSet::new();
    for above in folder.ancestors().filter(|above| !is_empty(above)) {
        if let Some(what) = kind(above, Way::Through)? {
            found.insert(format!("{} {what}", shown(above)));
        }
    }
    if !found.is_empty() {
        return Ok(found);
    }
    for file in files {
        for part in parts(file) {
            let path = folder.join(part);
            let way = if part == file.path {
                Way::Onto
            } else {
                Way::Inside
            };
            if let Some(what) = kind(&path, way)? {
                found.insert(format!("{} {what}", shown(&path)));
                break;
            }
        }
    }
    Ok(found)
}

/// What is to be done with a path.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    /// It leads to the farm, by links too.
    Through,
    /// It is a folder of the farm. A link could lead out of the farm, so it is none.
    Inside,
    /// It is a file of the farm, and nothing may be there.
    Onto,
}

/// What stands at a path that stands in the way; none where nothing does.
fn kind(path: &Path, way: Way) -> Result<Option<&'static str>, Failure> {
    let metadata = match path.symlink_metadata() {
        Ok(metadata) => metadata,
        // Below a file there is nothing; the file itself is looked at in its turn.
        Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => {
            return Ok(None);
        }
        Err(error) => {
            return Err(Failure::new(format!(
                "{} could not be looked at: {}",
                shown(path),
                why(&error)
            )));
        }
    };
    let is_link = metadata.file_type().is_symlink();
    let behind = path.metadata().ok();
    let is_folder = behind.as_ref().is_some_and(fs::Metadata::is_dir);
    Ok(match way {
        Way::Through if is_folder => None,
        Way::Inside if is_folder && !is_link => None,
        _ if is_link && behind.is_none() => Some("is a link that leads nowhere"),
        _ if is_link => Some("is a link"),
        Way::Onto if is_folder => Some("is a folder"),
        Way::Onto => Some("is there already"),
        Way::Through | Way::Inside => Some("is no folder"),
    })
}

/// The folders a file lies in, from the top, and the file itself.
fn parts(file: &StarterFile) -> impl Iterator<Item = &'static str> {
    let ends = file.path.match_indices('/').map(|(end, _)| end);
    ends.chain([file.path.len()])
        .filter_map(|end| file.path.get(..end))
}

fn refused(folder: &Path, in_the_way: &BTreeSet<String>) -> Failure {
    let things = match in_the_way.len() {
        1 => "something is".to_owned(),
        many => format!("{many} things are"),
    };
    let list: String = in_the_way
        .iter()
        .map(|line| format!("\n  {line}"))
        .collect();
    Failure::new(format!(
        "{things} in the way, so nothing was made in {}:{list}",
        shown(folder)
    ))
    .help("name a folder that is empty or not there yet, or move these elsewhere")
}

/// What was made, in the order it was made.
#[derive(Default)]
struct Made {
    folders: Vec<PathBuf>,
    files: Vec<PathBuf>,
}

impl Made {
    /// Removes it again; whether there was anything. A folder into which somebody else has put something stays.
    fn take_back(&self) -> bool {
        let told = |path: &Path, removed: std::io::Result<()>| {
            if let Err(error) = removed {
                say(&format!(
                    "{} could not be removed: {}",
                    shown(path),
                    why(&error)
                ));
            }
        };
        for file in self.files.iter().rev() {
            told(file, fs::remove_file(file));
        }
        for folder in self.folders.iter().rev() {
            told(folder, fs::remove_dir(folder));
        }
        !self.files.is_empty() || !self.folders.is_empty()
    }
}

fn make(folder: &Path, files: &[StarterFile], made: &mut Made) -> Result<(), (PathBuf, Error)> {
    let above: Vec<&Path> = folder
        .ancestors()
        .filter(|above| !is_empty(above))
        .collect();
    for above in above.into_iter().rev() {
        make_folder(above, made)?;
    }
    for file in files {
        for part in parts(file) {
            let path = folder.join(part);
            if part == file.path {
                make_file(&path, file, made)?;
            } else {
                make_folder(&path, made)?;
            }
        }
    }
    Ok(())
}

fn make_folder(path: &Path, made: &mut Made) -> Result<(), (PathBuf, Error)> {
    match fs::create_dir(path) {
        Ok(()) => {
            made.folders.push(path.to_owned());
            Ok(())
        }
        // Also where it may not be made: what counts is that it is there.
        Err(_) if path.is_dir() => Ok(()),
        Err(error) => Err((path.to_owned(), error)),
    }
}

/// Makes a file that is not there, and never one behind a link.
fn make_file(path: &Path, file: &StarterFile, made: &mut Made) -> Result<(), (PathBuf, Error)> {
    let written = Beside::write(folder_of(path), file.text.as_bytes(), file.is_script);
    let appeared = written.and_then(|beside| {
        beside.sync()?;
        beside.appear(path)
    });
    appeared.map_err(|error| (path.to_owned(), error))?;
    made.files.push(path.to_owned());
    Ok(())
}

/// The end of the ancestors of a relative path, which is where the tool was started.
fn is_empty(path: &Path) -> bool {
    path == Path::new("")
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use super::*;

    fn file(path: &'static str) -> StarterFile {
        StarterFile {
            path,
            text: "text\n",
            is_script: false,
        }
    }

    /// Longer than any file system takes.
    const TOO_LONG: &str = "b/nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn\
        nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn\
        nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn";

    #[test]
    fn what_was_made_goes_again_and_nothing_else() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("new/farm");
        let files = [file("a/deep/x"), file("y"), file(TOO_LONG)];
        let mut made = Made::default();
        let (path, _) = make(&folder, &files, &mut made).unwrap_err();
        assert!(path.ends_with(TOO_LONG));
        assert!(folder.join("a/deep/x").is_file() && folder.join("y").is_file());
        fs::write(folder.join("a/of-somebody-else"), "").unwrap();
        made.take_back();
        assert!(!folder.join("a/deep").exists() && !folder.join("y").exists());
        assert!(!folder.join("b").exists());
        assert!(folder.join("a/of-somebody-else").is_file());
    }

    #[test]
    fn what_comes_in_between_is_left_alone() {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join("y"), "mine").unwrap();
        let mut made = Made::default();
        let (path, error) =
            make(home.path(), &[file("x"), file("y"), file("z")], &mut made).unwrap_err();
        assert_eq!(path, home.path().join("y"));
        assert_eq!(error.kind(), ErrorKind::AlreadyExists);
        made.take_back();
        let left: Vec<_> = fs::read_dir(home.path())
            .unwrap()
            .map(|it| it.unwrap().file_name())
            .collect();
        assert_eq!(left, ["y"]);
        assert_eq!(fs::read_to_string(home.path().join("y")).unwrap(), "mine");
    }

    #[test]
    fn a_file_has_its_folders_before_it() {
        let found: Vec<_> = parts(&file("a/b/c")).collect();
        assert_eq!(found, ["a", "a/b", "a/b/c"]);
    }
}

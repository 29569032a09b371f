//! Writes a file whole or not at all: write beside it, sync, rename.

mod beside;

use std::fs::{self, File, Metadata, Permissions};
use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};

use trug_findings::Edit;

use crate::ending::{Failure, shown};
use crate::refused::{way_out, why};

pub(crate) use beside::{Beside, folder_of};

/// Refuses the path of a text of the farm, which a result must not take the place of.
pub(crate) fn refuse_farm_text(path: Option<&Path>) -> Result<(), Failure> {
    let is_text = |path: &&Path| path.extension().is_some_and(|ending| ending == "trug");
    match path.filter(is_text) {
        None => Ok(()),
        Some(path) => Err(
            Failure::new(format!("{} would be a text of the farm", shown(path))).help(
                "give it another ending, such as .txt: no plan or analysis is written over a text",
            ),
        ),
    }
}

/// Puts `bytes` into the file at `path`. A file that is there keeps its permissions; a link keeps being one.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    replace(path, bytes, None)
}

/// Puts `text` into the text at `path`, which must still be what was read.
pub(crate) fn write_over(path: &Path, read: &str, text: &str) -> Result<(), Failure> {
    replace(path, text.as_bytes(), Some(read.as_bytes()))
}

/// Puts `edits` into the text at `path`, which must still be what was read. None of them overlaps another.
pub(crate) fn write_edited(path: &Path, read: &str, edits: &[Edit]) -> Result<(), Failure> {
    let mut text = read.to_owned();
    let mut edits: Vec<&Edit> = edits.iter().collect();
    edits.sort_by_key(|edit| (edit.place.span.start, edit.place.span.end));
    // From the last to the first, so that the places before them stay true.
    for edit in edits.into_iter().rev() {
        let range = edit.place.span.range();
        if text.get(range.clone()).is_some() {
            text.replace_range(range, &edit.text);
        }
    }
    write_over(path, read, &text)
}

fn replace(path: &Path, bytes: &[u8], read: Option<&[u8]>) -> Result<(), Failure> {
    let refused = |error: Error| {
        let failure = Failure::new(format!(
            "{} could not be written: {}",
            shown(path),
            why(&error)
        ));
        match way_out(&error) {
            Some(help) => failure.help(help),
            None => failure,
        }
    };
    let target = target(path)?;
    let before = match target.metadata() {
        Ok(metadata) => Some(metadata),
        Err(error) if error.kind() == ErrorKind::NotFound => None,
        Err(error) => return Err(refused(error)),
    };
    if let Some(metadata) = &before {
        may_replace(path, metadata)?;
    }
    let beside = Beside::write(folder_of(&target), bytes, false).map_err(refused)?;
    if let Some(metadata) = &before {
        keep(metadata, beside.file()).map_err(refused)?;
    }
    beside.sync().map_err(refused)?;
    // As late as can be: what somebody saved while this run was thinking must not be lost.
    if read.is_some_and(|read| !still_says(&target, read)) {
        return Err(Failure::new(format!(
            "{} was changed meanwhile, so nothing was written into it",
            shown(path)
        ))
        .help("run the same command again"));
    }
    beside.replace(&target).map_err(refused)
}

/// Whether a file is there, a plain one, and holds these bytes.
pub(crate) fn still_says(path: &Path, bytes: &[u8]) -> bool {
    let is_alike = |metadata: Metadata| metadata.is_file() && metadata.len() == bytes.len() as u64;
    path.metadata().is_ok_and(is_alike) && fs::read(path).is_ok_and(|now| now == bytes)
}

/// What a path can be replaced by is a plain file that may be written.
fn may_replace(path: &Path, metadata: &Metadata) -> Result<(), Failure> {
    let why = if metadata.is_dir() {
        "is a folder"
    } else if !metadata.is_file() {
        "is not a plain file"
    } else if metadata.permissions().readonly() {
        "is write-protected"
    } else {
        return Ok(());
    };
    Err(Failure::new(format!(
        "{} {why}, so nothing was written",
        shown(path)
    )))
}

fn target(path: &Path) -> Result<PathBuf, Failure> {
    let is_link = path
        .symlink_metadata()
        .is_ok_and(|metadata| metadata.file_type().is_symlink());
    if !is_link {
        return Ok(path.to_owned());
    }
    path.canonicalize().map_err(|_| {
        Failure::new(format!("{} is a link that leads nowhere", shown(path)))
            .help("name a file, or remove the link")
    })
}

/// Gives the file beside the owner, the group and the mode of the one before, as far as the system lets this user.
fn keep(before: &Metadata, beside: &File) -> std::io::Result<()> {
    let permissions: Permissions = before.permissions();
    #[cfg(unix)]
    let permissions = {
        use std::os::unix::fs::{MetadataExt, PermissionsExt, fchown};
        // Only the system's keeper may give a file away; whoever else writes it becomes its owner, and leaves it to the group.
        let is_kept = fchown(beside, Some(before.uid()), Some(before.gid())).is_ok();
        if is_kept {
            permissions
        } else {
            let _ = fchown(beside, None, Some(before.gid()));
            // What runs as its owner must not run as another.
            Permissions::from_mode(permissions.mode() & 0o777)
        }
    };
    beside.set_permissions(permissions)
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use super::*;

    #[test]
    fn what_was_changed_meanwhile_is_not_lost() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("mash.trug");
        fs::write(&path, "ration mash # saved since\n").unwrap();
        let refused = write_over(&path, "ration mash\n", "ration mash # tidy\n");
        assert!(format!("{refused:?}").contains("was changed meanwhile"));
        assert_eq!(
            fs::read_to_string(&path).unwrap(),
            "ration mash # saved since\n"
        );
        fs::remove_file(&path).unwrap();
        assert!(write_over(&path, "ration mash\n", "ration mash # tidy\n").is_err());
        assert_eq!(fs::read_dir(home.path()).unwrap().count(), 0);
        fs::write(&path, "ration mash\n").unwrap();
        write_over(&path, "ration mash\n", "ration mash # tidy\n").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "ration mash # tidy\n");
    }
}

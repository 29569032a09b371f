//! Writes a file whole or not at all: write beside it, sync, rename.

use std::fs::{self, File, Metadata, Permissions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;
use trug_findings::Edit;

use crate::ending::{Failure, shown};

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
    let refused = |error: std::io::Error| {
        Failure::new(format!("{} could not be written: {error}", shown(path)))
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
    let folder = match target.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    let mut beside = beside(folder).map_err(refused)?;
    beside.write_all(bytes).map_err(refused)?;
    if let Some(metadata) = &before {
        keep(metadata, &beside).map_err(refused)?;
    }
    beside.as_file().sync_all().map_err(refused)?;
    beside
        .persist(&target)
        .map_err(|error| refused(error.error))?;
    sync_folder(folder);
    Ok(())
}

/// Puts `edits` into the text at `path`, which must still be what was read. None of them overlaps another.
pub(crate) fn write_edited(path: &Path, read: &str, edits: &[Edit]) -> Result<(), Failure> {
    let now = fs::read(path)
        .map_err(|error| Failure::new(format!("{} could not be read: {error}", shown(path))))?;
    if now != read.as_bytes() {
        return Err(Failure::new(format!(
            "{} was changed meanwhile, so nothing was written into it",
            shown(path)
        ))
        .help("balance it again"));
    }
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
    write_whole(path, text.as_bytes())
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
    path.canonicalize()
        .map_err(|error| Failure::new(format!("the link {} leads nowhere: {error}", shown(path))))
}

/// A hidden file that is not a `.trug` one, so that nothing reads it where the tool is stopped half-way.
fn beside(folder: &Path) -> std::io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".trug-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The system takes away what the user's mask forbids, as for any new file.
        builder.permissions(Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}

fn keep(before: &Metadata, beside: &NamedTempFile) -> std::io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        // Only the owner of both, or the system's keeper, may do this; for anybody else the file becomes theirs.
        let _ = fchown(beside.as_file(), Some(before.uid()), Some(before.gid()));
    }
    let permissions: Permissions = before.permissions();
    beside.as_file().set_permissions(permissions)
}

/// Makes the rename last through a power cut. Where folders cannot be synced the file is still whole.
fn sync_folder(folder: &Path) {
    if let Ok(folder) = File::open(folder) {
        let _ = fs::File::sync_all(&folder);
    }
}

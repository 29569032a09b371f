//! The file that is written beside another before it takes its place.
//!
//! Its name is hidden and no `.trug` one, so that nothing reads it where the tool is stopped half-way. Whoever writes it holds
//! a lock on it; one that nobody holds is left of a run that was stopped, and goes at the next write into its folder.

use std::fs::{self, File, Permissions};
use std::io::{Error, ErrorKind, Result, Write};
use std::path::Path;

use tempfile::NamedTempFile;

const BEFORE: &str = ".trug-";
const AFTER: &str = ".part";

/// Another run may take a new file for one that was left, before it is locked; not time and again.
const TRIES: usize = 8;

/// A file beside others, which is gone unless it is given a name.
#[derive(Debug)]
pub(crate) struct Beside(NamedTempFile);

impl Beside {
    /// Writes a file in `folder`, and removes what stopped runs left there.
    pub(crate) fn write(folder: &Path, bytes: &[u8], is_script: bool) -> Result<Beside> {
        sweep(folder);
        let mut file = create(folder, is_script)?;
        file.write_all(bytes)?;
        Ok(Beside(file))
    }

    /// The file, for its owner and mode.
    pub(crate) fn file(&self) -> &File {
        self.0.as_file()
    }

    /// Sees to it that what was written is on the disk.
    pub(crate) fn sync(&self) -> Result<()> {
        self.file().sync_all()
    }

    /// Takes the place of what is at `path`, if anything is.
    pub(crate) fn replace(self, path: &Path) -> Result<()> {
        self.0.persist(path).map_err(|error| error.error)?;
        sync_folder(path);
        Ok(())
    }

    /// Takes the name `path`, which nothing has.
    pub(crate) fn appear(self, path: &Path) -> Result<()> {
        if let Err(refused) = self.0.persist_noclobber(path) {
            let is_taken =
                refused.error.kind() == ErrorKind::AlreadyExists || path.symlink_metadata().is_ok();
            if is_taken {
                return Err(ErrorKind::AlreadyExists.into());
            }
            // Some disks can do no such thing in one act.
            refused.file.persist(path).map_err(|error| error.error)?;
        }
        sync_folder(path);
        Ok(())
    }
}

/// The folder a path lies in.
pub(crate) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    }
}

fn create(folder: &Path, is_script: bool) -> Result<NamedTempFile> {
    for _ in 0..TRIES {
        let file = builder(is_script).tempfile_in(folder)?;
        if is_held(file.as_file()) {
            return Ok(file);
        }
    }
    Err(Error::other("another run of trug is busy in this folder"))
}

fn builder(is_script: bool) -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(BEFORE).suffix(AFTER);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The system takes away what the user's mask forbids, as for any new file.
        builder.permissions(Permissions::from_mode(if is_script {
            0o777
        } else {
            0o666
        }));
    }
    #[cfg(not(unix))]
    let _: (bool, Option<Permissions>) = (is_script, None);
    builder
}

/// Whether the file is locked now, or cannot be for want of locks, and still has its name.
fn is_held(file: &File) -> bool {
    let is_locked = !matches!(file.try_lock(), Err(fs::TryLockError::WouldBlock));
    #[cfg(unix)]
    let has_name = {
        use std::os::unix::fs::MetadataExt;
        file.metadata().is_ok_and(|metadata| 0 < metadata.nlink())
    };
    #[cfg(not(unix))]
    let has_name = true;
    is_locked && has_name
}

/// Removes what stopped runs left. What cannot be removed stays, and is nobody's matter.
fn sweep(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let name = name.as_encoded_bytes();
        let is_ours = name.starts_with(BEFORE.as_bytes()) && name.ends_with(AFTER.as_bytes());
        if is_ours && entry.file_type().is_ok_and(|kind| kind.is_file()) {
            remove_unless_held(&entry.path());
        }
    }
}

fn remove_unless_held(path: &Path) {
    // It is opened for writing, as some systems lock no other.
    let Ok(file) = File::options().write(true).open(path) else {
        return;
    };
    if file.try_lock().is_ok() {
        // The lock is held until it is gone, so that nobody takes it up in between.
        let _ = fs::remove_file(path);
    }
}

/// Makes a name last through a power cut. Where folders cannot be synced the file is still whole.
fn sync_folder(path: &Path) {
    if let Ok(folder) = File::open(folder_of(path)) {
        let _ = folder.sync_all();
    }
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        let mut names: Vec<String> = entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[cfg(unix)]
    #[test]
    fn what_a_stopped_run_left_goes_and_what_is_being_written_stays() {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join(".trug-left.part"), "half").unwrap();
        fs::write(home.path().join(".trug-of-somebody"), "mine").unwrap();
        fs::create_dir(home.path().join(".trug-folder.part")).unwrap();
        let first = Beside::write(home.path(), b"first", false).unwrap();
        let second = Beside::write(home.path(), b"second", false).unwrap();
        assert_eq!(names(home.path()).len(), 4, "{:?}", names(home.path()));
        first.replace(&home.path().join("a")).unwrap();
        second.replace(&home.path().join("b")).unwrap();
        assert_eq!(
            names(home.path()),
            [".trug-folder.part", ".trug-of-somebody", "a", "b"]
        );
        assert_eq!(fs::read_to_string(home.path().join("a")).unwrap(), "first");
    }

    #[test]
    fn a_name_that_is_taken_is_not_taken_again() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("a");
        let one = || Beside::write(home.path(), b"one", false).unwrap();
        one().appear(&path).unwrap();
        fs::write(&path, "mine").unwrap();
        let error = one().appear(&path).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::AlreadyExists);
        assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
        assert_eq!(names(home.path()), ["a"]);
    }
}

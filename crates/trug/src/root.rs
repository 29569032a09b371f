//! Where a farm begins: the root that names are relative to and that `use` does not leave.

use std::path::{Component, Path, PathBuf};

use crate::ending::{Failure, shown};

/// The file that marks a root where there is no repository.
const MARK: &str = "trug.root";

/// The root named, as an absolute path without links.
pub(crate) fn named(root: &Path) -> Result<PathBuf, Failure> {
    let refused = |why| {
        Failure::new(format!("the root {} {why}", shown(root)))
            .help("name a folder that holds the farm")
    };
    let folder = root.canonicalize().map_err(|_| refused("is not there"))?;
    if folder.is_dir() {
        Ok(folder)
    } else {
        Err(refused("is not a folder"))
    }
}

/// The nearest folder at or above `folder` that is marked as a root, else `folder` itself.
pub(crate) fn above(folder: &Path) -> PathBuf {
    let is_marked = |folder: &&Path| folder.join(".git").exists() || folder.join(MARK).is_file();
    folder
        .ancestors()
        .find(is_marked)
        .unwrap_or(folder)
        .to_owned()
}

/// The lowest folder that holds all of `folders`.
pub(crate) fn common(folders: &[PathBuf]) -> Option<PathBuf> {
    let (first, others) = folders.split_first()?;
    let holds_all = |folder: &&Path| others.iter().all(|other| other.starts_with(folder));
    first.ancestors().find(holds_all).map(Path::to_owned)
}

/// The name of a path inside `root`, with `/`; none where it is outside or is not text.
pub(crate) fn name_in(root: &Path, path: &Path) -> Option<String> {
    let inside = path.strip_prefix(root).ok()?;
    joined(inside)
}

/// The name of a path anywhere, with `..` for each folder it lies above.
pub(crate) fn name_from(root: &Path, path: &Path) -> Option<String> {
    let shared = common(&[root.to_owned(), path.to_owned()])?;
    let ups = root.strip_prefix(&shared).ok()?.components().count();
    let down = joined(path.strip_prefix(&shared).ok()?)?;
    Some("../".repeat(ups) + &down)
}

fn joined(path: &Path) -> Option<String> {
    let parts: Option<Vec<&str>> = path
        .components()
        .map(|part| match part {
            Component::Normal(part) => part.to_str(),
            _ => None,
        })
        .collect();
    parts.map(|parts| parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_relative_to_the_root() {
        let root = Path::new("/barn/river");
        assert_eq!(
            name_in(root, Path::new("/barn/river/store/rice.trug")).as_deref(),
            Some("store/rice.trug")
        );
        assert_eq!(name_in(root, Path::new("/barn/hill/a.trug")), None);
        assert_eq!(
            name_from(root, Path::new("/barn/hill/a.trug")).as_deref(),
            Some("../hill/a.trug")
        );
        assert_eq!(
            name_from(root, Path::new("/barn/river/a.trug")).as_deref(),
            Some("a.trug")
        );
    }

    #[test]
    fn what_is_common_is_the_lowest_folder() {
        let folders = [
            PathBuf::from("/barns/a/rations"),
            PathBuf::from("/barns/ab"),
            PathBuf::from("/barns/a"),
        ];
        assert_eq!(common(&folders).as_deref(), Some(Path::new("/barns")));
        assert_eq!(
            common(&folders[..1]).as_deref(),
            Some(Path::new("/barns/a/rations"))
        );
        assert_eq!(common(&[]), None);
    }
}

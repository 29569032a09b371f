//! The files of this repository, for tests that walk it. The only module here that reads a disk.

use std::fs;
use std::path::{Path, PathBuf};

/// The root of the repository.
#[must_use]
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// The text of a file named from the root; empty where there is none.
#[must_use]
pub fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_default()
}

/// Every file below a folder named from the root, with that ending, in the order of their paths,
/// as paths from the root with `/`. Build output and hidden folders are passed over.
#[must_use]
pub fn files(folder: &str, ending: &str) -> Vec<String> {
    let mut found = Vec::new();
    walk(&root().join(folder), ending, &mut found);
    let mut names: Vec<String> = found.iter().filter_map(|path| name_of(path)).collect();
    names.sort();
    names
}

fn walk(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for path in entries.flatten().map(|entry| entry.path()) {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if path.is_dir() {
            if name != "target" && name != "node_modules" && !name.starts_with('.') {
                walk(&path, ending, found);
            }
        } else if name.ends_with(ending) {
            found.push(path);
        }
    }
}

fn name_of(path: &Path) -> Option<String> {
    let inside = path.strip_prefix(root()).ok()?;
    let parts: Vec<_> = inside.iter().map(|part| part.to_string_lossy()).collect();
    Some(parts.join("/"))
}

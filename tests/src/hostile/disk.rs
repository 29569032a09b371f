//! A disk and a clock in memory, as the server is handed them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use jiff::civil::{Date, date};
use trug_lsp::{Listed, World};
use trug_model::{Absent, Texts};

/// The one folder there is.
pub(super) const ROOT: &str = "/barn";

/// Texts by their name, each with the number of its last change.
type Files = BTreeMap<String, (Arc<str>, u64)>;

/// What the server sees.
#[derive(Clone, Debug, Default)]
pub(super) struct Disk(Arc<Mutex<Files>>);

impl Disk {
    pub(super) fn of(texts: &[(&str, &str)]) -> Disk {
        let disk = Disk::default();
        for (name, text) in texts {
            disk.put(name, text);
        }
        disk
    }

    fn files(&self) -> MutexGuard<'_, Files> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Writes a text.
    pub(super) fn put(&self, name: &str, text: &str) {
        let mut files = self.files();
        let mark = files.get(name).map_or(0, |(_, mark)| mark + 1);
        files.insert(name.to_owned(), (Arc::from(text), mark));
    }

    /// Takes a text away.
    pub(super) fn remove(&self, name: &str) {
        self.files().remove(name);
    }

    /// All of it.
    pub(super) fn all(&self) -> BTreeMap<String, Arc<str>> {
        let files = self.files();
        files
            .iter()
            .map(|(name, (text, _))| (name.clone(), Arc::clone(text)))
            .collect()
    }
}

impl Texts for Disk {
    fn get(&self, name: &str) -> Result<Arc<str>, Absent> {
        let files = self.files();
        files
            .get(name)
            .map(|(text, _)| Arc::clone(text))
            .ok_or(Absent::Missing)
    }
}

impl World for Disk {
    fn canonical(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }

    fn root_of(&self, folder: &Path) -> PathBuf {
        let root = Path::new(ROOT);
        if folder.starts_with(root) {
            root
        } else {
            folder
        }
        .to_owned()
    }

    fn texts(&self, root: &Path) -> Arc<dyn Texts + Send + Sync> {
        match root == Path::new(ROOT) {
            true => Arc::new(self.clone()),
            false => Arc::new(Disk::default()),
        }
    }

    fn list(&self, root: &Path, folder: &Path) -> Listed {
        let Ok(below) = folder.strip_prefix(root) else {
            return Listed::new();
        };
        let files = if root == Path::new(ROOT) {
            self.all()
        } else {
            BTreeMap::new()
        };
        let texts = files
            .into_keys()
            .filter(|name| name.ends_with(".trug") && Path::new(name).starts_with(below));
        texts
            .filter_map(|name| Some((name.clone(), self.mark(root, &name)?)))
            .collect()
    }

    fn mark(&self, root: &Path, name: &str) -> Option<u64> {
        let is_here = root == Path::new(ROOT);
        self.files()
            .get(name)
            .filter(|_| is_here)
            .map(|(_, mark)| *mark)
    }

    fn today(&self) -> Date {
        date(2026, 11, 25)
    }

    fn may_leave_root(&self) -> bool {
        false
    }

    fn watch(&self, _process: u32) -> Box<dyn FnMut() -> bool + Send> {
        Box::new(|| true)
    }
}

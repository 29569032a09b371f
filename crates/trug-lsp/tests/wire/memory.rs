//! A disk, a clock and processes in memory.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex};

use jiff::civil::{Date, date};
use trug_lsp::{Listed, World};
use trug_model::{Absent, Texts};

use crate::client::PATIENCE;

/// Every farm of the tests lies here, and is a root.
pub(crate) const ROOT: &str = "/barn";

/// Texts by their path, each with the number of its last change.
type Files = Arc<Mutex<BTreeMap<PathBuf, (Arc<str>, u64)>>>;

/// What the server sees.
#[derive(Debug, Default)]
pub(crate) struct Memory {
    files: Files,
    dead: Mutex<BTreeSet<u32>>,
    /// A text of this name ends whoever reads it in a panic.
    pub(crate) cursed: Option<&'static str>,
    held: Arc<Held>,
}

/// A text that whoever reads it waits for, as on a slow disk.
#[derive(Debug, Default)]
struct Held {
    name: Mutex<Option<&'static str>>,
    news: Condvar,
}

impl Memory {
    /// A disk with these texts below the root.
    pub(crate) fn new(texts: &[(&str, &str)]) -> Memory {
        let memory = Memory::default();
        for (name, text) in texts {
            memory.put(name, text);
        }
        memory
    }

    /// Writes a text.
    pub(crate) fn put(&self, name: &str, text: &str) {
        let mut files = self.files.lock().unwrap();
        let path = Path::new(ROOT).join(name);
        let mark = files.get(&path).map_or(0, |(_, mark)| mark + 1);
        files.insert(path, (Arc::from(text), mark));
    }

    /// Takes a text away.
    pub(crate) fn remove(&self, name: &str) {
        self.files
            .lock()
            .unwrap()
            .remove(&Path::new(ROOT).join(name));
    }

    /// Whoever reads this text waits until it is let go.
    pub(crate) fn hold(&self, name: &'static str) {
        *self.held.name.lock().unwrap() = Some(name);
    }

    /// Lets go of what is held.
    pub(crate) fn let_go(&self) {
        *self.held.name.lock().unwrap() = None;
        self.held.news.notify_all();
    }

    /// Ends a process.
    pub(crate) fn kill(&self, process: u32) {
        self.dead.lock().unwrap().insert(process);
    }
}

/// The texts below a root.
struct Below {
    root: PathBuf,
    files: Files,
    cursed: Option<&'static str>,
    held: Arc<Held>,
}

impl Texts for Below {
    fn get(&self, name: &str) -> Result<Arc<str>, Absent> {
        assert!(self.cursed != Some(name), "a test wants this");
        let held = self.held.name.lock().unwrap();
        // Not for ever: a test that fails has to end.
        let waited = self
            .held
            .news
            .wait_timeout_while(held, PATIENCE, |held| *held == Some(name));
        drop(waited.unwrap());
        let files = self.files.lock().unwrap();
        files
            .get(&self.root.join(name))
            .map(|(text, _)| Arc::clone(text))
            .ok_or(Absent::Missing)
    }
}

/// The same, as the server and the test both hold it.
pub(crate) struct Shared(pub(crate) Arc<Memory>);

impl World for Shared {
    fn canonical(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }

    fn root_of(&self, folder: &Path) -> PathBuf {
        let root = Path::new(ROOT);
        if folder.starts_with(root) {
            root.to_owned()
        } else {
            folder.to_owned()
        }
    }

    fn texts(&self, root: &Path) -> Arc<dyn Texts + Send + Sync> {
        Arc::new(Below {
            root: root.to_owned(),
            files: Arc::clone(&self.0.files),
            cursed: self.0.cursed,
            held: Arc::clone(&self.0.held),
        })
    }

    fn list(&self, root: &Path, folder: &Path) -> Listed {
        let files = self.0.files.lock().unwrap();
        let texts = files.iter().filter(|(path, _)| {
            path.starts_with(folder) && path.extension().is_some_and(|ending| ending == "trug")
        });
        let named = texts.map(|(path, (_, mark))| {
            let name = path.strip_prefix(root).unwrap().to_str().unwrap();
            (name.to_owned(), *mark)
        });
        named.collect()
    }

    fn mark(&self, root: &Path, name: &str) -> Option<u64> {
        let files = self.0.files.lock().unwrap();
        files.get(&root.join(name)).map(|(_, mark)| *mark)
    }

    fn today(&self) -> Date {
        date(2026, 11, 25)
    }

    fn may_leave_root(&self) -> bool {
        false
    }

    fn watch(&self, process: u32) -> Box<dyn FnMut() -> bool + Send> {
        let memory = Arc::clone(&self.0);
        Box::new(move || !memory.dead.lock().unwrap().contains(&process))
    }
}

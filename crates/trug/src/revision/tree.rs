//! The texts of one revision as the farm reads them: names, links and the root, all inside the revision.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use trug_model::{Absent, Texts};

use super::objects::Objects;
use crate::disk;
use crate::ending::{Ending, say};

/// The file that marks a root, as on the disk.
const MARK: &str = "trug.root";
/// Links on one way; more are a circle.
const MOST_LINKS: usize = 40;

/// What a path of the revision is.
#[derive(Debug, PartialEq, Eq)]
enum Entry {
    File(String),
    Link(String),
    /// Another repository, which is not here.
    Other,
}

/// A revision's texts below a root.
#[derive(Debug)]
pub(crate) struct Tree {
    entries: BTreeMap<String, Entry>,
    has_links: bool,
    objects: Objects,
    /// What names are relative to, from the top; empty at the top.
    root: String,
    may_leave_root: bool,
    asked: BTreeSet<String>,
    reads: Arc<AtomicUsize>,
    /// Asked for and there, and yet git would not give them.
    refused: Mutex<BTreeSet<String>>,
}

/// What a path in a revision turned out to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    File,
    Folder,
    Nothing,
}

impl Tree {
    /// Reads what `git ls-tree -r -z` lists. Names that are not UTF-8 are passed over, as on the disk.
    pub(super) fn of(listed: &[u8], objects: Objects) -> Tree {
        let mut entries = BTreeMap::new();
        for line in listed.split(|byte| *byte == 0) {
            let Some((head, name)) = std::str::from_utf8(line)
                .ok()
                .and_then(|line| line.split_once('\t'))
            else {
                continue;
            };
            let mut words = head.split(' ');
            let (mode, _, id) = (words.next(), words.next(), words.next().unwrap_or_default());
            let entry = match mode {
                Some("120000") => Entry::Link(id.to_owned()),
                Some(mode) if mode.starts_with("100") => Entry::File(id.to_owned()),
                _ => Entry::Other,
            };
            entries.insert(name.to_owned(), entry);
        }
        Tree {
            has_links: entries
                .values()
                .any(|entry| matches!(entry, Entry::Link(_))),
            entries,
            objects,
            root: String::new(),
            may_leave_root: false,
            asked: BTreeSet::new(),
            reads: Arc::default(),
            refused: Mutex::default(),
        }
    }

    /// What a path from the top is, links followed.
    pub(crate) fn kind(&self, path: &str) -> Kind {
        if path.is_empty() {
            return Kind::Folder;
        }
        let Ok(path) = self.followed(path) else {
            return Kind::Nothing;
        };
        match self.entries.get(&path) {
            Some(Entry::File(_)) => Kind::File,
            Some(_) => Kind::Nothing,
            None if self.below(&path).next().is_some() => Kind::Folder,
            None => Kind::Nothing,
        }
    }

    /// The nearest folder at or above `folder` that is marked as a root, else the top.
    pub(crate) fn root_above(&self, folder: &str) -> String {
        let mut folder = folder;
        loop {
            let mark = inside(folder, MARK);
            if folder.is_empty() || matches!(self.entries.get(&mark), Some(Entry::File(_))) {
                return folder.to_owned();
            }
            folder = folder.rsplit_once('/').map_or("", |(above, _)| above);
        }
    }

    /// Sets what names are relative to, and whether `use` may leave it.
    pub(crate) fn set_root(&mut self, root: String, may_leave_root: bool) {
        self.root = root;
        self.may_leave_root = may_leave_root;
    }

    /// A path from the top as a name from the root; none where it is not below.
    pub(crate) fn name(&self, path: &str) -> Option<String> {
        if self.root.is_empty() {
            return Some(path.to_owned());
        }
        let rest = path.strip_prefix(&self.root)?;
        if rest.is_empty() {
            return Some(String::new());
        }
        rest.strip_prefix('/').map(str::to_owned)
    }

    /// Asks for a text.
    pub(crate) fn ask_text(&mut self, path: &str) {
        self.asked.extend(self.name(path));
    }

    /// Asks for every text in a folder, as on the disk: no links, nothing hidden.
    pub(crate) fn ask_folder(&mut self, folder: &str) {
        let folder = self.followed(folder).unwrap_or_else(|_| folder.to_owned());
        let is_text = |(path, entry): &(&String, &Entry)| {
            let below = path.get(folder.len()..).unwrap_or_default();
            let is_hidden = below.split('/').any(|part| part.starts_with('.'));
            let is_named = path.ends_with(".trug") && !is_hidden;
            is_named && matches!(entry, Entry::File(_))
        };
        let texts = self.below(&folder).filter(is_text);
        let names: Vec<String> = texts.filter_map(|(path, _)| self.name(path)).collect();
        self.asked.extend(names);
    }

    /// The names asked for.
    pub(crate) fn asked(&self) -> Vec<String> {
        self.asked.iter().cloned().collect()
    }

    /// How many texts were read so far.
    pub(crate) fn reads(&self) -> Arc<AtomicUsize> {
        Arc::clone(&self.reads)
    }

    /// Says which texts asked for could not be read; the work is partial where there are any.
    pub(crate) fn tell_refused(&self) -> Ending {
        let refused = self.refused.lock().unwrap_or_else(PoisonError::into_inner);
        for words in &*refused {
            say(words);
        }
        if refused.is_empty() {
            Ending::Clean
        } else {
            Ending::Partial
        }
    }

    fn below(&self, folder: &str) -> impl Iterator<Item = (&String, &Entry)> {
        let start = if folder.is_empty() {
            String::new()
        } else {
            format!("{folder}/")
        };
        let from = self.entries.range(start.clone()..);
        from.take_while(move |(path, _)| path.starts_with(&start))
    }

    /// Where a path leads when links are followed: inside the revision, or nowhere.
    fn followed(&self, path: &str) -> Result<String, Absent> {
        let mut path = plain(path).ok_or(Absent::Outside)?;
        if !self.has_links {
            return Ok(path);
        }
        for _ in 0..MOST_LINKS {
            match self.one_link(&path)? {
                Some(next) => path = next,
                None => return Ok(path),
            }
        }
        Err(Absent::Unreadable("its links lead in a circle".to_owned()))
    }

    /// The path with its first link put in place; none where it has none.
    fn one_link(&self, path: &str) -> Result<Option<String>, Absent> {
        let ends = path.match_indices('/').map(|(at, _)| at);
        for end in ends.chain([path.len()]) {
            let (start, rest) = path.split_at(end);
            let Some(Entry::Link(id)) = self.entries.get(start) else {
                continue;
            };
            let target = self.objects.get(id)?;
            let target = std::str::from_utf8(&target).map_err(|_| Absent::Missing)?;
            if target.starts_with('/') {
                return Err(Absent::Outside);
            }
            let folder = start.rsplit_once('/').map_or("", |(folder, _)| folder);
            let next = plain(&format!("{}{rest}", inside(folder, target)));
            return next.map(Some).ok_or(Absent::Outside);
        }
        Ok(None)
    }

    fn read(&self, name: &str) -> Result<Arc<str>, Absent> {
        let path = plain(&inside(&self.root, name)).ok_or(Absent::Outside)?;
        // By `..` first, as on the disk: whether something outside exists is nobody's business.
        let is_inside = |path: &str| self.may_leave_root || self.name(path).is_some();
        if !is_inside(&path) || disk::climbs(name) && !self.may_leave_root {
            return Err(Absent::Outside);
        }
        let path = self.followed(&path)?;
        if !is_inside(&path) && !self.asked.contains(name) {
            return Err(Absent::Outside);
        }
        match self.entries.get(&path) {
            Some(Entry::File(id)) => disk::text(self.objects.get(id)?.as_slice()),
            Some(_) => Err(Absent::Missing),
            None if self.below(&path).next().is_some() => {
                Err(Absent::Unreadable("it is a folder".to_owned()))
            }
            None => Err(Absent::Missing),
        }
    }
}

impl Texts for Tree {
    fn get(&self, name: &str) -> Result<Arc<str>, Absent> {
        let text = self.read(name);
        self.reads.fetch_add(1, Ordering::Relaxed);
        if let Err(Absent::Unreadable(words)) = &text
            && self.asked.contains(name)
        {
            let mut refused = self.refused.lock().unwrap_or_else(PoisonError::into_inner);
            refused.insert(format!(
                "{} could not be read: {words}",
                name.escape_debug()
            ));
        }
        text
    }
}

fn inside(folder: &str, name: &str) -> String {
    if folder.is_empty() {
        name.to_owned()
    } else {
        format!("{folder}/{name}")
    }
}

/// A path without `.` and `..`; none where it leads above the top.
pub(super) fn plain(path: &str) -> Option<String> {
    let mut parts: Vec<&str> = Vec::new();
    for part in path.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop()?;
            }
            _ => parts.push(part),
        }
    }
    Some(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn paths_are_made_plain_and_never_climb_out() {
        assert_eq!(
            plain("farm/../store//a.trug").as_deref(),
            Some("store/a.trug")
        );
        assert_eq!(plain("./").as_deref(), Some(""));
        assert_eq!(plain("farm/../../a.trug"), None);
    }
}

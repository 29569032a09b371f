//! One farm of the session: the texts below one root, those a client has open laid over those on the disk.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use trug_model::{Absent, Farm, InMemory, LARGEST_TEXT, Settings, Texts};

use crate::lsp::Url;
use crate::naming;
use crate::reports::Reports;
use crate::snapshot::AreaShot;
use crate::world::{Listed, World};

/// What of an area never changes.
#[derive(Debug, Default)]
pub(crate) struct Base {
    pub(crate) id: u32,
    /// None for buffers that belong nowhere.
    pub(crate) root: Option<PathBuf>,
    /// The client's folders in it; none where only single texts were opened.
    pub(crate) folders: Vec<PathBuf>,
    /// Folders without links, and what the client calls them.
    pub(crate) called: Vec<(PathBuf, PathBuf)>,
}

/// A farm that changes.
pub(crate) struct Area {
    pub(crate) base: Arc<Base>,
    pub(crate) disk: Arc<dyn Texts + Send + Sync>,
    /// The texts that are open, by name.
    open: BTreeMap<String, Arc<str>>,
    uris: Arc<BTreeMap<String, Url>>,
    /// What was found on the disk.
    pub(crate) listed: Listed,
    names: Vec<String>,
    /// Texts that may be others since the farm was read.
    dirty: BTreeSet<String>,
    /// Texts that changed while the folders were being read.
    pub(crate) meanwhile: BTreeSet<String>,
    farm: Arc<Farm>,
    revision: u64,
    pub(crate) reports: Arc<Mutex<Reports>>,
    /// Texts without a report that holds.
    pub(crate) pending: BTreeSet<String>,
    shot: Option<Arc<AreaShot>>,
}

impl Area {
    /// An area in which nothing was read yet.
    pub(crate) fn new(base: Base, settings: Settings, world: &dyn World) -> Area {
        let disk = match &base.root {
            Some(root) => world.texts(root),
            None => Arc::new(InMemory::default()),
        };
        Area {
            base: Arc::new(base),
            disk,
            open: BTreeMap::new(),
            uris: Arc::default(),
            listed: Listed::new(),
            names: Vec::new(),
            dirty: BTreeSet::new(),
            meanwhile: BTreeSet::new(),
            farm: Arc::new(Farm::read(&[], &InMemory::default(), settings)),
            revision: 0,
            reports: Arc::default(),
            pending: BTreeSet::new(),
            shot: None,
        }
    }

    /// Lays a text over that of the disk.
    pub(crate) fn open(&mut self, name: &str, uri: &Url, text: &Arc<str>) {
        self.open.insert(name.to_owned(), Arc::clone(text));
        Arc::make_mut(&mut self.uris).insert(name.to_owned(), uri.clone());
        self.list_anew();
        self.touch(name);
    }

    /// Exchanges an open text.
    pub(crate) fn change(&mut self, name: &str, text: &Arc<str>) {
        self.open.insert(name.to_owned(), Arc::clone(text));
        // A table that nothing uses has no part in the farm.
        if self.farm.file(name).is_some()
            || self
                .names
                .binary_search_by(|one| one.as_str().cmp(name))
                .is_ok()
        {
            self.touch(name);
        }
    }

    /// Goes back to the text on the disk.
    pub(crate) fn close(&mut self, name: &str) {
        self.open.remove(name);
        Arc::make_mut(&mut self.uris).remove(name);
        self.list_anew();
        self.touch(name);
    }

    /// Notes that a text may be another now, or may have come or gone.
    pub(crate) fn touch(&mut self, name: &str) {
        self.dirty.insert(name.to_owned());
        self.meanwhile.insert(name.to_owned());
        self.shot = None;
    }

    /// Takes what is on the disk now; texts that came, went or changed are read again.
    pub(crate) fn relist(&mut self, listed: Listed) {
        let old = std::mem::replace(&mut self.listed, listed);
        let is_other = |name: &&String| old.get(*name) != self.listed.get(*name);
        let names: BTreeSet<&String> = old.keys().chain(self.listed.keys()).collect();
        let changed: Vec<String> = names.into_iter().filter(is_other).cloned().collect();
        for name in changed {
            if !self.open.contains_key(&name)
                || old.contains_key(&name) != self.listed.contains_key(&name)
            {
                self.touch(&name);
            }
        }
        self.list_anew();
    }

    /// Takes the farm that was read in the background, and reads again what changed meanwhile or is open.
    pub(crate) fn indexed(&mut self, listed: Listed, farm: Farm) {
        let before: Vec<String> = self
            .farm
            .sources()
            .iter()
            .map(|source| source.name().to_owned())
            .collect();
        self.listed = listed;
        self.farm = Arc::new(farm);
        self.dirty = std::mem::take(&mut self.meanwhile);
        self.dirty.extend(self.open.keys().cloned());
        // What was read until now and is not known any more has to be cleared away.
        self.dirty.extend(before);
        self.list_anew();
    }

    fn list_anew(&mut self) {
        let open = self.open.keys().filter(|name| !is_table(name));
        let names: BTreeSet<&String> = self.listed.keys().chain(open).collect();
        self.names = names.into_iter().cloned().collect();
        self.shot = None;
    }

    /// Whether the farm is as the texts are.
    pub(crate) fn is_settled(&self) -> bool {
        self.dirty.is_empty()
    }

    /// Reads again what may be another. Says which texts have to be judged again, or are gone.
    pub(crate) fn reread(&mut self, revision: u64) -> BTreeSet<String> {
        if self.dirty.is_empty() {
            return BTreeSet::new();
        }
        let dirty = std::mem::take(&mut self.dirty);
        let texts = Overlay {
            open: &self.open,
            disk: &*self.disk,
        };
        let before = Arc::clone(&self.farm);
        let farm = before.reread(&self.names, &texts, &dirty);
        let mut void = BTreeSet::new();
        for name in dirty {
            let farm = if farm.file(&name).is_some() {
                &farm
            } else {
                &*before
            };
            let readers = farm.file(&name).map(|file| farm.readers_of(file));
            let readers = readers.into_iter().flatten();
            let named = |file: trug_findings::FileId| farm.sources().get(file.index());
            void.extend(
                readers
                    .filter_map(named)
                    .map(|source| source.name().to_owned()),
            );
            void.insert(name);
        }
        self.farm = Arc::new(farm);
        self.revision = revision;
        self.shot = None;
        let mut reports = self.reports.lock().unwrap_or_else(PoisonError::into_inner);
        for name in &void {
            reports.void(name, revision);
        }
        void
    }

    /// The area as it is now.
    pub(crate) fn shot(&mut self) -> Arc<AreaShot> {
        let make = || {
            Arc::new(AreaShot {
                base: Arc::clone(&self.base),
                uris: Arc::clone(&self.uris),
                farm: Arc::clone(&self.farm),
                reports: Arc::clone(&self.reports),
                revision: self.revision,
            })
        };
        Arc::clone(self.shot.get_or_insert_with(make))
    }

    pub(crate) fn farm(&self) -> &Arc<Farm> {
        &self.farm
    }

    /// Whether a text is open.
    pub(crate) fn has_open(&self, name: &str) -> bool {
        self.open.contains_key(name)
    }

    /// Whether a text was asked for, because it was found or is open.
    pub(crate) fn is_asked(&self, name: &str) -> bool {
        self.open.contains_key(name) || self.listed.contains_key(name)
    }

    /// Whether a text is a table that is not judged yet in all texts that use it.
    pub(crate) fn waits_for_readers(&self, name: &str) -> bool {
        let farm = &self.farm;
        let Some(table) = farm.file(name).filter(|file| farm.is_table(*file)) else {
            return false;
        };
        let readers = farm.readers_of(table);
        let mut readers = readers
            .iter()
            .filter_map(|file| farm.sources().get(file.index()));
        readers.any(|reader| self.pending.contains(reader.name()))
    }

    /// Has everything judged again.
    pub(crate) fn void_all(&mut self, revision: u64) {
        let mut reports = self.reports.lock().unwrap_or_else(PoisonError::into_inner);
        reports.void_all(revision);
        drop(reports);
        self.revision = revision;
        self.shot = None;
        self.pending_all();
    }

    /// Everything that is judged has yet to be.
    pub(crate) fn pending_all(&mut self) {
        let farm = &self.farm;
        let judged = farm
            .files()
            .filter(|file| !farm.is_table(*file) && !farm.is_book(*file));
        let judged = judged.filter_map(|file| farm.sources().get(file.index()));
        self.pending = judged.map(|source| source.name().to_owned()).collect();
    }

    /// Whether nothing is left in it.
    pub(crate) fn is_empty(&self) -> bool {
        self.base.folders.is_empty() && self.open.is_empty()
    }
}

impl Base {
    /// The name of a path without links.
    pub(crate) fn name_of(&self, path: &Path) -> Option<String> {
        naming::name_below(self.root.as_deref()?, path)
    }

    /// The path of a name, under the folder as the client calls it.
    pub(crate) fn path_of(&self, name: &str) -> Option<PathBuf> {
        let path = self.root.as_deref()?.join(name);
        let called = self.called.iter().find_map(|(real, called)| {
            let below = path.strip_prefix(real).ok()?;
            Some(called.join(below))
        });
        Some(called.unwrap_or(path))
    }
}

/// Whether a name is that of a table, which only has a meaning where a text uses it.
pub(crate) fn is_table(name: &str) -> bool {
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    ending.eq_ignore_ascii_case("csv")
}

/// The texts that are open over those on the disk.
struct Overlay<'a> {
    open: &'a BTreeMap<String, Arc<str>>,
    disk: &'a (dyn Texts + Send + Sync),
}

impl Texts for Overlay<'_> {
    fn get(&self, name: &str) -> Result<Arc<str>, Absent> {
        let Some(text) = self.open.get(name) else {
            return self.disk.get(name);
        };
        if LARGEST_TEXT < text.len() {
            return Err(Absent::TooLarge);
        }
        match text.bytes().position(|byte| byte == 0) {
            Some(at) => Err(Absent::NotText(at)),
            None => Ok(Arc::clone(text)),
        }
    }
}

//! From the client's folders and texts to the areas they belong to.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde_json::Value;

use crate::area::{Area, Base};
use crate::lsp::{InitializeParams, Url, WorkspaceFolder, WorkspaceFoldersChangeEvent};
use crate::naming;
use crate::session::Session;
use crate::snapshot::Eye;

/// The folders of the first message: those listed, else the one root that older clients name.
pub(crate) fn first(params: &InitializeParams) -> Vec<WorkspaceFolder> {
    if let Some(folders) = &params.workspace_folders {
        return folders.clone();
    }
    #[expect(deprecated, reason = "older clients name their folder in no other way")]
    let root = params.root_uri.clone().or_else(|| {
        let path = params.root_path.as_deref()?;
        Url::from_file_path(path).ok()
    });
    let named = |uri: Url| WorkspaceFolder {
        name: uri.path().to_owned(),
        uri,
    };
    root.map(named).into_iter().collect()
}

/// Whether a change of a file of this name leaves the list of texts as it is.
pub(crate) fn is_text(name: &str) -> bool {
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    ending == "trug" || ending.eq_ignore_ascii_case("csv")
}

impl Session {
    /// The client's folders change.
    pub(crate) fn change_folders(&mut self, change: &WorkspaceFoldersChangeEvent) {
        let is_gone =
            |folder: &WorkspaceFolder| change.removed.iter().any(|gone| gone.uri == folder.uri);
        self.folders.retain(|folder| !is_gone(folder));
        self.folders.extend(change.added.iter().cloned());
        self.lay_out();
    }

    /// Takes settings that are said; without any, asks the client for them.
    pub(crate) fn set_settings(&mut self, said: Option<Value>) {
        let Some(said) = said.filter(|said| !said.is_null()) else {
            self.ask_for_settings();
            return;
        };
        let (settings, wrong) = self.eye.settings.with(&said);
        self.complain(wrong);
        if settings == self.eye.settings {
            return;
        }
        let eye = Eye {
            settings,
            ..(*self.eye).clone()
        };
        let before = std::mem::replace(&mut self.eye, Arc::new(eye));
        self.state.refresh_all();
        let (before, now) = (&before.settings, &self.eye.settings);
        if before.root != now.root || self.day() != self.today {
            self.today = self.day();
            self.lay_out();
        } else if (before.severity, before.help_in_message) != (now.severity, now.help_in_message) {
            self.refresh();
            self.revision += 1;
            let revision = self.revision;
            for area in &mut self.areas {
                area.void_all(revision);
            }
            self.state.has_work = true;
        }
    }

    /// The day the user wants, else the day it is.
    pub(crate) fn day(&self) -> jiff::civil::Date {
        self.eye
            .settings
            .today
            .unwrap_or_else(|| self.world.today())
    }

    /// How farms are read.
    pub(crate) fn farm_settings(&self) -> trug_model::Settings {
        trug_model::Settings {
            today: Some(self.today),
            may_leave_root: self.world.may_leave_root(),
            ..trug_model::Settings::default()
        }
    }

    /// Makes the areas anew, from the folders and the texts that are open.
    pub(crate) fn lay_out(&mut self) {
        self.stop_indexing();
        self.areas.clear();
        self.clear_closed();
        for folder in self.folders.clone() {
            let Some(called) = naming::path(&folder.uri) else {
                continue;
            };
            let real = self.world.canonical(&called);
            let root = self.root_of(&real);
            // A root set deeper than the folder leaves out what is beside it.
            let folder = if root.starts_with(&real) {
                root.clone()
            } else {
                real.clone()
            };
            self.add_folder(root, folder, (real, called));
        }
        self.place_documents();
        let ids: Vec<u32> = self
            .areas
            .iter()
            .filter(|area| !area.base.folders.is_empty())
            .map(|area| area.base.id)
            .collect();
        for id in ids {
            self.index(id);
        }
    }

    fn root_of(&self, folder: &Path) -> PathBuf {
        match &self.eye.settings.root {
            Some(root) => self.world.canonical(&folder.join(root)),
            None => self.world.root_of(folder),
        }
    }

    fn add_folder(&mut self, root: PathBuf, folder: PathBuf, called: (PathBuf, PathBuf)) {
        let same = self
            .areas
            .iter()
            .position(|area| area.base.root.as_ref() == Some(&root));
        let mut base = match same {
            Some(rank) => {
                let area = self.areas.remove(rank);
                Base {
                    id: area.base.id,
                    root: Some(root),
                    folders: area.base.folders.clone(),
                    called: area.base.called.clone(),
                }
            }
            None => Base {
                id: self.new_area(),
                root: Some(root),
                ..Base::default()
            },
        };
        base.folders.push(folder);
        base.called.push(called);
        self.areas
            .push(Area::new(base, self.farm_settings(), &*self.world));
    }

    fn new_area(&mut self) -> u32 {
        self.last_area += 1;
        self.last_area
    }

    fn place_documents(&mut self) {
        let documents = std::mem::take(&mut self.documents);
        let mut placed = (*documents).clone();
        for (uri, document) in &mut placed {
            let Some((id, name)) = self.place(uri) else {
                continue;
            };
            (document.area, document.name) = (id, name);
            if naming::book_name(uri).is_none()
                && let Some(area) = self.area(id)
            {
                area.open(&document.name, uri, &document.text);
            }
            self.state.edited(uri.clone());
        }
        self.documents = Arc::new(placed);
    }

    /// The area an opened text belongs to, and its name there. One that has no area yet gets one.
    pub(crate) fn place(&mut self, uri: &Url) -> Option<(u32, String)> {
        if let Some(book) = naming::book_name(uri) {
            let knows = |area: &&Area| area.farm().file(&book).is_some();
            let area = self.areas.iter().find(knows)?;
            return Some((area.base.id, book.clone()));
        }
        let Some(path) = naming::path(uri) else {
            return Some((self.loose_area(), loose_name(uri)));
        };
        let path = self.world.canonical(&path);
        if let Some(found) = self.area_of(&path) {
            return Some(found);
        }
        let folder = path.parent()?;
        let root = self.world.root_of(folder);
        let name = naming::name_below(&root, &path)?;
        let same = self
            .areas
            .iter()
            .find(|area| area.base.root.as_ref() == Some(&root));
        let id = match same {
            Some(area) => area.base.id,
            None => {
                let id = self.new_area();
                let called = naming::path(uri)?.parent()?.to_owned();
                let base = Base {
                    id,
                    root: Some(root),
                    folders: Vec::new(),
                    called: vec![(folder.to_owned(), called)],
                };
                self.areas
                    .push(Area::new(base, self.farm_settings(), &*self.world));
                id
            }
        };
        Some((id, name))
    }

    /// The deepest of the areas with folders that holds a path.
    fn area_of(&self, path: &Path) -> Option<(u32, String)> {
        let areas = self.areas.iter().filter(|area| {
            area.base
                .folders
                .iter()
                .any(|folder| path.starts_with(folder))
        });
        let deepest = areas.max_by_key(|area| {
            area.base
                .root
                .as_ref()
                .map_or(0, |root| root.components().count())
        })?;
        Some((deepest.base.id, deepest.base.name_of(path)?))
    }

    /// Where a buffer without a file is read: as if it lay at the root of the first folder.
    fn loose_area(&mut self) -> u32 {
        if let Some(first) = self.areas.first() {
            return first.base.id;
        }
        let base = Base {
            id: self.new_area(),
            ..Base::default()
        };
        let id = base.id;
        self.areas
            .push(Area::new(base, self.farm_settings(), &*self.world));
        id
    }
}

/// A name in no folder.
fn loose_name(uri: &Url) -> String {
    uri.as_str().replace('/', "_")
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use super::*;

    #[test]
    fn only_texts_leave_the_list_as_it_is() {
        assert!(is_text("a/b.trug") && is_text("prices.CSV"));
        assert!(!is_text(".gitignore") && !is_text("trug.root") && !is_text("store"));
    }

    #[test]
    fn buffers_have_names_without_folders() {
        let uri = Url::parse("untitled:/a/Untitled-1").unwrap();
        assert_eq!(loose_name(&uri), "untitled:_a_Untitled-1");
    }
}

//! What the server asks of a client that is ready, and what it looks after as time goes by.

use std::time::Duration;

use crate::event::Event;
use crate::lsp::notification::{DidChangeConfiguration, DidChangeWatchedFiles, Notification};
use crate::lsp::{
    ConfigurationItem, DidChangeWatchedFilesRegistrationOptions, FileSystemWatcher, GlobPattern,
    Registration,
};
use crate::session::Session;

/// A client that does not answer within this is done without.
const PATIENCE: Duration = Duration::from_secs(5);

/// What is watched: texts, tables, and what says which texts there are.
const WATCHED: [&str; 4] = ["**/*.trug", "**/*.csv", "**/.gitignore", "**/trug.root"];

/// Ticks between looks at folders that nobody watches, and one more for each so many texts in them.
const LOOKS: usize = 1;
const TEXTS_A_LOOK: usize = 1000;

impl Session {
    /// The client may be asked from now on.
    pub(crate) fn ready(&mut self) {
        if self.is_ready {
            return;
        }
        self.is_ready = true;
        self.lay_out();
        self.register();
        self.ask_for_settings();
    }

    /// Asks for the settings, where the client can be asked.
    pub(crate) fn ask_for_settings(&self) {
        if !self.eye.abilities.can_configure {
            return;
        }
        let (client, events) = (self.client.clone(), self.events.clone());
        self.runtime.spawn(async move {
            let item = ConfigurationItem {
                scope_uri: None,
                section: Some("trug".to_owned()),
            };
            let asked = client.configuration(vec![item]);
            if let Ok(Ok(mut said)) = tokio::time::timeout(PATIENCE, asked).await
                && let Some(said) = said.pop().filter(|said| !said.is_null())
            {
                drop(events.send(Event::Settings(Some(said))));
            }
        });
    }

    fn register(&self) {
        let abilities = &self.eye.abilities;
        let mut wanted = Vec::new();
        if abilities.can_watch {
            let watcher = |glob: &str| FileSystemWatcher {
                glob_pattern: GlobPattern::String(glob.to_owned()),
                kind: None,
            };
            let options = DidChangeWatchedFilesRegistrationOptions {
                watchers: WATCHED.into_iter().map(watcher).collect(),
            };
            wanted.push(Registration {
                id: "trug/watch".to_owned(),
                method: DidChangeWatchedFiles::METHOD.to_owned(),
                register_options: serde_json::to_value(options).ok(),
            });
        }
        if abilities.registers_configuration {
            wanted.push(Registration {
                id: "trug/settings".to_owned(),
                method: DidChangeConfiguration::METHOD.to_owned(),
                register_options: Some(serde_json::json!({ "section": "trug" })),
            });
        }
        if !wanted.is_empty() {
            let client = self.client.clone();
            self.runtime.spawn(async move {
                // Nothing depends on the answer: what the client does not do, the server looks after itself.
                drop(tokio::time::timeout(PATIENCE, client.register_capability(wanted)).await);
            });
        }
    }

    /// Some seconds went by.
    pub(crate) fn tick(&mut self) {
        if !self.is_ready {
            return;
        }
        if self.day() != self.today {
            self.today = self.day();
            self.lay_out();
            self.state.refresh_all();
        }
        if self.eye.abilities.can_watch {
            return;
        }
        self.ticks += 1;
        let texts: usize = self.areas.iter().map(|area| area.listed.len()).sum();
        if self.ticks.is_multiple_of(LOOKS + texts / TEXTS_A_LOOK) {
            self.look_for_changes();
        }
    }

    /// Looks at the disk, where the client does not say what changes there.
    pub(crate) fn look_for_changes(&mut self) {
        if self.eye.abilities.can_watch {
            return;
        }
        let ids: Vec<u32> = self.areas.iter().map(|area| area.base.id).collect();
        for id in ids {
            self.list_again(id);
        }
    }
}

//! What follows from what happened: texts are read again, judged again, and the client is told.
//!
//! What is being edited is judged and shown at once; what else an edit reaches waits until the typing stops.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::PoisonError;
use std::time::Duration;

use crate::event::Event;
use crate::judge::Job;
use crate::lsp::{Diagnostic, PublishDiagnosticsParams, Url};
use crate::outbox::Refresh;
use crate::reports::Report;
use crate::session::Session;

/// How long nothing is edited before the rest is told.
const QUIET: Duration = Duration::from_millis(80);

/// What the client was shown, and what it waits for.
#[derive(Debug, Default)]
pub(crate) struct Shown {
    /// Reports that came in and were not looked at yet.
    pub(crate) judged: Vec<(u32, String, Report)>,
    /// Texts whose plan or analysis the client shows.
    pub(crate) previews: BTreeSet<Url>,
    /// Texts that were edited, until their findings are sent.
    edited: BTreeSet<Url>,
    /// Others whose findings changed.
    held: BTreeSet<(u32, String)>,
    /// What was published, by address.
    published: BTreeMap<Url, u64>,
    /// Previews that an edit reached.
    plans: BTreeSet<Url>,
    refreshes: BTreeSet<Refresh>,
    edits: u64,
    /// Something has to be judged that was not given to the threads yet.
    pub(crate) has_work: bool,
    is_armed: bool,
    /// The typing goes on.
    is_busy: bool,
}

impl Shown {
    /// A text was opened or edited.
    pub(crate) fn edited(&mut self, uri: Url) {
        self.edited.insert(uri);
        self.edits += 1;
    }

    /// The client shows the plan or the analysis of a text.
    pub(crate) fn show(&mut self, uri: Url) {
        self.previews.insert(uri);
    }

    /// A text was closed. Its page may still stand there, and follows the texts it uses.
    pub(crate) fn closed(&mut self, uri: &Url) {
        self.edited.remove(uri);
        self.edits += 1;
    }

    /// Everything the client has asked for may be other now.
    pub(crate) fn refresh_all(&mut self) {
        self.refreshes.extend([
            Refresh::Diagnostics,
            Refresh::Hints,
            Refresh::Tokens,
            Refresh::Lenses,
        ]);
    }

    /// Nothing was edited for a while after this edit.
    pub(crate) fn quiet(&mut self, edit: u64) {
        self.is_armed = false;
        self.is_busy = edit != self.edits;
    }
}

impl Session {
    /// Waits, without holding anything up, for the typing to stop.
    pub(crate) fn arm_quiet(&mut self) {
        self.state.is_busy = true;
        if self.state.is_armed {
            return;
        }
        self.state.is_armed = true;
        let (events, edit) = (self.events.clone(), self.state.edits);
        self.runtime.spawn(async move {
            tokio::time::sleep(QUIET).await;
            drop(events.send(Event::Quiet(edit)));
        });
    }

    /// Reads again what may be another.
    pub(crate) fn refresh(&mut self) {
        if self.areas.iter().all(|area| area.is_settled()) {
            return;
        }
        self.revision += 1;
        let revision = self.revision;
        for rank in 0..self.areas.len() {
            let Some(area) = self.areas.get_mut(rank) else {
                continue;
            };
            let void = area.reread(revision);
            let id = area.base.id;
            let mut gone = Vec::new();
            let mut reaches_other = false;
            for name in void {
                let uri = area.shot().uri_of(&name);
                let is_edited = uri
                    .as_ref()
                    .is_some_and(|uri| self.state.edited.contains(uri));
                reaches_other |= area.has_open(&name) && !is_edited;
                if let Some(uri) = uri.filter(|uri| self.state.previews.contains(uri)) {
                    self.state.plans.insert(uri);
                }
                match area.farm().file(&name) {
                    None => gone.push(name),
                    // A table is judged in the texts that use it.
                    Some(file) if area.farm().is_table(file) => {
                        self.state.held.insert((id, name));
                    }
                    Some(_) => {
                        self.state.has_work = true;
                        area.pending.insert(name);
                    }
                }
            }
            if reaches_other {
                self.state.refresh_all();
            }
            for name in gone {
                self.forget(id, &name);
            }
        }
    }

    /// Makes out everything that follows from what happened.
    pub(crate) fn settle(&mut self) {
        if !self.is_ready {
            return;
        }
        self.refresh();
        for (area, name, report) in std::mem::take(&mut self.state.judged) {
            self.judged(area, name, report);
        }
        self.give_work();
        if self.state.is_busy {
            // The pause may have been too short; another is waited for.
            self.arm_quiet();
        } else {
            self.tell_rest();
        }
    }

    fn forget(&mut self, id: u32, name: &str) {
        let Some(area) = self.area(id) else { return };
        area.pending.remove(name);
        let mut reports = area.reports.lock().unwrap_or_else(PoisonError::into_inner);
        let changed = reports.forget(name);
        drop(reports);
        let held = changed.into_iter().chain([name.to_owned()]);
        self.state.held.extend(held.map(|name| (id, name)));
    }

    fn judged(&mut self, id: u32, name: String, report: Report) {
        let Some(area) = self.area(id) else { return };
        let revision = report.revision;
        let mut reports = area.reports.lock().unwrap_or_else(PoisonError::into_inner);
        let kept = reports.keep(&name, report);
        let holds = reports.holding(&name, revision).is_some();
        drop(reports);
        if holds {
            area.pending.remove(&name);
        }
        let Some(mut changed) = kept else { return };
        let uri = area.shot().uri_of(&name);
        if uri.is_some_and(|uri| self.state.edited.remove(&uri)) {
            // A client that pulls asks for what it edits by itself.
            changed.remove(&name);
            self.publish(id, &name);
        } else if !self.eye.abilities.pulls {
            // What was shown may be of an older reading, so it is compared even where the report is the same.
            changed.insert(name);
        }
        let held = changed.into_iter().map(|text| (id, text));
        self.state.held.extend(held);
    }

    /// Hands what is to be judged to the two threads.
    fn give_work(&mut self) {
        if !std::mem::take(&mut self.state.has_work) {
            return;
        }
        for area in &mut self.areas {
            let shot = area.shot();
            let (open, rest): (Vec<&String>, Vec<&String>) = area
                .pending
                .iter()
                .partition(|name| shot.uris.contains_key(*name));
            let is_edited = |name: &String| {
                shot.uris
                    .get(name)
                    .is_some_and(|uri| self.state.edited.contains(uri))
            };
            let (edited, others): (Vec<&String>, Vec<&String>) =
                open.into_iter().partition(|name| is_edited(name));
            let first: VecDeque<String> = edited.into_iter().chain(others).cloned().collect();
            for (lane, names) in [
                (&self.front, first),
                (&self.back, rest.into_iter().cloned().collect()),
            ] {
                lane.set(Job {
                    eye: self.eye.clone(),
                    area: shot.clone(),
                    names,
                });
            }
        }
    }

    /// Tells what waited for the typing to stop.
    fn tell_rest(&mut self) {
        let held = std::mem::take(&mut self.state.held);
        let has_news = !held.is_empty();
        for (id, name) in held {
            self.publish(id, &name);
        }
        for uri in std::mem::take(&mut self.state.plans) {
            self.outbox.plan_changed(uri);
        }
        let abilities = &self.eye.abilities;
        for what in std::mem::take(&mut self.state.refreshes) {
            let is_wanted = match what {
                Refresh::Diagnostics => abilities.refreshes_diagnostics && abilities.pulls,
                Refresh::Hints => abilities.refreshes_hints,
                Refresh::Tokens => abilities.refreshes_tokens,
                Refresh::Lenses => abilities.refreshes_lenses,
            };
            if is_wanted {
                self.outbox.refresh(what);
            }
        }
        if has_news && abilities.pulls && abilities.refreshes_diagnostics {
            self.outbox.refresh(Refresh::Diagnostics);
        }
    }

    /// Sends what is found in a text, if the client waits for it or was told something else.
    fn publish(&mut self, id: u32, name: &str) {
        if self.eye.abilities.pulls || name.starts_with("book:") {
            return;
        }
        let Some(area) = self.area(id) else { return };
        if area.pending.contains(name) {
            // It is judged again, and shown then.
            return;
        }
        if area.waits_for_readers(name) {
            self.state.held.insert((id, name.to_owned()));
            return;
        }
        let is_known_text = area.is_asked(name) || area.farm().file(name).is_some();
        let Some(uri) = area.shot().uri_of(name) else {
            return;
        };
        let reports = area.reports.lock().unwrap_or_else(PoisonError::into_inner);
        let diagnostics = if is_known_text {
            reports.shown(name)
        } else {
            Vec::new()
        };
        drop(reports);
        self.state.edited.remove(&uri);
        let version = self.documents.get(&uri).map(|document| document.version);
        let mark = mark(&diagnostics, version);
        let is_known = match self.state.published.get(&uri) {
            Some(known) => *known == mark,
            None => diagnostics.is_empty() && version.is_none(),
        };
        if is_known {
            return;
        }
        if diagnostics.is_empty() && version.is_none() {
            self.state.published.remove(&uri);
        } else {
            self.state.published.insert(uri.clone(), mark);
        }
        self.outbox.publish(PublishDiagnosticsParams {
            uri,
            diagnostics,
            version,
        });
    }

    /// Takes away what the client was shown of texts that are not open.
    pub(crate) fn clear_closed(&mut self) {
        let published: Vec<Url> = self.state.published.keys().cloned().collect();
        for uri in published {
            if !self.documents.contains_key(&uri) {
                self.clear(&uri);
            }
        }
    }

    /// Takes away what the client was shown of a text that is closed; what is found on the disk is shown anew.
    pub(crate) fn clear(&mut self, uri: &Url) {
        if self.state.published.remove(uri).is_some() {
            self.outbox.publish(PublishDiagnosticsParams {
                uri: uri.clone(),
                diagnostics: Vec::new(),
                version: None,
            });
        }
    }
}

/// Tells two states of what is shown apart.
fn mark(diagnostics: &[Diagnostic], version: Option<i32>) -> u64 {
    let mut hasher = DefaultHasher::new();
    version.hash(&mut hasher);
    serde_json::to_string(diagnostics)
        .unwrap_or_default()
        .hash(&mut hasher);
    hasher.finish()
}

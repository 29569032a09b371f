//! What was found in each text, as the client is shown it, and until when it holds.
//!
//! Judging a text can say something about another one: a table is judged in every text that uses it. So a report has
//! a part for each text it speaks of, and what is shown of a text is the sum of all parts.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::lsp::Diagnostic;

/// What judging one text said, by the name of the text it is said of.
#[derive(Clone, Debug, Default)]
pub(crate) struct Report {
    /// The state of the farm that was judged.
    pub(crate) revision: u64,
    /// By the text it concerns; texts of which nothing is said are left out.
    pub(crate) parts: BTreeMap<String, Arc<Vec<Diagnostic>>>,
}

/// The reports of a farm.
#[derive(Debug, Default)]
pub(crate) struct Reports {
    by_judged: BTreeMap<String, Report>,
    /// Which judged texts speak of a text that is not their own.
    speaking: BTreeMap<String, BTreeSet<String>>,
    /// The state from which on a report about a text is void unless it is as new.
    void_before: BTreeMap<String, u64>,
    all_void_before: u64,
}

impl Reports {
    /// Everything that was judged before this state no longer holds.
    pub(crate) fn void_all(&mut self, revision: u64) {
        self.all_void_before = revision;
        self.void_before.clear();
    }

    /// A text has to be judged again from this state on.
    pub(crate) fn void(&mut self, name: &str, revision: u64) {
        self.void_before.insert(name.to_owned(), revision);
    }

    /// Forgets a text that is gone; says which others it spoke of.
    pub(crate) fn forget(&mut self, name: &str) -> BTreeSet<String> {
        self.put(name, Report::default())
    }

    /// The report on a text that holds in this state.
    pub(crate) fn holding(&self, name: &str, revision: u64) -> Option<&Report> {
        let report = self.by_judged.get(name)?;
        let from = self.void_before(name);
        (from <= report.revision && from <= revision).then_some(report)
    }

    /// Keeps a report, unless it does not hold any more. Says which texts are now spoken of otherwise.
    pub(crate) fn keep(&mut self, name: &str, report: Report) -> Option<BTreeSet<String>> {
        let is_old = |known: &Report| report.revision < known.revision;
        if report.revision < self.void_before(name) || self.by_judged.get(name).is_some_and(is_old)
        {
            return None;
        }
        Some(self.put(name, report))
    }

    /// What is to be shown of a text.
    pub(crate) fn shown(&self, name: &str) -> Vec<Diagnostic> {
        let others = self.speaking.get(name).into_iter().flatten();
        let mut shown: Vec<Diagnostic> = Vec::new();
        for judged in std::iter::once(name).chain(others.map(String::as_str)) {
            let part = self
                .by_judged
                .get(judged)
                .and_then(|report| report.parts.get(name));
            for diagnostic in part.into_iter().flat_map(|part| part.iter()) {
                if !shown.contains(diagnostic) {
                    shown.push(diagnostic.clone());
                }
            }
        }
        shown.sort_by_key(|diagnostic| (diagnostic.range.start, diagnostic.range.end));
        shown
    }

    fn void_before(&self, name: &str) -> u64 {
        let own = self.void_before.get(name).copied().unwrap_or(0);
        own.max(self.all_void_before)
    }

    fn put(&mut self, name: &str, report: Report) -> BTreeSet<String> {
        let before = self.by_judged.remove(name).unwrap_or_default();
        let texts = before.parts.keys().chain(report.parts.keys());
        let others = texts.filter(|text| before.parts.get(*text) != report.parts.get(*text));
        let changed = others.cloned().collect();
        for text in before.parts.keys() {
            if let Some(speaking) = self.speaking.get_mut(text) {
                speaking.remove(name);
            }
        }
        for text in report.parts.keys().filter(|text| *text != name) {
            let speaking = self.speaking.entry(text.clone()).or_default();
            speaking.insert(name.to_owned());
        }
        self.by_judged.insert(name.to_owned(), report);
        changed
    }
}

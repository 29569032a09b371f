//! Reports for clients that ask for them.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::PoisonError;

use trug_findings::FileId;

use crate::diagnostics::judge;
use crate::lsp::{
    Diagnostic, DocumentDiagnosticReportKind, FullDocumentDiagnosticReport,
    UnchangedDocumentDiagnosticReport, Url, WorkspaceDocumentDiagnosticReport,
    WorkspaceFullDocumentDiagnosticReport, WorkspaceUnchangedDocumentDiagnosticReport,
};
use crate::snapshot::{AreaShot, Cancel, Snapshot};

/// What is found, by the text it is found in.
pub(crate) type Found = BTreeMap<String, Vec<Diagnostic>>;

/// Adds what judging a text says, in the state that was asked about; what a newer reading says is not mixed in.
pub(crate) fn judged(snapshot: &Snapshot, area: &AreaShot, name: &str, found: &mut Found) {
    let lock = || area.reports.lock().unwrap_or_else(PoisonError::into_inner);
    let known = lock().holding(name, area.revision).cloned();
    let report = known.unwrap_or_else(|| {
        let report = judge(&snapshot.eye, area, name);
        // Where the farm has been read again since, this report is of use to nobody else.
        lock().keep(name, report.clone());
        report
    });
    for (text, part) in &report.parts {
        let known = found.entry(text.clone()).or_default();
        for diagnostic in part.iter() {
            if !known.contains(diagnostic) {
                known.push(diagnostic.clone());
            }
        }
        known.sort_by_key(|diagnostic| (diagnostic.range.start, diagnostic.range.end));
    }
}

/// What is found in one text, and in the tables it uses, which all texts that use them have a say in.
pub(crate) fn of_text(
    snapshot: &Snapshot,
    area: &AreaShot,
    file: FileId,
    cancel: &Cancel<'_>,
) -> Found {
    let farm = &area.farm;
    let mut found = Found::new();
    let mut asked = BTreeSet::from([file]);
    let tables = farm.files().filter(|table| farm.is_table(*table));
    for table in tables {
        let readers = farm.readers_of(table);
        if readers.contains(&file) {
            found.extend(
                area.source(table)
                    .map(|source| (source.name().to_owned(), Vec::new())),
            );
            asked.extend(readers);
        }
    }
    let own = area.source(file).map(|source| source.name());
    for source in asked.into_iter().filter_map(|file| area.source(file)) {
        if cancel.is_wanted() {
            judged(snapshot, area, source.name(), &mut found);
        }
    }
    let is_meant =
        |name: &str| Some(name) == own || farm.file(name).is_some_and(|file| farm.is_table(file));
    found.retain(|name, _| is_meant(name));
    found
}

/// A whole report, under the id by which it is known again.
pub(crate) fn full(items: Vec<Diagnostic>) -> FullDocumentDiagnosticReport {
    FullDocumentDiagnosticReport {
        result_id: Some(result_id(&items)),
        items,
    }
}

/// The same findings have the same id.
pub(crate) fn result_id(items: &[Diagnostic]) -> String {
    let mut hasher = DefaultHasher::new();
    serde_json::to_string(items)
        .unwrap_or_default()
        .hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// Whole reports on several texts.
pub(crate) fn all_full(
    related: BTreeMap<Url, Vec<Diagnostic>>,
) -> HashMap<Url, DocumentDiagnosticReportKind> {
    let full = |(uri, items)| (uri, DocumentDiagnosticReportKind::Full(full(items)));
    related.into_iter().map(full).collect()
}

/// One text of all: whole, or only that it is as the client knows it.
pub(crate) fn of_one(
    snapshot: &Snapshot,
    uri: Url,
    shown: Vec<Diagnostic>,
    known: Option<String>,
) -> WorkspaceDocumentDiagnosticReport {
    let version = snapshot
        .documents
        .get(&uri)
        .map(|document| i64::from(document.version));
    let result_id = result_id(&shown);
    if known.as_ref() == Some(&result_id) {
        return WorkspaceDocumentDiagnosticReport::Unchanged(
            WorkspaceUnchangedDocumentDiagnosticReport {
                uri,
                version,
                unchanged_document_diagnostic_report: UnchangedDocumentDiagnosticReport {
                    result_id,
                },
            },
        );
    }
    WorkspaceDocumentDiagnosticReport::Full(WorkspaceFullDocumentDiagnosticReport {
        uri,
        version,
        full_document_diagnostic_report: full(shown),
    })
}

//! Reports for clients that ask for them.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::PoisonError;

use crate::diagnostics::judge;
use crate::lsp::{
    Diagnostic, DocumentDiagnosticReportKind, FullDocumentDiagnosticReport,
    UnchangedDocumentDiagnosticReport, Url, WorkspaceDocumentDiagnosticReport,
    WorkspaceFullDocumentDiagnosticReport, WorkspaceUnchangedDocumentDiagnosticReport,
};
use crate::snapshot::{AreaShot, Cancel, Snapshot};

/// Sees to it that there is a report on a text, for a table on all that use it. Says which texts they speak of.
pub(crate) fn found(
    snapshot: &Snapshot,
    area: &AreaShot,
    name: &str,
    cancel: &Cancel<'_>,
) -> BTreeSet<String> {
    let farm = &area.farm;
    let Some(file) = farm.file(name) else {
        return BTreeSet::new();
    };
    let judged = if farm.is_table(file) {
        farm.readers_of(file)
    } else {
        vec![file]
    };
    let mut spoken_of = BTreeSet::new();
    for source in judged.into_iter().filter_map(|file| area.source(file)) {
        if !cancel.is_wanted() {
            break;
        }
        let known = || {
            let reports = area.reports.lock().unwrap_or_else(PoisonError::into_inner);
            let report = reports.holding(source.name(), area.revision)?;
            Some(report.parts.keys().cloned().collect::<Vec<_>>())
        };
        spoken_of.extend(known().unwrap_or_else(|| {
            let report = judge(&snapshot.eye, area, source.name());
            let texts = report.parts.keys().cloned().collect();
            let mut reports = area.reports.lock().unwrap_or_else(PoisonError::into_inner);
            reports.keep(source.name(), report);
            texts
        }));
    }
    spoken_of
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

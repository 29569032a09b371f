//! `textDocument/diagnostic`: what is found in one text, and beside it in the tables it uses.

use std::collections::{BTreeMap, BTreeSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::PoisonError;

use tower_lsp::jsonrpc::Result;

use crate::diagnostics::judge;
use crate::lsp::{
    Diagnostic, DocumentDiagnosticParams, DocumentDiagnosticReport, DocumentDiagnosticReportKind,
    DocumentDiagnosticReportResult, FullDocumentDiagnosticReport,
    RelatedFullDocumentDiagnosticReport, RelatedUnchangedDocumentDiagnosticReport,
    UnchangedDocumentDiagnosticReport, Url,
};
use crate::snapshot::{AreaShot, Cancel, Snapshot};

/// Answers with what is found, or that it is what the client has.
pub(crate) fn of_document(
    snapshot: &Snapshot,
    params: DocumentDiagnosticParams,
    cancel: &Cancel<'_>,
) -> Result<DocumentDiagnosticReportResult> {
    let uri = &params.text_document.uri;
    let mut items = Vec::new();
    let mut related = BTreeMap::new();
    if let Some(text) = snapshot.text(uri)
        && let Some(source) = text.area.source(text.file)
    {
        let name = source.name();
        let others = found(snapshot, text.area, name, cancel);
        let reports = text
            .area
            .reports
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        items = reports.shown(name);
        for other in others.iter().filter(|other| *other != name) {
            related.extend(
                text.area
                    .uri_of(other)
                    .map(|uri| (uri, reports.shown(other))),
            );
        }
    }
    let related = snapshot
        .eye
        .abilities
        .has_related_documents
        .then_some(related);
    let related = related.filter(|related| !related.is_empty()).map(all_full);
    let id = result_id(&items);
    let report = if params.previous_result_id.as_ref() == Some(&id) {
        DocumentDiagnosticReport::Unchanged(RelatedUnchangedDocumentDiagnosticReport {
            related_documents: related,
            unchanged_document_diagnostic_report: UnchangedDocumentDiagnosticReport {
                result_id: id,
            },
        })
    } else {
        DocumentDiagnosticReport::Full(RelatedFullDocumentDiagnosticReport {
            related_documents: related,
            full_document_diagnostic_report: full(items),
        })
    };
    Ok(DocumentDiagnosticReportResult::Report(report))
}

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

fn all_full(
    related: BTreeMap<Url, Vec<Diagnostic>>,
) -> std::collections::HashMap<Url, DocumentDiagnosticReportKind> {
    let full = |(uri, items)| (uri, DocumentDiagnosticReportKind::Full(full(items)));
    related.into_iter().map(full).collect()
}

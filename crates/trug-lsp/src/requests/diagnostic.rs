//! `textDocument/diagnostic`: what is found in one text, and beside it in the tables it uses.

use std::collections::BTreeMap;
use std::sync::PoisonError;

use tower_lsp::jsonrpc::Result;

use crate::lsp::{
    DocumentDiagnosticParams, DocumentDiagnosticReport, DocumentDiagnosticReportResult,
    RelatedFullDocumentDiagnosticReport, RelatedUnchangedDocumentDiagnosticReport,
    UnchangedDocumentDiagnosticReport,
};
use crate::pulled::{all_full, found, full, result_id};
use crate::snapshot::{Cancel, Snapshot};

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

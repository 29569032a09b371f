//! `textDocument/diagnostic`: what is found in one text, and beside it in the tables it uses.

use std::collections::BTreeMap;

use tower_lsp::jsonrpc::Result;

use crate::lsp::{
    DocumentDiagnosticParams, DocumentDiagnosticReport, DocumentDiagnosticReportResult,
    RelatedFullDocumentDiagnosticReport, RelatedUnchangedDocumentDiagnosticReport,
    UnchangedDocumentDiagnosticReport,
};
use crate::pulled::{all_full, full, of_text, result_id};
use crate::snapshot::{Cancel, Snapshot};

/// Answers with what is found, or that it is what the client has.
pub(crate) fn of_document(
    snapshot: &Snapshot,
    params: DocumentDiagnosticParams,
    cancel: &Cancel<'_>,
) -> Result<DocumentDiagnosticReportResult> {
    let mut items = Vec::new();
    let mut related = BTreeMap::new();
    if let Some(text) = snapshot.text(&params.text_document.uri)
        && let Some(source) = text.area.source(text.file)
    {
        let mut found = of_text(snapshot, text.area, text.file, cancel);
        items = found.remove(source.name()).unwrap_or_default();
        let others = found.into_iter();
        related = others
            .filter_map(|(name, found)| Some((text.area.uri_of(&name)?, found)))
            .collect();
    }
    let has_related = snapshot.eye.abilities.has_related_documents && !related.is_empty();
    let related = has_related.then(|| all_full(related));
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

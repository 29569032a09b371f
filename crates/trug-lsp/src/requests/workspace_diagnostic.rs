//! `workspace/diagnostic`: what is found in all texts, as far as the client does not have it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::PoisonError;

use tower_lsp::jsonrpc::Result;

use super::diagnostic::{found, full, result_id};
use crate::lsp::{
    UnchangedDocumentDiagnosticReport, Url, WorkspaceDiagnosticParams, WorkspaceDiagnosticReport,
    WorkspaceDiagnosticReportResult, WorkspaceDocumentDiagnosticReport,
    WorkspaceFullDocumentDiagnosticReport, WorkspaceUnchangedDocumentDiagnosticReport,
};
use crate::snapshot::{Cancel, Snapshot};

/// Texts in which nothing is found, and nothing was, are left out.
pub(crate) fn of_all(
    snapshot: &Snapshot,
    params: WorkspaceDiagnosticParams,
    cancel: &Cancel<'_>,
) -> Result<WorkspaceDiagnosticReportResult> {
    let previous = params.previous_result_ids.into_iter();
    let mut previous: BTreeMap<Url, String> = previous.map(|id| (id.uri, id.value)).collect();
    let mut items = Vec::new();
    for area in &snapshot.areas {
        let mut spoken_of = BTreeSet::new();
        for source in area.farm.sources() {
            if !cancel.is_wanted() {
                break;
            }
            spoken_of.extend(found(snapshot, area, source.name(), cancel));
        }
        spoken_of.extend(
            area.farm
                .sources()
                .iter()
                .map(|source| source.name().to_owned()),
        );
        let reports = area.reports.lock().unwrap_or_else(PoisonError::into_inner);
        for name in spoken_of {
            let Some(uri) = area.uri_of(&name) else {
                continue;
            };
            let known = previous.remove(&uri);
            let shown = reports.shown(&name);
            if shown.is_empty() && known.is_none() {
                continue;
            }
            items.push(item(snapshot, uri, shown, known));
        }
    }
    // Texts that are gone.
    items.extend(
        previous
            .into_iter()
            .map(|(uri, known)| item(snapshot, uri, Vec::new(), Some(known))),
    );
    Ok(WorkspaceDiagnosticReportResult::Report(
        WorkspaceDiagnosticReport { items },
    ))
}

fn item(
    snapshot: &Snapshot,
    uri: Url,
    shown: Vec<crate::lsp::Diagnostic>,
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

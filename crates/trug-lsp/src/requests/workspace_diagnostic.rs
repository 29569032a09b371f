//! `workspace/diagnostic`: what is found in all texts, as far as the client does not have it.

use std::collections::BTreeMap;

use tower_lsp::jsonrpc::Result;

use crate::lsp::{
    Url, WorkspaceDiagnosticParams, WorkspaceDiagnosticReport, WorkspaceDiagnosticReportResult,
};
use crate::pulled::{Found, judged, of_one};
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
        let mut found = Found::new();
        for source in area.farm.sources() {
            if !cancel.is_wanted() {
                break;
            }
            found.entry(source.name().to_owned()).or_default();
            judged(snapshot, area, source.name(), &mut found);
        }
        for (name, shown) in found {
            let Some(uri) = area.uri_of(&name) else {
                continue;
            };
            let known = previous.remove(&uri);
            if shown.is_empty() && known.is_none() {
                continue;
            }
            items.push(of_one(snapshot, uri, shown, known));
        }
    }
    // Texts that are gone.
    items.extend(
        previous
            .into_iter()
            .map(|(uri, known)| of_one(snapshot, uri, Vec::new(), Some(known))),
    );
    Ok(WorkspaceDiagnosticReportResult::Report(
        WorkspaceDiagnosticReport { items },
    ))
}

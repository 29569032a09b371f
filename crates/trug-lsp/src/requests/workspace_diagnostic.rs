//! `workspace/diagnostic`: what is found in all texts, as far as the client does not have it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::PoisonError;

use tower_lsp::jsonrpc::Result;

use crate::lsp::{
    Url, WorkspaceDiagnosticParams, WorkspaceDiagnosticReport, WorkspaceDiagnosticReportResult,
};
use crate::pulled::{found, of_one};
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

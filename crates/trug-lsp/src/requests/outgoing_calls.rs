//! `callHierarchy/outgoingCalls`

use tower_lsp::jsonrpc::Result;
use trug_ide::Taking;

use crate::lsp::{CallHierarchyOutgoingCall, CallHierarchyOutgoingCallsParams};
use crate::snapshot::{Cancel, Snapshot};
use crate::takings::{item, ranges, takings};

/// What it takes.
pub(crate) fn outgoing(
    snapshot: &Snapshot,
    params: CallHierarchyOutgoingCallsParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<CallHierarchyOutgoingCall>>> {
    Ok(
        takings(snapshot, &params.item, trug_ide::taken_by).map(|(text, takings)| {
            let call = |taking: Taking| {
                let from_ranges = ranges(&text, text.file, &taking.lines);
                let to = item(taking.who, &text)?;
                Some(CallHierarchyOutgoingCall { to, from_ranges })
            };
            takings.into_iter().filter_map(call).collect()
        }),
    )
}

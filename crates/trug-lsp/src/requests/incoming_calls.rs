//! `callHierarchy/incomingCalls`

use tower_lsp::jsonrpc::Result;
use trug_ide::Taking;

use crate::lsp::{CallHierarchyIncomingCall, CallHierarchyIncomingCallsParams};
use crate::snapshot::{Cancel, Snapshot};
use crate::takings::{item, ranges, takings};

/// What takes it.
pub(crate) fn incoming(
    snapshot: &Snapshot,
    params: CallHierarchyIncomingCallsParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<CallHierarchyIncomingCall>>> {
    Ok(
        takings(snapshot, &params.item, trug_ide::takers_of).map(|(text, takings)| {
            let call = |taking: Taking| {
                let from_ranges = ranges(&text, taking.who.place.file, &taking.lines);
                let from = item(taking.who, &text)?;
                Some(CallHierarchyIncomingCall { from, from_ranges })
            };
            takings.into_iter().filter_map(call).collect()
        }),
    )
}

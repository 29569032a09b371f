//! `textDocument/prepareCallHierarchy`

use tower_lsp::jsonrpc::Result;

use crate::lsp::{CallHierarchyItem, CallHierarchyPrepareParams};
use crate::snapshot::{Cancel, Snapshot};
use crate::takings::item;

/// The item under the cursor.
pub(crate) fn prepare(
    snapshot: &Snapshot,
    params: CallHierarchyPrepareParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<CallHierarchyItem>>> {
    let at = params.text_document_position_params;
    let Some(text) = snapshot.text(&at.text_document.uri) else {
        return Ok(None);
    };
    let taker = trug_ide::taker_at(text.farm(), text.file, text.offset(at.position));
    Ok(taker.and_then(|taker| Some(vec![item(taker, &text)?])))
}

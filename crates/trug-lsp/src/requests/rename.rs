//! `textDocument/prepareRename` and `textDocument/rename`

use tower_lsp::jsonrpc::Result;

use crate::convert::{refusal, workspace_edit};
use crate::lsp::{PrepareRenameResponse, RenameParams, TextDocumentPositionParams, WorkspaceEdit};
use crate::snapshot::{Cancel, Snapshot};

/// The name that would be changed; a refusal says why it cannot be.
pub(crate) fn prepare(
    snapshot: &Snapshot,
    at: TextDocumentPositionParams,
    _: &Cancel<'_>,
) -> Result<Option<PrepareRenameResponse>> {
    let Some(text) = snapshot.text(&at.text_document.uri) else {
        return Ok(None);
    };
    let named = trug_ide::prepare_rename(text.farm(), text.file, text.offset(at.position));
    let named = named.map_err(|why| refusal(why.says))?;
    Ok(Some(PrepareRenameResponse::RangeWithPlaceholder {
        range: text.range(named.span),
        placeholder: named.text.to_string(),
    }))
}

/// The edits, in every text whose reading holds the item.
pub(crate) fn rename(
    snapshot: &Snapshot,
    params: RenameParams,
    _: &Cancel<'_>,
) -> Result<Option<WorkspaceEdit>> {
    let at = params.text_document_position;
    let Some(text) = snapshot.text(&at.text_document.uri) else {
        return Ok(None);
    };
    let offset = text.offset(at.position);
    let edits = trug_ide::rename(text.farm(), text.file, offset, &params.new_name);
    let edits = edits.map_err(|why| refusal(why.says))?;
    Ok(Some(workspace_edit(snapshot, &text, &edits)))
}

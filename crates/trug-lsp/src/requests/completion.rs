//! `textDocument/completion`

use tower_lsp::jsonrpc::Result;

use crate::candidates::item;
use crate::lsp::{CompletionList, CompletionParams, CompletionResponse};
use crate::snapshot::{Cancel, Snapshot};

/// What can be written at the cursor.
pub(crate) fn completion(
    snapshot: &Snapshot,
    params: CompletionParams,
    _: &Cancel<'_>,
) -> Result<Option<CompletionResponse>> {
    let at = params.text_document_position;
    let uri = &at.text_document.uri;
    let Some(text) = snapshot.text(uri) else {
        return Ok(None);
    };
    let completion = trug_ide::completion(text.farm(), text.file, text.offset(at.position));
    let items = completion
        .candidates
        .into_iter()
        .map(|candidate| item(candidate, &text, uri));
    Ok(Some(CompletionResponse::List(CompletionList {
        is_incomplete: completion.is_incomplete,
        items: items.collect(),
    })))
}

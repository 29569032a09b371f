//! `textDocument/semanticTokens/range`

use tower_lsp::jsonrpc::Result;

use crate::legend::encoded;
use crate::lsp::{SemanticTokens, SemanticTokensRangeParams, SemanticTokensRangeResult};
use crate::snapshot::{Cancel, Snapshot};

/// The lines that are in view.
pub(crate) fn range(
    snapshot: &Snapshot,
    params: SemanticTokensRangeParams,
    _: &Cancel<'_>,
) -> Result<Option<SemanticTokensRangeResult>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let tokens = trug_ide::tokens(text.farm(), text.file, text.span(params.range));
    let data = encoded(&tokens, &text);
    Ok(Some(SemanticTokensRangeResult::Tokens(SemanticTokens {
        result_id: None,
        data,
    })))
}

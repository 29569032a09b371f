//! `textDocument/semanticTokens/full`

use tower_lsp::jsonrpc::Result;

use crate::legend::whole;
use crate::lsp::{SemanticTokensParams, SemanticTokensResult};
use crate::snapshot::{Cancel, Snapshot};

/// All of a text.
pub(crate) fn full(
    snapshot: &Snapshot,
    params: SemanticTokensParams,
    _: &Cancel<'_>,
) -> Result<Option<SemanticTokensResult>> {
    Ok(whole(snapshot, &params.text_document.uri).map(SemanticTokensResult::Tokens))
}

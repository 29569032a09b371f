//! `textDocument/semanticTokens/full/delta`

use std::sync::PoisonError;

use tower_lsp::jsonrpc::Result;

use crate::legend::{edits, whole};
use crate::lsp::{SemanticTokensDelta, SemanticTokensDeltaParams, SemanticTokensFullDeltaResult};
use crate::snapshot::{Cancel, Snapshot};

/// What changed since the tokens of that id; all where nobody remembers them.
pub(crate) fn delta(
    snapshot: &Snapshot,
    params: SemanticTokensDeltaParams,
    _: &Cancel<'_>,
) -> Result<Option<SemanticTokensFullDeltaResult>> {
    let uri = &params.text_document.uri;
    let known = {
        let known = snapshot
            .tokens
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        known
            .get(uri)
            .filter(|known| known.result_id.as_ref() == Some(&params.previous_result_id))
            .cloned()
    };
    let Some(now) = whole(snapshot, uri) else {
        return Ok(None);
    };
    Ok(Some(match known {
        Some(known) => SemanticTokensFullDeltaResult::TokensDelta(SemanticTokensDelta {
            result_id: now.result_id,
            edits: edits(&known.data, &now.data),
        }),
        None => SemanticTokensFullDeltaResult::Tokens(now),
    }))
}

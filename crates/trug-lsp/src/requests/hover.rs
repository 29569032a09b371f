//! `textDocument/hover`

use tower_lsp::jsonrpc::Result;

use crate::lsp::{Hover, HoverContents, HoverParams, MarkupContent, MarkupKind};
use crate::snapshot::{Cancel, Snapshot};

/// What there is to say about the thing under the cursor.
pub(crate) fn hover(
    snapshot: &Snapshot,
    params: HoverParams,
    _: &Cancel<'_>,
) -> Result<Option<Hover>> {
    let at = params.text_document_position_params;
    let Some(text) = snapshot.text(&at.text_document.uri) else {
        return Ok(None);
    };
    let hover = trug_ide::hover(text.farm(), text.file, text.offset(at.position));
    Ok(hover.map(|hover| Hover {
        contents: HoverContents::Markup(MarkupContent {
            kind: MarkupKind::Markdown,
            value: hover.markdown,
        }),
        range: Some(text.range(hover.span)),
    }))
}

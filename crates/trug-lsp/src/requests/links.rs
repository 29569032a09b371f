//! `textDocument/documentLink`

use tower_lsp::jsonrpc::Result;

use crate::lsp::{DocumentLink, DocumentLinkParams};
use crate::snapshot::{Cancel, Snapshot};

/// The texts that are used, at the paths that name them.
pub(crate) fn links(
    snapshot: &Snapshot,
    params: DocumentLinkParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<DocumentLink>>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let links = trug_ide::links(text.farm(), text.file);
    let drawn = links.into_iter().map(|link| DocumentLink {
        range: text.range(link.span),
        target: text.uri(link.target),
        tooltip: None,
        data: None,
    });
    Ok(Some(drawn.collect()))
}

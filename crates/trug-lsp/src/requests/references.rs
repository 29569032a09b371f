//! `textDocument/references` and `textDocument/documentHighlight`

use tower_lsp::jsonrpc::Result;
use trug_ide::Role;

use crate::lsp::{
    DocumentHighlight, DocumentHighlightKind, DocumentHighlightParams, Location, ReferenceParams,
};
use crate::snapshot::{Cancel, Snapshot};

/// Everywhere that what is under the cursor is named.
pub(crate) fn references(
    snapshot: &Snapshot,
    params: ReferenceParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<Location>>> {
    let at = params.text_document_position;
    let Some(text) = snapshot.text(&at.text_document.uri) else {
        return Ok(None);
    };
    let offset = text.offset(at.position);
    let declared = params.context.include_declaration;
    let places = trug_ide::references(text.farm(), text.file, offset, declared);
    Ok(Some(
        places
            .into_iter()
            .filter_map(|place| text.location(place))
            .collect(),
    ))
}

/// The same in this text.
pub(crate) fn highlights(
    snapshot: &Snapshot,
    params: DocumentHighlightParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<DocumentHighlight>>> {
    let at = params.text_document_position_params;
    let Some(text) = snapshot.text(&at.text_document.uri) else {
        return Ok(None);
    };
    let highlights = trug_ide::highlights(text.farm(), text.file, text.offset(at.position));
    let drawn = highlights.into_iter().map(|highlight| DocumentHighlight {
        range: text.range(highlight.span),
        kind: Some(match highlight.role {
            Role::Declares => DocumentHighlightKind::WRITE,
            Role::Uses => DocumentHighlightKind::READ,
        }),
    });
    Ok(Some(drawn.collect()))
}

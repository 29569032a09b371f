//! `textDocument/documentSymbol`

use tower_lsp::jsonrpc::Result;
use trug_findings::Place;
use trug_ide::FoundSymbol;

use crate::lsp::{DocumentSymbolParams, DocumentSymbolResponse};
use crate::snapshot::{Cancel, Snapshot};
use crate::symbols::{flat, tree};

/// The items of a text, with their lines.
pub(crate) fn of_document(
    snapshot: &Snapshot,
    params: DocumentSymbolParams,
    _: &Cancel<'_>,
) -> Result<Option<DocumentSymbolResponse>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let symbols = trug_ide::document_symbols(text.farm(), text.file);
    if snapshot.eye.abilities.has_symbol_trees {
        let trees = symbols.into_iter().map(|symbol| tree(symbol, &text));
        return Ok(Some(DocumentSymbolResponse::Nested(trees.collect())));
    }
    let found = symbols.into_iter().map(|symbol| FoundSymbol {
        place: Place::new(text.file, symbol.whole),
        label: symbol.detail,
        kind: symbol.kind,
        name: symbol.name,
    });
    Ok(Some(DocumentSymbolResponse::Flat(
        found.filter_map(|found| flat(found, &text)).collect(),
    )))
}

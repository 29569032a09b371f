//! `textDocument/documentSymbol` and `workspace/symbol`

use tower_lsp::jsonrpc::Result;
use trug_findings::{FileId, Place};
use trug_ide::{FoundSymbol, Symbol};

use crate::convert::symbol_kind;
use crate::lsp::{
    DocumentSymbol, DocumentSymbolParams, DocumentSymbolResponse, SymbolInformation,
    WorkspaceSymbolParams,
};
use crate::snapshot::{Cancel, Snapshot, Text};

/// Nobody reads more.
const MOST: usize = 256;

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

/// The items of all texts whose name or label is like what was typed.
pub(crate) fn of_all(
    snapshot: &Snapshot,
    params: WorkspaceSymbolParams,
    cancel: &Cancel<'_>,
) -> Result<Option<Vec<SymbolInformation>>> {
    let mut symbols = Vec::new();
    for area in snapshot.areas.iter().filter(|_| cancel.is_wanted()) {
        let text = Text::of(&snapshot.eye, area, FileId::default());
        let found = trug_ide::workspace_symbols(&area.farm, &params.query, MOST);
        symbols.extend(found.into_iter().filter_map(|found| flat(found, &text)));
    }
    symbols.truncate(MOST);
    Ok(Some(symbols))
}

#[expect(
    deprecated,
    reason = "the type has a field for it, which is left empty"
)]
fn flat(found: FoundSymbol, text: &Text<'_>) -> Option<SymbolInformation> {
    Some(SymbolInformation {
        name: found.name,
        kind: symbol_kind(found.kind),
        tags: None,
        deprecated: None,
        location: text.location(found.place)?,
        container_name: Some(found.label).filter(|label| !label.is_empty()),
    })
}

#[expect(
    deprecated,
    reason = "the type has a field for it, which is left empty"
)]
fn tree(symbol: Symbol, text: &Text<'_>) -> DocumentSymbol {
    let lines = symbol.lines.into_iter().map(|line| tree(line, text));
    let lines: Vec<DocumentSymbol> = lines.collect();
    DocumentSymbol {
        name: symbol.name,
        detail: Some(symbol.detail).filter(|detail| !detail.is_empty()),
        kind: symbol_kind(symbol.kind),
        tags: None,
        deprecated: None,
        range: text.range(symbol.whole),
        selection_range: text.range(symbol.span),
        children: Some(lines).filter(|lines| !lines.is_empty()),
    }
}

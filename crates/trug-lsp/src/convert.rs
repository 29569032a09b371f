//! Edits and kinds in the protocol's words, as several requests need them.

use std::collections::BTreeMap;

use tower_lsp::jsonrpc::{Error, ErrorCode};
use trug_findings::Edit;
use trug_ide::SymbolKind as Kind;

use crate::lsp::{
    DocumentChanges, OneOf, OptionalVersionedTextDocumentIdentifier, SymbolKind, TextDocumentEdit,
    TextEdit, Url, WorkspaceEdit,
};
use crate::snapshot::{Snapshot, Text};

/// Edits of any texts of one farm.
pub(crate) fn workspace_edit(
    snapshot: &Snapshot,
    text: &Text<'_>,
    edits: &[Edit],
) -> WorkspaceEdit {
    let mut by_text: BTreeMap<Url, Vec<TextEdit>> = BTreeMap::new();
    for edit in edits {
        if let Some(uri) = text.uri(edit.place.file) {
            let range = text.range_in(edit.place);
            by_text
                .entry(uri)
                .or_default()
                .push(TextEdit::new(range, edit.text.clone()));
        }
    }
    joined(snapshot, by_text)
}

/// Edits in the form the client knows: with the versions they are made for, where it can hold to them.
pub(crate) fn joined(snapshot: &Snapshot, by_text: BTreeMap<Url, Vec<TextEdit>>) -> WorkspaceEdit {
    if !snapshot.eye.abilities.has_versioned_edits {
        return WorkspaceEdit::new(by_text.into_iter().collect());
    }
    let versioned = by_text.into_iter().map(|(uri, edits)| TextDocumentEdit {
        text_document: OptionalVersionedTextDocumentIdentifier {
            version: snapshot
                .documents
                .get(&uri)
                .map(|document| document.version),
            uri,
        },
        edits: edits.into_iter().map(OneOf::Left).collect(),
    });
    WorkspaceEdit {
        document_changes: Some(DocumentChanges::Edits(versioned.collect())),
        ..WorkspaceEdit::default()
    }
}

/// What cannot be done, in a sentence for the user.
pub(crate) fn refusal(says: String) -> Error {
    Error {
        // RequestFailed of LSP 3.17.
        code: ErrorCode::ServerError(-32803),
        message: says.into(),
        data: None,
    }
}

/// The nearest of the protocol's kinds.
pub(crate) fn symbol_kind(kind: Kind) -> SymbolKind {
    match kind {
        Kind::Use => SymbolKind::MODULE,
        Kind::Unit | Kind::Rate => SymbolKind::CONSTANT,
        Kind::Animal | Kind::Group => SymbolKind::CLASS,
        Kind::Nutrient => SymbolKind::PROPERTY,
        Kind::Ingredient => SymbolKind::OBJECT,
        Kind::Lot => SymbolKind::ENUM_MEMBER,
        Kind::Targets => SymbolKind::INTERFACE,
        Kind::Ration => SymbolKind::FUNCTION,
        Kind::Scale | Kind::Vessel => SymbolKind::STRUCT,
        Kind::Method => SymbolKind::METHOD,
        Kind::Record => SymbolKind::EVENT,
        Kind::Unread => SymbolKind::NULL,
        Kind::Line => SymbolKind::FIELD,
    }
}

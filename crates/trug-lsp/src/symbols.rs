//! The items of texts, in the protocol's words.

use trug_ide::{FoundSymbol, Symbol, SymbolKind as Kind};

use crate::lsp::{DocumentSymbol, SymbolInformation, SymbolKind};
use crate::snapshot::Text;

/// An item, as clients know it that know no trees, or look through all texts.
#[expect(
    deprecated,
    reason = "the type has a field for it, which is left empty"
)]
pub(crate) fn flat(found: FoundSymbol, text: &Text<'_>) -> Option<SymbolInformation> {
    Some(SymbolInformation {
        name: found.name,
        kind: symbol_kind(found.kind),
        tags: None,
        deprecated: None,
        location: text.location(found.place)?,
        container_name: Some(found.label).filter(|label| !label.is_empty()),
    })
}

/// An item with its lines.
#[expect(
    deprecated,
    reason = "the type has a field for it, which is left empty"
)]
pub(crate) fn tree(symbol: Symbol, text: &Text<'_>) -> DocumentSymbol {
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

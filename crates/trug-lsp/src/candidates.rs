//! What can be written, in the protocol's words.

use serde::{Deserialize, Serialize};
use trug_ide::{Candidate, CandidateKind};

use crate::lsp::{
    CompletionItem, CompletionItemKind, CompletionTextEdit, InsertTextFormat, TextEdit, Url,
};
use crate::snapshot::Text;
use crate::snippet::without_places;

/// By what a candidate is known again.
#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct Known {
    pub(crate) uri: Url,
    pub(crate) about: String,
}

/// A candidate.
pub(crate) fn item(candidate: Candidate, text: &Text<'_>, uri: &Url) -> CompletionItem {
    let is_snippet = candidate.is_snippet && text.eye.abilities.has_snippets;
    let insert = if candidate.is_snippet && !is_snippet {
        without_places(&candidate.insert)
    } else {
        candidate.insert
    };
    let known = candidate.about.map(|about| Known {
        uri: uri.clone(),
        about,
    });
    CompletionItem {
        label: candidate.label,
        kind: Some(kind(candidate.kind)),
        detail: Some(candidate.detail).filter(|detail| !detail.is_empty()),
        sort_text: Some(candidate.sort),
        filter_text: Some(candidate.filter),
        insert_text_format: is_snippet.then_some(InsertTextFormat::SNIPPET),
        text_edit: Some(CompletionTextEdit::Edit(TextEdit::new(
            text.range(candidate.span),
            insert,
        ))),
        data: known.and_then(|known| serde_json::to_value(known).ok()),
        ..CompletionItem::default()
    }
}

/// The nearest of the protocol's kinds.
fn kind(kind: CandidateKind) -> CompletionItemKind {
    use CandidateKind as Kind;
    match kind {
        Kind::ItemWord | Kind::Word => CompletionItemKind::KEYWORD,
        Kind::LineWord | Kind::Nutrient => CompletionItemKind::PROPERTY,
        Kind::Ingredient => CompletionItemKind::VARIABLE,
        Kind::Ration => CompletionItemKind::FUNCTION,
        Kind::Animal | Kind::Group => CompletionItemKind::CLASS,
        Kind::Targets => CompletionItemKind::INTERFACE,
        Kind::Lot => CompletionItemKind::ENUM_MEMBER,
        Kind::Method => CompletionItemKind::METHOD,
        Kind::Vessel | Kind::Scale => CompletionItemKind::STRUCT,
        Kind::Record => CompletionItemKind::EVENT,
        Kind::Measure | Kind::Unit => CompletionItemKind::UNIT,
        Kind::Amount | Kind::Day => CompletionItemKind::VALUE,
        Kind::Code => CompletionItemKind::CONSTANT,
        Kind::Text => CompletionItemKind::FILE,
        Kind::Book => CompletionItemKind::MODULE,
        Kind::Snippet => CompletionItemKind::SNIPPET,
    }
}

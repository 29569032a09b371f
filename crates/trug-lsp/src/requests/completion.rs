//! `textDocument/completion` and `completionItem/resolve`

use serde::{Deserialize, Serialize};
use tower_lsp::jsonrpc::Result;
use trug_ide::{Candidate, CandidateKind};

use crate::lsp::{
    CompletionItem, CompletionItemKind, CompletionList, CompletionParams, CompletionResponse,
    CompletionTextEdit, Documentation, InsertTextFormat, MarkupContent, MarkupKind, TextEdit, Url,
};
use crate::snapshot::{Cancel, Snapshot, Text};
use crate::snippet::without_places;

/// By what a candidate is known again.
#[derive(Debug, Serialize, Deserialize)]
struct Known {
    uri: Url,
    about: String,
}

/// What can be written at the cursor.
pub(crate) fn completion(
    snapshot: &Snapshot,
    params: CompletionParams,
    _: &Cancel<'_>,
) -> Result<Option<CompletionResponse>> {
    let at = params.text_document_position;
    let uri = &at.text_document.uri;
    let Some(text) = snapshot.text(uri) else {
        return Ok(None);
    };
    let completion = trug_ide::completion(text.farm(), text.file, text.offset(at.position));
    let items = completion
        .candidates
        .into_iter()
        .map(|candidate| item(candidate, &text, uri));
    Ok(Some(CompletionResponse::List(CompletionList {
        is_incomplete: completion.is_incomplete,
        items: items.collect(),
    })))
}

/// What there is to say about a candidate.
pub(crate) fn resolve(
    snapshot: &Snapshot,
    mut item: CompletionItem,
    _: &Cancel<'_>,
) -> Result<CompletionItem> {
    let known: Option<Known> = item
        .data
        .clone()
        .and_then(|data| serde_json::from_value(data).ok());
    if let Some(known) = known
        && let Some(text) = snapshot.text(&known.uri)
    {
        let about = trug_ide::resolve(text.farm(), text.file, &known.about);
        item.documentation = about.map(|value| {
            let kind = MarkupKind::Markdown;
            Documentation::MarkupContent(MarkupContent { kind, value })
        });
    }
    Ok(item)
}

fn item(candidate: Candidate, text: &Text<'_>, uri: &Url) -> CompletionItem {
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

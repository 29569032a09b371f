//! `completionItem/resolve`

use tower_lsp::jsonrpc::Result;

use crate::candidates::Known;
use crate::lsp::{CompletionItem, Documentation, MarkupContent, MarkupKind};
use crate::snapshot::{Cancel, Snapshot};

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

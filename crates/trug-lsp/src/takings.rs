//! What takes what, in the protocol's words, which are those of calls.

use trug_findings::{FileId, Place, Span};
use trug_ide::{Taker, Taking};
use trug_model::Farm;

use crate::lsp::{CallHierarchyItem, Range};
use crate::snapshot::{Snapshot, Text};
use crate::symbols::symbol_kind;

/// What is found about an item that the client names.
pub(crate) fn takings<'a>(
    snapshot: &'a Snapshot,
    item: &CallHierarchyItem,
    find: fn(&Farm, FileId, usize) -> Vec<Taking>,
) -> Option<(Text<'a>, Vec<Taking>)> {
    let text = snapshot.text(&item.uri)?;
    let found = find(
        text.farm(),
        text.file,
        text.offset(item.selection_range.start),
    );
    Some((text, found))
}

/// Spans of one text.
pub(crate) fn ranges(text: &Text<'_>, file: FileId, spans: &[Span]) -> Vec<Range> {
    spans
        .iter()
        .map(|span| text.range_in(Place::new(file, *span)))
        .collect()
}

/// An item, as it is named again in the next question.
pub(crate) fn item(taker: Taker, text: &Text<'_>) -> Option<CallHierarchyItem> {
    let file = taker.place.file;
    Some(CallHierarchyItem {
        name: taker.name,
        kind: symbol_kind(taker.kind),
        tags: None,
        detail: Some(taker.label).filter(|label| !label.is_empty()),
        uri: text.uri(file)?,
        range: text.range_in(Place::new(file, taker.whole)),
        selection_range: text.range_in(taker.place),
        data: None,
    })
}

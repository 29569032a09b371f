//! `textDocument/prepareCallHierarchy`, `callHierarchy/incomingCalls` and `callHierarchy/outgoingCalls`

use tower_lsp::jsonrpc::Result;
use trug_findings::{FileId, Place, Span};
use trug_ide::{Taker, Taking};
use trug_model::Farm;

use crate::convert::symbol_kind;
use crate::lsp::*;
use crate::snapshot::{Cancel, Snapshot, Text};

/// The item under the cursor.
pub(crate) fn prepare(
    snapshot: &Snapshot,
    params: CallHierarchyPrepareParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<CallHierarchyItem>>> {
    let at = params.text_document_position_params;
    let Some(text) = snapshot.text(&at.text_document.uri) else {
        return Ok(None);
    };
    let taker = trug_ide::taker_at(text.farm(), text.file, text.offset(at.position));
    Ok(taker.and_then(|taker| Some(vec![item(taker, &text)?])))
}

/// What takes it.
pub(crate) fn incoming(
    snapshot: &Snapshot,
    params: CallHierarchyIncomingCallsParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<CallHierarchyIncomingCall>>> {
    Ok(
        takings(snapshot, &params.item, trug_ide::takers_of).map(|(text, takings)| {
            let call = |taking: Taking| {
                let from_ranges = ranges(&text, taking.who.place.file, &taking.lines);
                let from = item(taking.who, &text)?;
                Some(CallHierarchyIncomingCall { from, from_ranges })
            };
            takings.into_iter().filter_map(call).collect()
        }),
    )
}

/// What it takes.
pub(crate) fn outgoing(
    snapshot: &Snapshot,
    params: CallHierarchyOutgoingCallsParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<CallHierarchyOutgoingCall>>> {
    Ok(
        takings(snapshot, &params.item, trug_ide::taken_by).map(|(text, takings)| {
            let call = |taking: Taking| {
                let from_ranges = ranges(&text, text.file, &taking.lines);
                let to = item(taking.who, &text)?;
                Some(CallHierarchyOutgoingCall { to, from_ranges })
            };
            takings.into_iter().filter_map(call).collect()
        }),
    )
}

fn takings<'a>(
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

fn ranges(text: &Text<'_>, file: FileId, spans: &[Span]) -> Vec<Range> {
    spans
        .iter()
        .map(|span| text.range_in(Place::new(file, *span)))
        .collect()
}

fn item(taker: Taker, text: &Text<'_>) -> Option<CallHierarchyItem> {
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

//! `textDocument/selectionRange`

use tower_lsp::jsonrpc::Result;
use trug_findings::Span;

use crate::lsp::{Position, Range, SelectionRange, SelectionRangeParams};
use crate::snapshot::{Cancel, Snapshot, Text};

/// From the word under each cursor to the whole text.
pub(crate) fn selections(
    snapshot: &Snapshot,
    params: SelectionRangeParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<SelectionRange>>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let at = |position: Position| {
        let spans = trug_ide::selections(text.farm(), text.file, text.offset(position));
        // One for each position is asked for, even in an empty text.
        nested(&spans, &text).unwrap_or(SelectionRange {
            range: Range::new(position, position),
            parent: None,
        })
    };
    Ok(Some(params.positions.into_iter().map(at).collect()))
}

fn nested(spans: &[Span], text: &Text<'_>) -> Option<SelectionRange> {
    let outermost_first = spans.iter().rev();
    outermost_first.fold(None, |parent, span| {
        let range = text.range(*span);
        let parent = parent.map(Box::new);
        Some(SelectionRange { range, parent })
    })
}

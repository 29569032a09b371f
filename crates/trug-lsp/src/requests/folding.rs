//! `textDocument/foldingRange` and `textDocument/selectionRange`

use tower_lsp::jsonrpc::Result;
use trug_findings::Span;
use trug_ide::{Fold, FoldKind};

use crate::lsp::{
    FoldingRange, FoldingRangeKind, FoldingRangeParams, Position, Range, SelectionRange,
    SelectionRangeParams,
};
use crate::snapshot::{Cancel, Snapshot, Text};

/// What can be folded away.
pub(crate) fn folds(
    snapshot: &Snapshot,
    params: FoldingRangeParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<FoldingRange>>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let folds = trug_ide::folds(text.farm(), text.file);
    Ok(Some(
        folds.into_iter().map(|fold| drawn(&fold, &text)).collect(),
    ))
}

fn drawn(fold: &Fold, text: &Text<'_>) -> FoldingRange {
    let range = text.range(fold.span);
    let has_letters = !text.eye.abilities.folds_lines_only;
    FoldingRange {
        start_line: range.start.line,
        start_character: has_letters.then_some(range.start.character),
        end_line: range.end.line,
        end_character: has_letters.then_some(range.end.character),
        kind: match fold.kind {
            FoldKind::Item => None,
            FoldKind::Comments => Some(FoldingRangeKind::Comment),
            FoldKind::Uses => Some(FoldingRangeKind::Imports),
        },
        collapsed_text: None,
    }
}

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

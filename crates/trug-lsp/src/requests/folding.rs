//! `textDocument/foldingRange`

use tower_lsp::jsonrpc::Result;
use trug_ide::{Fold, FoldKind};

use crate::lsp::{FoldingRange, FoldingRangeKind, FoldingRangeParams};
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

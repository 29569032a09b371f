//! `textDocument/formatting`, `rangeFormatting` and `onTypeFormatting`

use tower_lsp::jsonrpc::Result;
use trug_ide::{format, format_on_line_end, format_range};

use crate::lsp::{
    DocumentFormattingParams, DocumentOnTypeFormattingParams, DocumentRangeFormattingParams,
    TextEdit,
};
use crate::snapshot::{Cancel, Snapshot, Text};

/// All of a text.
pub(crate) fn whole(
    snapshot: &Snapshot,
    params: DocumentFormattingParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<TextEdit>>> {
    let text = snapshot.text(&params.text_document.uri);
    Ok(text.map(|text| drawn(format(text.farm(), text.file), &text)))
}

/// The lines of a range.
pub(crate) fn range(
    snapshot: &Snapshot,
    params: DocumentRangeFormattingParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<TextEdit>>> {
    let text = snapshot.text(&params.text_document.uri);
    Ok(text.map(|text| {
        let span = text.span(params.range);
        drawn(format_range(text.farm(), text.file, span), &text)
    }))
}

/// The line that was just left.
pub(crate) fn on_type(
    snapshot: &Snapshot,
    params: DocumentOnTypeFormattingParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<TextEdit>>> {
    let at = params.text_document_position;
    let text = snapshot
        .text(&at.text_document.uri)
        .filter(|_| params.ch == "\n");
    Ok(text.map(|text| {
        let offset = text.offset(at.position);
        drawn(format_on_line_end(text.farm(), text.file, offset), &text)
    }))
}

fn drawn(edits: Vec<trug_ide::TextEdit>, text: &Text<'_>) -> Vec<TextEdit> {
    let edit = |edit: trug_ide::TextEdit| TextEdit::new(text.range(edit.span), edit.text);
    edits.into_iter().map(edit).collect()
}

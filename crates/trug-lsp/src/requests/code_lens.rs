//! `textDocument/codeLens`

use serde_json::json;
use tower_lsp::jsonrpc::Result;
use trug_ide::LensKind;

use crate::lenses::{Known, command};
use crate::lsp::{CodeLens, CodeLensParams};
use crate::snapshot::{Cancel, Snapshot};

/// Where something can be shown of each ration and each group, above it. What has to be worked out first is said when it is asked for.
pub(crate) fn lenses(
    snapshot: &Snapshot,
    params: CodeLensParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<CodeLens>>> {
    let uri = params.text_document.uri;
    let Some(text) = snapshot.text(&uri) else {
        return Ok(None);
    };
    let drawn = trug_ide::lens_places(text.farm(), text.file)
        .into_iter()
        .map(|lens| {
            let known = Known::of(&uri, &lens);
            let is_whole = lens.kind == LensKind::Plan;
            CodeLens {
                range: text.range(lens.span),
                data: (!is_whole).then(|| json!(known)),
                command: is_whole.then(|| command(lens, &text)),
            }
        });
    Ok(Some(drawn.collect()))
}

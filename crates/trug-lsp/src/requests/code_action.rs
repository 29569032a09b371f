//! `textDocument/codeAction`

use tower_lsp::jsonrpc::Result;
use trug_ide::{actions, fix_all};

use crate::actions::{FIX_ALL, drawn, holds};
use crate::convert::workspace_edit;
use crate::lsp::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CodeActionResponse,
};
use crate::snapshot::{Cancel, Snapshot};

/// What can be done about the range.
pub(crate) fn code_actions(
    snapshot: &Snapshot,
    params: CodeActionParams,
    _: &Cancel<'_>,
) -> Result<Option<CodeActionResponse>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let findings = trug_record::check_file(text.farm(), text.file);
    let is_wanted = |kind: &CodeActionKind| match &params.context.only {
        Some(only) => only.iter().any(|wanted| holds(wanted, kind)),
        // Unasked, nothing is mended that is not under the cursor.
        None => *kind != FIX_ALL,
    };
    let found = actions(text.farm(), text.file, text.span(params.range), &findings);
    let drawn = found
        .iter()
        .map(|action| drawn(snapshot, &text, action, &findings));
    let mut drawn: Vec<CodeAction> = drawn.collect();
    let all = fix_all(text.farm(), text.file, &findings, None);
    if !all.is_empty() {
        drawn.push(CodeAction {
            title: "Mend all that can be mended surely".to_owned(),
            kind: Some(FIX_ALL),
            edit: Some(workspace_edit(snapshot, &text, &all)),
            ..CodeAction::default()
        });
    }
    let wanted = drawn
        .into_iter()
        .filter(|action| action.kind.as_ref().is_some_and(is_wanted));
    Ok(Some(wanted.map(CodeActionOrCommand::CodeAction).collect()))
}

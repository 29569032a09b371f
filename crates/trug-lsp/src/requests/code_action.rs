//! `textDocument/codeAction`

use tower_lsp::jsonrpc::Result;
use trug_findings::Finding;
use trug_ide::{Action, ActionKind, actions, fix_all};

use crate::convert::workspace_edit;
use crate::diagnostics::diagnostic;
use crate::lsp::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CodeActionResponse,
};
use crate::snapshot::{Cancel, Snapshot, Text};

/// What can be done about the range.
pub(crate) fn code_actions(
    snapshot: &Snapshot,
    params: CodeActionParams,
    _: &Cancel<'_>,
) -> Result<Option<CodeActionResponse>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let findings = text.farm().check_file(text.file);
    let is_wanted = |kind: &CodeActionKind| match &params.context.only {
        Some(only) => only.iter().any(|wanted| holds(wanted, kind)),
        // Unasked, nothing is mended that is not under the cursor.
        None => *kind != CodeActionKind::SOURCE_FIX_ALL,
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
            kind: Some(CodeActionKind::SOURCE_FIX_ALL),
            edit: Some(workspace_edit(snapshot, &text, &all)),
            ..CodeAction::default()
        });
    }
    let wanted = drawn
        .into_iter()
        .filter(|action| action.kind.as_ref().is_some_and(is_wanted));
    Ok(Some(wanted.map(CodeActionOrCommand::CodeAction).collect()))
}

/// A kind holds those below it: `source` holds `source.fixAll`.
fn holds(wanted: &CodeActionKind, kind: &CodeActionKind) -> bool {
    let rest = kind.as_str().strip_prefix(wanted.as_str());
    wanted.as_str().is_empty() || rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

fn drawn(
    snapshot: &Snapshot,
    text: &Text<'_>,
    action: &Action,
    findings: &[Finding],
) -> CodeAction {
    let mended = action.mends.iter().filter_map(|rank| findings.get(*rank));
    let mended: Vec<_> = mended.map(|finding| diagnostic(finding, text)).collect();
    CodeAction {
        title: action.title.clone(),
        kind: Some(match action.kind {
            ActionKind::Mend | ActionKind::MendAll => CodeActionKind::QUICKFIX,
            ActionKind::Rewrite => CodeActionKind::REFACTOR_REWRITE,
        }),
        diagnostics: Some(mended).filter(|mended| !mended.is_empty()),
        edit: Some(workspace_edit(snapshot, text, &action.edits)),
        is_preferred: (action.kind == ActionKind::Mend && action.is_sure).then_some(true),
        ..CodeAction::default()
    }
}

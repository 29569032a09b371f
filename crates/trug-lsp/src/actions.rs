//! What can be done about a range, in the protocol's words.

use trug_findings::Finding;
use trug_ide::{Action, ActionKind};

use crate::convert::workspace_edit;
use crate::diagnostics::diagnostic;
use crate::lsp::{CodeAction, CodeActionKind};
use crate::snapshot::{Snapshot, Text};

/// All that can be mended surely: what an editor may ask for whenever a text is saved.
pub(crate) const FIX_ALL: CodeActionKind = CodeActionKind::new("source.fixAll.trug");

/// A kind holds those below it: `source` holds `source.fixAll`.
pub(crate) fn holds(wanted: &CodeActionKind, kind: &CodeActionKind) -> bool {
    let rest = kind.as_str().strip_prefix(wanted.as_str());
    wanted.as_str().is_empty() || rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

/// An action, with the findings it mends.
pub(crate) fn drawn(
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

//! `workspace/symbol`

use tower_lsp::jsonrpc::Result;
use trug_findings::FileId;

use crate::lsp::{SymbolInformation, WorkspaceSymbolParams};
use crate::snapshot::{Cancel, Snapshot, Text};
use crate::symbols::flat;

/// Nobody reads more.
const MOST: usize = 256;

/// The items of all texts whose name or label is like what was typed.
pub(crate) fn of_all(
    snapshot: &Snapshot,
    params: WorkspaceSymbolParams,
    cancel: &Cancel<'_>,
) -> Result<Option<Vec<SymbolInformation>>> {
    let mut symbols = Vec::new();
    for area in snapshot.areas.iter().filter(|_| cancel.is_wanted()) {
        let text = Text::of(&snapshot.eye, area, FileId::default());
        let found = trug_ide::workspace_symbols(&area.farm, &params.query, MOST);
        symbols.extend(found.into_iter().filter_map(|found| flat(found, &text)));
    }
    symbols.truncate(MOST);
    Ok(Some(symbols))
}

//! `workspace/willRenameFiles`

use std::collections::BTreeMap;

use tower_lsp::jsonrpc::Result;
use trug_findings::FileId;
use trug_ide::{Move, mend_uses};

use crate::convert::joined;
use crate::lsp::{RenameFilesParams, TextEdit, Url, WorkspaceEdit};
use crate::naming;
use crate::snapshot::{AreaShot, Cancel, Snapshot, Text};

/// The edits that keep every `use` leading where it leads.
pub(crate) fn rename_files(
    snapshot: &Snapshot,
    params: RenameFilesParams,
    cancel: &Cancel<'_>,
) -> Result<Option<WorkspaceEdit>> {
    let mut by_text: BTreeMap<Url, Vec<TextEdit>> = BTreeMap::new();
    for area in &snapshot.areas {
        let name = |uri: &str| {
            let path = naming::path(&Url::parse(uri).ok()?)?;
            area.base.name_of(&snapshot.world.canonical(&path))
        };
        let moves = params.files.iter().filter_map(|file| {
            let from = name(&file.old_uri)?;
            Some(Move {
                from,
                to: name(&file.new_uri)?,
            })
        });
        let moves: Vec<Move> = moves.collect();
        if !moves.is_empty() && cancel.is_wanted() {
            mend(snapshot, area, &moves, &mut by_text);
        }
    }
    Ok(Some(joined(snapshot, by_text)).filter(|_| cancel.is_wanted()))
}

fn mend(
    snapshot: &Snapshot,
    area: &AreaShot,
    moves: &[Move],
    by_text: &mut BTreeMap<Url, Vec<TextEdit>>,
) {
    let text = Text::of(&snapshot.eye, area, FileId::default());
    for edit in mend_uses(&area.farm, moves) {
        if let Some(uri) = text.uri(edit.place.file) {
            let range = text.range_in(edit.place);
            by_text
                .entry(uri)
                .or_default()
                .push(TextEdit::new(range, edit.text));
        }
    }
}

//! `textDocument/definition` and `textDocument/typeDefinition`

use tower_lsp::jsonrpc::Result;
use trug_findings::FileId;
use trug_ide::Target;
use trug_model::Farm;

use crate::lsp::{GotoDefinitionParams, GotoDefinitionResponse, Location, LocationLink};
use crate::snapshot::{Cancel, Snapshot, Text};

/// Where what is under the cursor is declared.
pub(crate) fn definition(
    snapshot: &Snapshot,
    params: GotoDefinitionParams,
    _: &Cancel<'_>,
) -> Result<Option<GotoDefinitionResponse>> {
    Ok(go(snapshot, &params, trug_ide::definition))
}

/// Where what it is for is declared: the animal of a ration, the ingredient of a lot.
pub(crate) fn type_definition(
    snapshot: &Snapshot,
    params: GotoDefinitionParams,
    _: &Cancel<'_>,
) -> Result<Option<GotoDefinitionResponse>> {
    Ok(go(snapshot, &params, trug_ide::type_definition))
}

fn go(
    snapshot: &Snapshot,
    params: &GotoDefinitionParams,
    find: fn(&Farm, FileId, usize) -> Vec<Target>,
) -> Option<GotoDefinitionResponse> {
    let at = &params.text_document_position_params;
    let text = snapshot.text(&at.text_document.uri)?;
    let targets = find(text.farm(), text.file, text.offset(at.position));
    let targets = targets.iter();
    Some(if snapshot.eye.abilities.has_links {
        GotoDefinitionResponse::Link(targets.filter_map(|target| link(target, &text)).collect())
    } else {
        let locations: Vec<Location> = targets
            .filter_map(|target| text.location(target.to))
            .collect();
        GotoDefinitionResponse::Array(locations)
    })
}

fn link(target: &Target, text: &Text<'_>) -> Option<LocationLink> {
    Some(LocationLink {
        origin_selection_range: Some(text.range(target.from)),
        target_uri: text.uri(target.to.file)?,
        target_range: text.range_in(target.whole),
        target_selection_range: text.range_in(target.to),
    })
}

//! `textDocument/codeLens`

use serde_json::{Value, json};
use tower_lsp::jsonrpc::Result;
use trug_ide::Lens;

use crate::lsp::{CodeLens, CodeLensParams, Command, Location};
use crate::snapshot::{Cancel, Snapshot, Text};

/// What can be shown of each ration, above it.
pub(crate) fn lenses(
    snapshot: &Snapshot,
    params: CodeLensParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<CodeLens>>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let lenses = trug_ide::lenses(text.farm(), text.file);
    Ok(Some(
        lenses.into_iter().map(|lens| drawn(lens, &text)).collect(),
    ))
}

fn drawn(lens: Lens, text: &Text<'_>) -> CodeLens {
    let range = text.range(lens.span);
    let uri = text.uri(text.file);
    let ration = lens.command.arguments.last().cloned();
    // A lens that counts uses has the places to be shown; any other, the text and the ration.
    let arguments: Vec<Value> = if lens.places.is_empty() {
        vec![json!(uri), json!(ration)]
    } else {
        let places = lens.places.iter().filter_map(|place| text.location(*place));
        vec![
            json!(uri),
            json!(range.start),
            json!(places.collect::<Vec<Location>>()),
        ]
    };
    CodeLens {
        range,
        command: Some(Command {
            title: lens.title,
            command: lens.command.name.to_owned(),
            arguments: Some(arguments),
        }),
        data: None,
    }
}

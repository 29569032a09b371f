//! `codeLens/resolve`

use tower_lsp::jsonrpc::{Error, ErrorCode, Result};

use crate::lenses::{Known, command};
use crate::lsp::CodeLens;
use crate::snapshot::{Cancel, Snapshot};

/// What a lens says, and what it does.
pub(crate) fn resolve(snapshot: &Snapshot, lens: CodeLens, _: &Cancel<'_>) -> Result<CodeLens> {
    if lens.command.is_some() {
        return Ok(lens);
    }
    let known = lens
        .data
        .clone()
        .and_then(|data| serde_json::from_value::<Known>(data).ok())
        .ok_or_else(|| Error::invalid_params("this lens is none of trug's"))?;
    let text = snapshot.text(known.uri()).ok_or_else(gone)?;
    let place = trug_ide::lens_places(text.farm(), text.file)
        .into_iter()
        .find(|place| known.is_of(place))
        .ok_or_else(gone)?;
    let told = trug_ide::resolve_lens(text.farm(), text.file, place);
    Ok(CodeLens {
        command: Some(command(told, &text)),
        ..lens
    })
}

/// The text was edited since the lens was given: the client asks for lenses again.
fn gone() -> Error {
    Error {
        code: ErrorCode::ContentModified,
        message: "the ration is gone".into(),
        data: None,
    }
}

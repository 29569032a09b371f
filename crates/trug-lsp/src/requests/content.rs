//! `workspace/textDocumentContent`: what stands at an address of the scheme `trug`.

use serde::{Deserialize, Serialize};
use tower_lsp::jsonrpc::Result;

use crate::lsp::Url;
use crate::naming;
use crate::snapshot::{Cancel, Snapshot};

/// Which text is wanted.
#[derive(Debug, Deserialize)]
pub(crate) struct ContentParams {
    uri: Url,
}

/// The text.
#[derive(Debug, Serialize)]
pub(crate) struct Content {
    text: String,
}

/// A bundled book, or the page of a finding.
pub(crate) fn content(
    _: &Snapshot,
    params: ContentParams,
    _: &Cancel<'_>,
) -> Result<Option<Content>> {
    let book = naming::book_name(&params.uri).and_then(|name| trug_ide::texts::book(&name));
    let page = naming::why_code(&params.uri).and_then(trug_ide::texts::page);
    Ok(book.or(page).map(|text| Content {
        text: text.to_owned(),
    }))
}

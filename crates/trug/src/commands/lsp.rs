//! `trug lsp`: the language server, for editors.

use std::io::IsTerminal;
use std::sync::Arc;

use trug_lsp::Ended;

use crate::args::Lsp;
use crate::ending::{Ending, Failure};
use crate::outside::Outside;
use crate::refused::why;
use crate::setting::Setting;

/// Serves the editor that started the tool, until that goes.
pub(crate) fn lsp(_: &Lsp, setting: &Setting) -> Result<Ending, Failure> {
    if std::io::stdin().is_terminal() {
        return Err(Failure::new(
            "this is the language server: an editor starts it and talks to it over standard input and output",
        )
        .help("set up your editor to run `trug lsp`; to look through texts by hand, run `trug check`"));
    }
    let ended = trug_lsp::serve(Arc::new(Outside::of(setting)?)).map_err(|error| {
        Failure::new(format!(
            "the language server could not be started: {}",
            why(&error)
        ))
    })?;
    Ok(match ended {
        Ended::InOrder => Ending::Clean,
        Ended::Abandoned => Ending::Wanting,
    })
}

//! `textDocument/inlayHint`

use tower_lsp::jsonrpc::Result;
use trug_ide::{Hint, HintKinds};

use crate::lsp::{
    InlayHint, InlayHintLabel, InlayHintParams, InlayHintTooltip, MarkupContent, MarkupKind,
};
use crate::settings::Settings;
use crate::snapshot::{Cancel, Snapshot, Text};

/// Computed values behind the lines in view, those that are switched on.
pub(crate) fn hints(
    snapshot: &Snapshot,
    params: InlayHintParams,
    _: &Cancel<'_>,
) -> Result<Option<Vec<InlayHint>>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let wanted = wanted(&snapshot.eye.settings);
    let hints = trug_ide::hints(text.farm(), text.file, text.span(params.range), wanted);
    Ok(Some(
        hints.into_iter().map(|hint| drawn(hint, &text)).collect(),
    ))
}

fn wanted(settings: &Settings) -> HintKinds {
    let has = |name| settings.has_hint(name);
    HintKinds {
        mass: has("mass"),
        sum: has("sum"),
        nutrient: has("nutrient"),
        cost: has("cost"),
    }
}

fn drawn(hint: Hint, text: &Text<'_>) -> InlayHint {
    let tooltip = Some(hint.tooltip).filter(|tooltip| !tooltip.is_empty());
    InlayHint {
        position: text.position(hint.offset),
        label: InlayHintLabel::String(hint.label),
        kind: None,
        text_edits: None,
        tooltip: tooltip.map(|value| {
            let kind = MarkupKind::Markdown;
            InlayHintTooltip::MarkupContent(MarkupContent { kind, value })
        }),
        padding_left: Some(true),
        padding_right: None,
        data: None,
    }
}

//! `textDocument/semanticTokens`: of a whole text, of a range, and what changed since.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::PoisonError;

use tower_lsp::jsonrpc::Result;
use trug_findings::Span;

use crate::legend::encoded;
use crate::lsp::{
    SemanticToken, SemanticTokens, SemanticTokensDelta, SemanticTokensDeltaParams,
    SemanticTokensEdit, SemanticTokensFullDeltaResult, SemanticTokensParams,
    SemanticTokensRangeParams, SemanticTokensRangeResult, SemanticTokensResult, Url,
};
use crate::snapshot::{Cancel, Snapshot};

/// Units of the wire in a token.
const UNITS: u32 = 5;

/// All of a text.
pub(crate) fn full(
    snapshot: &Snapshot,
    params: SemanticTokensParams,
    _: &Cancel<'_>,
) -> Result<Option<SemanticTokensResult>> {
    Ok(whole(snapshot, &params.text_document.uri).map(SemanticTokensResult::Tokens))
}

/// What changed since the tokens of that id; all where nobody remembers them.
pub(crate) fn delta(
    snapshot: &Snapshot,
    params: SemanticTokensDeltaParams,
    _: &Cancel<'_>,
) -> Result<Option<SemanticTokensFullDeltaResult>> {
    let uri = &params.text_document.uri;
    let known = {
        let known = snapshot
            .tokens
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        known
            .get(uri)
            .filter(|known| known.result_id.as_ref() == Some(&params.previous_result_id))
            .cloned()
    };
    let Some(now) = whole(snapshot, uri) else {
        return Ok(None);
    };
    Ok(Some(match known {
        Some(known) => SemanticTokensFullDeltaResult::TokensDelta(SemanticTokensDelta {
            result_id: now.result_id,
            edits: edits(&known.data, &now.data),
        }),
        None => SemanticTokensFullDeltaResult::Tokens(now),
    }))
}

/// The lines that are in view.
pub(crate) fn range(
    snapshot: &Snapshot,
    params: SemanticTokensRangeParams,
    _: &Cancel<'_>,
) -> Result<Option<SemanticTokensRangeResult>> {
    let Some(text) = snapshot.text(&params.text_document.uri) else {
        return Ok(None);
    };
    let tokens = trug_ide::tokens(text.farm(), text.file, text.span(params.range));
    let data = encoded(&tokens, &text);
    Ok(Some(SemanticTokensRangeResult::Tokens(SemanticTokens {
        result_id: None,
        data,
    })))
}

fn whole(snapshot: &Snapshot, uri: &Url) -> Option<SemanticTokens> {
    let text = snapshot.text(uri)?;
    let all = Span::new(0, text.whole().len());
    let data = encoded(&trug_ide::tokens(text.farm(), text.file, all), &text);
    let mut hasher = DefaultHasher::new();
    data.iter()
        .for_each(|token| token.token_type.hash(&mut hasher));
    for token in &data {
        (
            token.delta_line,
            token.delta_start,
            token.length,
            token.token_modifiers_bitset,
        )
            .hash(&mut hasher);
    }
    let tokens = SemanticTokens {
        result_id: Some(format!("{:016x}", hasher.finish())),
        data,
    };
    let mut known = snapshot
        .tokens
        .lock()
        .unwrap_or_else(PoisonError::into_inner);
    if snapshot.documents.contains_key(uri) {
        known.insert(uri.clone(), tokens.clone());
    }
    Some(tokens)
}

/// One edit: what lies between what is the same at the head and at the tail.
fn edits(old: &[SemanticToken], new: &[SemanticToken]) -> Vec<SemanticTokensEdit> {
    let head = old
        .iter()
        .zip(new)
        .take_while(|(old, new)| old == new)
        .count();
    let (old, new) = (
        old.get(head..).unwrap_or_default(),
        new.get(head..).unwrap_or_default(),
    );
    let tail = old
        .iter()
        .rev()
        .zip(new.iter().rev())
        .take_while(|(old, new)| old == new)
        .count();
    let units = |tokens: usize| {
        u32::try_from(tokens)
            .unwrap_or(u32::MAX)
            .saturating_mul(UNITS)
    };
    let data = new.get(..new.len() - tail).unwrap_or_default().to_vec();
    if data.is_empty() && old.len() == tail {
        return Vec::new();
    }
    vec![SemanticTokensEdit {
        start: units(head),
        delete_count: units(old.len() - tail),
        data: Some(data),
    }]
}

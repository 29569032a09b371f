//! What of a text can be folded away: items with their lines, runs of comments, runs of `use`.

use trug_findings::{FileId, Span};
use trug_model::Farm;
use trug_syntax::tree::ItemBody;

/// A part of a text that can be folded away. It covers more than one line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fold {
    /// All of it, from the first line's first letter to the last line's last.
    pub span: Span,
    /// What it is.
    pub kind: FoldKind,
}

/// What can be folded away.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FoldKind {
    /// An item; its header stays to be seen.
    Item,
    /// Lines that are nothing but comments, one below the other.
    Comments,
    /// `use` lines, one below the other.
    Uses,
}

/// The folds of a text, in its order.
#[must_use]
pub fn folds(farm: &Farm, file: FileId) -> Vec<Fold> {
    let Some(source) = farm.sources().get(file.index()) else {
        return Vec::new();
    };
    if farm.is_table(file) {
        return Vec::new();
    }
    let text = source.text();
    let mut folds = Vec::new();
    let items = &farm.tree(file).items;
    for item in items {
        if is_long(item.whole, text) {
            folds.push(Fold {
                span: item.whole,
                kind: FoldKind::Item,
            });
        }
    }
    let is_use = |body: &ItemBody| matches!(body, ItemBody::Use(_));
    for run in items.chunk_by(|one, next| is_use(&one.body) && is_use(&next.body)) {
        if let [first, .., last] = run {
            folds.push(Fold {
                span: first.whole.to(last.whole),
                kind: FoldKind::Uses,
            });
        }
    }
    folds.extend(comments(text));
    folds.retain(|fold| is_long(fold.span, text));
    folds.sort();
    folds
}

fn is_long(span: Span, text: &str) -> bool {
    span.of(text).contains(['\n', '\r'])
}

/// Runs of comment lines.
fn comments(text: &str) -> Vec<Fold> {
    let mut runs = Vec::new();
    let mut run: Option<Span> = None;
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let said = line.trim_start_matches('\u{feff}').trim();
        if said.starts_with('#') {
            let start = at + line.find('#').unwrap_or(0);
            let span = Span::new(start, start + said.len());
            run = Some(run.map_or(span, |run| run.to(span)));
        } else {
            runs.extend(run.take());
        }
        at += line.len();
    }
    runs.extend(run);
    let fold = |span| Fold {
        span,
        kind: FoldKind::Comments,
    };
    runs.into_iter().map(fold).collect()
}

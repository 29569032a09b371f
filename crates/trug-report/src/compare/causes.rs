//! The reasons in words: `broken-rice: price 92 LKR/kg -> 95 LKR/kg, protein 8 % -> 7.4 %`.

use std::collections::BTreeMap;

use trug_compare::{Cause, CauseKind, FactChange};

/// A line for each item that changed; what came or went, a line for each kind.
pub(super) fn lines(causes: &[Cause], arrow: &str) -> Vec<String> {
    let is_changed = |cause: &&Cause| cause.file.before.is_some() && cause.file.after.is_some();
    let changed = causes.iter().filter(is_changed).map(|cause| {
        let changes = cause.changes.iter().map(|change| fact(change, arrow));
        let changes: Vec<String> = changes.collect();
        format!("{}: {}", called(cause), changes.join(", "))
    });
    let mut lines: Vec<String> = changed.collect();
    for is_new in [true, false] {
        let mut by_kind: BTreeMap<CauseKind, Vec<&str>> = BTreeMap::new();
        for cause in causes {
            let there = (cause.file.before.is_some(), cause.file.after.is_some());
            if there == (!is_new, is_new) {
                by_kind.entry(cause.kind).or_default().push(&cause.name);
            }
        }
        let word = if is_new { "new" } else { "gone" };
        for (kind, names) in by_kind {
            lines.push(format!("{word}, {}: {}", kind.word(), names.join(", ")));
        }
    }
    lines
}

/// An ingredient goes by its name; of anything else the kind is said.
fn called(cause: &Cause) -> String {
    match cause.kind {
        CauseKind::Ingredient => cause.name.clone(),
        kind => format!("{} {}", kind.word(), cause.name),
    }
}

/// One line of an item: `price 92 LKR/kg -> 95 LKR/kg`.
pub(super) fn fact(change: &FactChange, arrow: &str) -> String {
    let (before, after) = (change.says.before.as_ref(), change.says.after.as_ref());
    match (before, after) {
        (Some(one), Some(other)) => {
            let (one, other) = (one.apart(Some(other)), other.apart(Some(one)));
            format!("{} {one} {arrow} {other}", change.what)
        }
        (None, Some(other)) => format!("{} {} (new)", change.what, other.apart(None)),
        (Some(one), None) => format!("{} {} (gone)", change.what, one.apart(None)),
        (None, None) => change.what.clone(),
    }
}

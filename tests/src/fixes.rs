//! A text after the fixes that findings offer.

use trug_findings::{Edit, Finding};

/// The text of that number after the fix of that rank (from 1) of every finding that has one.
///
/// A fix that would touch what an earlier one has changed is left out.
#[must_use]
pub fn applied(text: &str, file: usize, findings: &[Finding], rank: usize) -> String {
    let mut edits: Vec<&Edit> = Vec::new();
    for finding in findings {
        let Some(fix) = finding.fixes.get(rank.saturating_sub(1)) else {
            continue;
        };
        let here = fix
            .edits
            .iter()
            .filter(|edit| edit.place.file.index() == file);
        let here: Vec<&Edit> = here.collect();
        let overlaps = |edit: &&Edit| edits.iter().any(|other| touch(edit, other));
        if !here.iter().any(overlaps) {
            edits.extend(here);
        }
    }
    joined(text, edits)
}

/// A text after edits none of which overlaps another.
#[must_use]
pub fn edited(text: &str, edits: &[Edit]) -> String {
    joined(text, edits.iter().collect())
}

fn joined(text: &str, mut edits: Vec<&Edit>) -> String {
    edits.sort_by_key(|edit| edit.place.span);
    let mut mended = String::new();
    let mut done = 0;
    for edit in edits {
        let range = edit.place.span.range();
        mended.push_str(text.get(done..range.start).unwrap_or(""));
        mended.push_str(&edit.text);
        done = range.end;
    }
    mended.push_str(text.get(done..).unwrap_or(""));
    mended
}

fn touch(one: &Edit, other: &Edit) -> bool {
    let (one, other) = (one.place.span, other.place.span);
    one.start < other.end && other.start < one.end || one == other
}

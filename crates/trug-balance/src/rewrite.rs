//! What writes chosen amounts into the text, touching nothing else.

use std::fmt::Write as _;
use std::ops::Range;

use trug_findings::{Edit, Place, Span};
use trug_model::choice::{Choice, OpenShare};
use trug_model::quantity;
use trug_model::ration::{Line, Ration};
use trug_model::{Q, View};

/// The edits that write these shares, in the order of the text.
///
/// `12 .. 24 %` becomes `17.3 % within 12 .. 24 %`. A line taken over from another ration gets a line of its own here.
pub(crate) fn edits(view: &View<'_>, ration: &Ration, choice: &Choice, shares: &[Q]) -> Vec<Edit> {
    let mut edits: Vec<Edit> = Vec::new();
    let mut own_lines = String::new();
    for (open, share) in choice.shares.iter().zip(shares) {
        let Some(line) = ration.lines.get(open.line) else {
            continue;
        };
        let Some(range) = line.chosen_within() else {
            continue;
        };
        if line.is_inherited {
            let (name, amount) = (&line.name, amount(range, share));
            // Writing to a string cannot fail.
            let _ = write!(
                own_lines,
                "\n  {name:<14} {amount} within {}{}",
                range.words(),
                left(line)
            );
        } else {
            edits.extend(of_line(view, open, line, range, share).unwrap_or_default());
        }
    }
    if !own_lines.is_empty() {
        edits.extend(at_the_end(view, ration, own_lines));
    }
    edits.sort_by_key(|edit| (edit.place.file, edit.place.span.start));
    edits
}

fn left(line: &Line) -> &'static str {
    if line.or_none { " or none" } else { "" }
}

/// A share in the unit of its range.
fn amount(range: &quantity::Range, share: &Q) -> String {
    let in_unit = range.unit.of(share);
    if in_unit.decimals_end() {
        range.unit.say_exactly(share)
    } else {
        format!("{} %", share * Q::int(100))
    }
}

fn of_line(
    view: &View<'_>,
    open: &OpenShare,
    line: &Line,
    range: &quantity::Range,
    share: &Q,
) -> Option<Vec<Edit>> {
    let source = view.farm().sources().get(open.written.file.index())?;
    let text = source.text();
    let written = text.get(open.written.span.range())?;
    let amount = amount(range, share);
    let new = if line.within.is_some() {
        amount
    } else {
        format!("{amount} within {written}")
    };
    if new == written {
        return None;
    }
    let longer = new.chars().count() as i64 - written.chars().count() as i64;
    let mut edits = vec![Edit {
        place: open.written,
        text: new,
    }];
    if let Some(blanks) = before_comment(text, open.written.span.range().end) {
        let wide = blanks.len();
        let kept = usize::try_from(wide as i64 - longer)
            .unwrap_or(0)
            .max(LEAST.min(wide));
        if kept != wide {
            edits.push(Edit {
                place: Place::new(open.written.file, Span::new(blanks.start, blanks.end)),
                text: " ".repeat(kept),
            });
        }
    }
    Some(edits)
}

/// Blanks that always stand before a comment.
const LEAST: usize = 2;

/// The blanks between what a line says and its comment, so that comments stay in their column.
fn before_comment(text: &str, from: usize) -> Option<Range<usize>> {
    let rest = text.get(from..)?;
    let line = rest.split(['\n', '\r']).next()?;
    let mut is_quoted = false;
    let hash = line.char_indices().find(|(_, character)| {
        is_quoted ^= *character == '"';
        *character == '#' && !is_quoted
    });
    let (hash, _) = hash?;
    let said = line.get(..hash)?;
    let trimmed = said.trim_end_matches(' ');
    // Tabs are left as they are.
    let is_blank = !trimmed.ends_with('\t') && trimmed.len() < said.len();
    is_blank.then(|| from + trimmed.len()..from + hash)
}

/// Lines of the ration's own, below its last one.
fn at_the_end(view: &View<'_>, ration: &Ration, lines: String) -> Option<Edit> {
    let named = view.farm().ration_named_at(ration.place)?;
    let source = view.farm().sources().get(ration.file.index())?;
    let item = source.text().get(named.item.range())?;
    let end = named.item.range().start + item.trim_end().len();
    let is_crlf = source.text().contains("\r\n");
    Some(Edit {
        place: Place::new(ration.file, Span::at(end)),
        text: if is_crlf {
            lines.replace('\n', "\r\n")
        } else {
            lines
        },
    })
}

//! Short facts set one after the other in as few lines as they need, none torn in two; one without a value gets a line
//! to write it on.

use crate::piece::{Piece, Shade};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, Span, bold, plain};
use trug_report::sheet::Fact;

/// Room to write a value by hand.
const BLANK: f32 = 90.0;

/// Sets each fact as a chunk: what it is plain, its value bold.
pub(crate) fn facts(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    facts: &[Fact],
    size: f32,
    width: f32,
) -> Piece {
    let mut piece = Piece::new();
    let between = size * 1.4;
    let (mut x, mut top, mut height) = (0.0_f32, 0.0_f32, 0.0_f32);
    for fact in facts {
        let spans = spans(fact);
        let natural = setter.widths(&spans, size).natural;
        let is_blank = fact.value.is_empty();
        let blank = if is_blank { BLANK } else { 0.0 };
        let takes = (natural + blank).min(width);
        if x > 0.0 && x + takes > width {
            (x, top, height) = (0.0, top + height, 0.0);
        }
        let paragraph = setter.set(&spans, size, Side::Left, takes - blank);
        let tag = tags.within(inside, Kind::Paragraph);
        piece.text(&paragraph, x, top, Shade::Black, Some(tag));
        if is_blank {
            let y = top + paragraph.last_baseline() + 1.0;
            piece.rule(x + takes - blank, y, blank, 0.7);
        }
        x += takes + between;
        height = height.max(paragraph.height());
        piece.height = top + height;
    }
    piece
}

fn spans(fact: &Fact) -> Vec<Span<'_>> {
    if fact.what.is_empty() {
        vec![bold(&fact.value)]
    } else {
        vec![plain(&fact.what), plain(" "), bold(&fact.value)]
    }
}

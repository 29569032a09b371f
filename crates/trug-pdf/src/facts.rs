//! Short facts set one after the other in as few lines as they need, none torn in two.

use crate::piece::{Piece, Shade};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, Span, bold, plain};
use trug_report::sheet::Fact;

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
        let takes = natural.min(width);
        if x > 0.0 && x + takes > width {
            (x, top, height) = (0.0, top + height, 0.0);
        }
        let paragraph = setter.set(&spans, size, Side::Left, takes);
        let tag = tags.within(inside, Kind::Paragraph);
        piece.text(&paragraph, x, top, Shade::Black, Some(tag));
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

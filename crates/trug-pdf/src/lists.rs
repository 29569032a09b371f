//! The parts that are sentences under a heading: totals, what was found, and what the tool says of itself.

use crate::form::Form;
use crate::piece::{Piece, Shade};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, bold, plain};
use trug_report::sheet::{Fact, Section, Totals};

/// A heading with its sentences.
pub(crate) fn section(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    section: &Section,
    form: &Form,
    width: f32,
) -> Piece {
    let heading = tags.within(inside, Kind::Heading);
    let set = setter.set(&[bold(&section.heading)], form.heading, Side::Start, width);
    let mut piece = Piece::paragraph(&set, 0.0, Some(heading));
    for line in &section.lines {
        piece.below(sentence(setter, tags, inside, line, form.note, width));
    }
    piece
}

/// A paragraph of fine print.
pub(crate) fn sentence(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    text: &str,
    size: f32,
    width: f32,
) -> Piece {
    let tag = tags.within(inside, Kind::Paragraph);
    let set = setter.set(&[plain(text)], size, Side::Start, width);
    Piece::paragraph(&set, 0.0, Some(tag))
}

/// What goes in: the list that adds up where there is room, else only what is weighed in parts and the sum.
pub(crate) fn totals(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    totals: &Totals,
    form: &Form,
    width: f32,
) -> Piece {
    let heading = tags.within(inside, Kind::Heading);
    let set = setter.set(&[bold(&totals.heading)], form.heading, Side::Start, width);
    let mut piece = Piece::paragraph(&set, 0.0, Some(heading));
    let element = tags.within(inside, Kind::Table);
    if form.lists_totals {
        for row in &totals.rows {
            piece.below(sum_row(setter, tags, element, row, form.note, width, false));
        }
        piece.rule(0.0, piece.height, width, 0.8);
    }
    let last = sum_row(
        setter,
        tags,
        element,
        &totals.together,
        form.note + 0.5,
        width,
        true,
    );
    piece.below(last);
    for line in &totals.in_parts {
        piece.below(sentence(setter, tags, inside, line, form.note, width));
    }
    piece
}

/// What it is at the left, how much at the right, on one base line.
fn sum_row(
    setter: &mut Setter,
    tags: &mut Tags,
    element: Tag,
    fact: &Fact,
    size: f32,
    width: f32,
    is_bold: bool,
) -> Piece {
    let row = tags.within(element, Kind::Row);
    let span = |text| if is_bold { bold(text) } else { plain(text) };
    let value = setter.set_unbroken(&[span(&fact.value)], size);
    let room = width - value.width() - size;
    let what = setter.set(&[span(&fact.what)], size, Side::Left, room);
    let baseline = what.first_baseline().max(value.first_baseline());
    let mut piece = Piece::new();
    let down = baseline - what.first_baseline();
    let tag = tags.within(row, Kind::Cell);
    piece.text(&what, 0.0, down, Shade::Black, Some(tag));
    piece.height = down + what.height();
    let down = baseline - value.first_baseline();
    let tag = tags.within(row, Kind::Cell);
    piece.text(&value, width - value.width(), down, Shade::Black, Some(tag));
    piece.height = piece.height.max(down + value.height());
    piece
}

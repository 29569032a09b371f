//! The label that is cut out and tied to the bag.

use crate::facts::facts;
use crate::form::Form;
use crate::head::warning;
use crate::piece::{Look, Piece, Shade};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, bold, plain};
use trug_report::sheet::Label;

/// Inside the edge along which it is cut.
const PAD: f32 = 6.0;

/// Draws the label in its dashes, with its heading above them.
pub(crate) fn label(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    label: &Label,
    form: &Form,
    width: f32,
) -> Piece {
    let aside = tags.within(inside, Kind::Aside);
    let heading = tags.within(aside, Kind::Heading);
    let spans = [plain("\u{2702} "), plain(&label.heading)];
    let set = setter.set(&spans, form.note, Side::Start, width);
    let mut piece = Piece::paragraph(&set, 0.0, Some(heading));
    let mut card = Piece::space(PAD);
    let room = width - 2.0 * PAD;
    let mut within = Piece::new();
    let tag = tags.within(aside, Kind::Paragraph);
    let set = setter.set(&[bold(&label.title)], form.title * 0.9, Side::Start, room);
    within.below(Piece::paragraph(&set, 0.0, Some(tag)));
    if let Some(alarm) = &label.alarm {
        within.below(alarmed(setter, tags, aside, alarm, form.title * 0.85, room));
    }
    within.below(facts(setter, tags, aside, &label.facts, form.fact, room));
    for line in &label.lines {
        let tag = tags.within(aside, Kind::Paragraph);
        within.below(warning(setter, Some(tag), line, form.caution, 0.0, room));
    }
    let height = within.height;
    card.beside(within, PAD, PAD);
    card.height = height + 2.0 * PAD;
    card.frame(0.5, 0.5, width - 1.0, card.height - 1.0, Look::Dashed(1.0));
    piece.below(card);
    piece
}

/// White on black, as wide as the label.
fn alarmed(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    alarm: &str,
    size: f32,
    width: f32,
) -> Piece {
    let tag = tags.within(inside, Kind::Paragraph);
    let pad = size * 0.3;
    let set = setter.set(&[bold(alarm)], size, Side::Middle, width - 2.0 * pad);
    let mut piece = Piece::space(set.height() + pad);
    piece.text(&set, pad, pad * 0.5, Shade::White, Some(tag));
    piece.frame_behind(0.0, width, Look::Filled(Shade::Black));
    piece.height += pad * 0.5;
    piece
}

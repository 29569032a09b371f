//! The head of a sheet: its title and facts, whether it is a draft, and what to beware of.

use crate::facts::facts;
use crate::form::Form;
use crate::piece::{Look, Piece, Shade};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, bold, plain};
use trug_report::sheet::{Draft, Section, Sheet};

/// Left free beside the title for the number of the page.
pub(crate) const NUMBER_WIDTH: f32 = 48.0;

/// All that stands above the table on the first page.
pub(crate) fn head(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    sheet: &Sheet,
    form: &Form,
    width: f32,
) -> Piece {
    let mut piece = title(setter, Some((tags, inside)), sheet, form, width);
    if !sheet.facts.is_empty() {
        let lines = facts(setter, tags, inside, &sheet.facts, form.fact, width);
        piece.below(lines);
    }
    if let Some(beware) = &sheet.beware {
        piece.below(Piece::space(form.gap * 0.5));
        piece.below(boxed(setter, tags, inside, beware, form, width));
    }
    piece
}

/// The title, the subtitle, and the word of a draft. On further pages it belongs to no element.
pub(crate) fn title(
    setter: &mut Setter,
    mut tags: Option<(&mut Tags, Tag)>,
    sheet: &Sheet,
    form: &Form,
    width: f32,
) -> Piece {
    let is_first = tags.is_some();
    let mut tag = |kind: Kind| {
        let (tags, inside) = tags.as_mut()?;
        Some(tags.within(*inside, kind))
    };
    let size = if is_first {
        form.title
    } else {
        form.title * 0.75
    };
    let set = setter.set(
        &[bold(&sheet.title)],
        size,
        Side::Start,
        width - NUMBER_WIDTH,
    );
    let mut piece = Piece::paragraph(&set, 0.0, tag(Kind::Title));
    if let Some(subtitle) = &sheet.subtitle {
        let small = form.fact + 1.0;
        let x = set.width() + size;
        let room = width - NUMBER_WIDTH - x;
        let natural = setter.widths(&[plain(subtitle)], small).natural;
        let is_beside = form.is_packed && !set.is_from_right() && natural <= room;
        let room = if is_beside { room } else { width };
        let under = setter.set(&[plain(subtitle)], small, Side::Start, room);
        let tag = tag(Kind::Paragraph);
        if is_beside {
            let down = set.last_baseline() - under.last_baseline();
            piece.beside(Piece::paragraph(&under, 0.0, tag), x, down);
        } else {
            piece.below(Piece::paragraph(&under, 0.0, tag));
        }
    }
    if let Some(draft) = &sheet.draft {
        piece.below(drafted(
            setter,
            tag(Kind::Paragraph),
            draft,
            form.fact + 1.0,
            width,
        ));
    }
    piece
}

/// That it is a draft, and why, white on black.
pub(crate) fn drafted(
    setter: &mut Setter,
    tag: Option<Tag>,
    draft: &Draft,
    size: f32,
    width: f32,
) -> Piece {
    let spans = [bold(&draft.word), plain("   "), bold(&draft.why)];
    let pad = size * 0.4;
    let set = setter.set(&spans, size, Side::Start, width - 2.0 * pad);
    let mut piece = Piece::space(set.height() + pad);
    piece.text(&set, pad, pad * 0.5, Shade::White, tag);
    piece.frame_behind(0.0, width, Look::Filled(Shade::Black));
    piece
}

/// What to beware of, in a box with a heavy edge.
fn boxed(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    section: &Section,
    form: &Form,
    width: f32,
) -> Piece {
    let pad = 4.0;
    let mut piece = Piece::space(pad);
    let aside = tags.within(inside, Kind::Aside);
    let heading = tags.within(aside, Kind::Heading);
    let set = setter.set(
        &[bold(&section.heading)],
        form.heading,
        Side::Start,
        width - 4.0 * pad,
    );
    let mut lines = Piece::new();
    // Beside its heading it takes a line less, and stays as plain to see.
    let beside = set.width() + form.heading;
    let is_beside = form.is_packed && !set.is_from_right() && beside < width * 0.25;
    let left = 2.0 * pad + if is_beside { beside } else { 0.0 };
    for line in &section.lines {
        let tag = tags.within(aside, Kind::Paragraph);
        let right = width - 2.0 * pad;
        lines.below(warning(setter, Some(tag), line, form.caution, left, right));
    }
    let heading = Piece::paragraph(&set, 2.0 * pad, Some(heading));
    let (from, high) = (piece.height, heading.height);
    piece.below(heading);
    piece.beside(lines, 0.0, if is_beside { from } else { from + high });
    piece.height += pad;
    piece.frame(1.0, 1.0, width - 2.0, piece.height - 2.0, Look::Edge(2.0));
    piece
}

/// A sentence behind a bold exclamation mark, its lines flush.
pub(crate) fn warning(
    setter: &mut Setter,
    tag: Option<Tag>,
    text: &str,
    size: f32,
    x: f32,
    right: f32,
) -> Piece {
    let mark = setter.set_unbroken(&[bold("!")], size);
    let indent = mark.width() + size * 0.4;
    let set = setter.set(&[plain(text)], size, Side::Start, right - x - indent);
    let mut piece = Piece::new();
    let down = (set.first_baseline() - mark.first_baseline()).max(0.0);
    let (mark_x, text_x) = if set.is_from_right() {
        (right - mark.width(), x)
    } else {
        (x, x + indent)
    };
    piece.text(&mark, mark_x, down, Shade::Black, tag);
    piece.text(&set, text_x, 0.0, Shade::Black, tag);
    piece.height = set.height();
    piece
}

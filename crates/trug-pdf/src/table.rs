//! Tables: how wide each column is, and rows whose cells stand on one base line.

use crate::piece::{Piece, Shade};
use crate::tags::Tag;
use crate::text::{Paragraph, Setter, Side, Span, Widths};
use std::rc::Rc;

/// Between two columns.
pub(crate) const GAP: f32 = 6.0;

/// The most that one column asks for, of the whole.
const MOST: f32 = 0.45;

/// What a column that grows gives up first, down to this part of the whole: names break better than figures.
const NAME: f32 = 0.28;

/// What a column asks for.
#[derive(Clone, Copy)]
pub(crate) struct Wish {
    pub(crate) widths: Widths,
    pub(crate) side: Side,
    /// It takes what is left over.
    pub(crate) grows: bool,
    /// It is not broken while others can be: figures.
    pub(crate) is_firm: bool,
}

/// Where a column is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Column {
    pub(crate) x: f32,
    pub(crate) width: f32,
    pub(crate) side: Side,
}

/// The widest of several texts.
pub(crate) fn widest<'a>(
    setter: &mut Setter,
    size: f32,
    texts: impl Iterator<Item = Span<'a>>,
) -> Widths {
    let mut widest = Widths {
        natural: 0.0,
        least: 0.0,
    };
    for text in texts {
        let widths = setter.widths(&[text], size);
        widest.natural = widest.natural.max(widths.natural);
        widest.least = widest.least.max(widths.least);
    }
    widest
}

/// Shares the width out: as each asks where there is room, else the firm ones first and the others between the least
/// and what they ask for. Where not even that fits, the widest give way until it does: figures stay whole.
pub(crate) fn share(wishes: &[Wish], total: f32) -> Vec<Column> {
    let gaps = GAP * wishes.len().saturating_sub(1) as f32;
    let room = (total - gaps).max(1.0);
    let most = room * MOST;
    let asked = |wish: &Wish| wish.widths.natural.min(most);
    let over: f32 = wishes.iter().map(asked).sum::<f32>() - room;
    let natural = |wish: &Wish| {
        let asked = asked(wish);
        let floor = (room * NAME).max(wish.widths.least).min(asked);
        if wish.grows && over > 0.0 {
            (asked - over).max(floor)
        } else {
            asked
        }
    };
    let least = |wish: &Wish| {
        if wish.is_firm {
            natural(wish)
        } else {
            wish.widths.least.min(natural(wish))
        }
    };
    let naturals: f32 = wishes.iter().map(natural).sum::<f32>() - 0.01;
    let leasts: f32 = wishes.iter().map(least).sum();
    let cap = cap(wishes.iter().map(least).collect(), room);
    let growing = wishes.iter().filter(|wish| wish.grows).count().max(1) as f32;
    let width = |wish: &Wish| {
        if naturals <= room {
            let more = if wish.grows { room - naturals } else { 0.0 };
            natural(wish) + more / growing
        } else if leasts <= room {
            let part = (room - leasts) / (naturals - leasts).max(0.01);
            least(wish) + (natural(wish) - least(wish)) * part
        } else {
            least(wish).min(cap)
        }
    };
    let mut x = 0.0;
    let mut columns = Vec::new();
    for wish in wishes {
        let width = width(wish);
        columns.push(Column {
            x,
            width,
            side: wish.side,
        });
        x += width + GAP;
    }
    columns
}

/// The most that each may have, so that all together have the room.
fn cap(mut widths: Vec<f32>, room: f32) -> f32 {
    widths.sort_by(f32::total_cmp);
    let mut left = room;
    for (index, width) in widths.iter().enumerate() {
        let each = left / (widths.len() - index) as f32;
        if *width > each {
            return each;
        }
        left -= width;
    }
    f32::INFINITY
}

/// What stands in a cell, and which element it is.
pub(crate) type Cell<'a> = (Vec<Span<'a>>, Option<Tag>);

/// A row: its cells on one base line, `pad` above and below. Also says where that line is.
pub(crate) fn row(
    setter: &mut Setter,
    columns: &[Column],
    cells: Vec<Cell<'_>>,
    size: f32,
    pad: f32,
) -> (Piece, f32) {
    let mut set: Vec<(Rc<Paragraph>, f32, Option<Tag>)> = Vec::new();
    for (column, (spans, tag)) in columns.iter().zip(cells) {
        if spans.iter().any(|span| !span.text.is_empty()) {
            let paragraph = setter.set(&spans, size, column.side, column.width);
            set.push((paragraph, column.x, tag));
        }
    }
    let baselines = set.iter().map(|(paragraph, ..)| paragraph.first_baseline());
    let baseline = baselines.fold(0.0, f32::max);
    let mut piece = Piece::new();
    for (paragraph, x, tag) in set {
        let y = pad + baseline - paragraph.first_baseline();
        piece.text(&paragraph, x, y, Shade::Black, tag);
        piece.height = piece.height.max(y + paragraph.height());
    }
    piece.height += pad;
    (piece, pad + baseline)
}

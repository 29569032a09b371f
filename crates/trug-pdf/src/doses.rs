//! The doses and how far they can be off: those that can hurt first.

use crate::clean::glued;
use crate::form::Form;
use crate::piece::Piece;
use crate::table::{Cell, GAP, Wish, row, share, widest};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, Span, bold, plain};
use trug_report::sheet::{DoseRow, Doses};

/// What a dose is called needs so much room at the least, in heights of its letters.
const LEAST_NAME: f32 = 12.0;

/// How narrow the table can be without breaking its figures.
pub(crate) fn narrowest(setter: &mut Setter, doses: &Doses, form: &Form) -> f32 {
    let wishes = wishes(setter, doses, form.note);
    let widths = wishes.iter().enumerate().map(|(index, wish)| {
        if index == 0 {
            let name = wish.widths.natural.min(LEAST_NAME * form.note);
            name.max(wish.widths.least)
        } else {
            wish.widths.natural
        }
    });
    widths.sum::<f32>() + GAP * wishes.len().saturating_sub(1) as f32
}

/// Draws the table under its heading.
pub(crate) fn doses(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    doses: &Doses,
    form: &Form,
    width: f32,
) -> Piece {
    let heading = tags.within(inside, Kind::Heading);
    let set = setter.set(&[bold(&doses.heading)], form.heading, Side::Start, width);
    let mut piece = Piece::paragraph(&set, 0.0, Some(heading));
    let element = tags.within(inside, Kind::Table);
    let columns = share(&wishes(setter, doses, form.note), width);
    let names = &doses.columns;
    let names = [
        &names.what,
        &names.value,
        &names.bound,
        &names.batch,
        &names.portion,
    ];
    let pad = form.pad * 0.25;
    let row_tag = tags.within(element, Kind::Row);
    let mut cells: Vec<Cell<'_>> = Vec::new();
    for name in names {
        cells.push((
            vec![plain(name)],
            Some(tags.within(row_tag, Kind::HeadCell)),
        ));
    }
    piece.below(row(setter, &columns, cells, form.note, pad).0);
    piece.rule(0.0, piece.height, width, 0.6);
    let hurting = doses.rows.iter().filter(|row| row.can_hurt);
    let others = doses.rows.iter().filter(|row| !row.can_hurt);
    for line in hurting.chain(others) {
        let row_tag = tags.within(element, Kind::Row);
        let mut cells: Vec<Cell<'_>> = Vec::new();
        let texts = texts(line);
        for (index, text) in texts.iter().enumerate() {
            let is_bold = line.can_hurt && index < 2;
            let span = if is_bold { bold(text) } else { plain(text) };
            cells.push((vec![span], Some(tags.within(row_tag, Kind::Cell))));
        }
        piece.below(row(setter, &columns, cells, form.note, pad).0);
        piece.rule(0.0, piece.height, width, 0.2);
    }
    piece
}

fn texts(row: &DoseRow) -> [String; 5] {
    [
        row.what.clone(),
        glued(&row.value),
        glued(&row.bound),
        glued(&row.batch),
        glued(&row.portion),
    ]
}

fn wishes(setter: &mut Setter, doses: &Doses, size: f32) -> Vec<Wish> {
    let names = &doses.columns;
    let names = [
        &names.what,
        &names.value,
        &names.bound,
        &names.batch,
        &names.portion,
    ];
    let mut wishes = Vec::new();
    for (index, name) in names.into_iter().enumerate() {
        let column: Vec<_> = doses
            .rows
            .iter()
            .map(|row| (row.can_hurt, texts(row)))
            .collect();
        let spans = column.iter().map(|(can_hurt, texts)| Span {
            text: &texts[index],
            is_bold: *can_hurt && index < 2,
        });
        let mut widths = widest(setter, size, spans);
        let of_name = setter.widths(&[plain(name)], size);
        widths.natural = widths.natural.max(of_name.least);
        widths.least = widths.least.max(of_name.least);
        wishes.push(Wish {
            widths,
            side: Side::Left,
            grows: index == 0,
            is_firm: index > 0,
        });
    }
    wishes
}

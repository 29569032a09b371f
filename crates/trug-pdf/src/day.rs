//! The order of the day: what is mixed one after the other, before the sheets themselves.

use crate::flow::{Flow, Page, Section, Size};
use crate::form::Form;
use crate::head::drafted;
use crate::piece::{Look, Piece};
use crate::table::{Cell, Column, Wish, row, share, widest};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, bold, plain};
use trug_report::sheet::{Booklet, DayOrder};

/// Draws the page, or as many as it takes.
pub(crate) fn day(setter: &mut Setter, booklet: &Booklet, day: &DayOrder, size: Size) -> Section {
    let form = Form::level(0);
    setter.leading = form.leading;
    let mut tags = Tags::new();
    let part = tags.top(Kind::Part);
    let width = size.width - 2.0 * form.side;
    let draft = booklet.sheets.iter().find_map(|sheet| sheet.draft.as_ref());
    let set = setter.set(&[bold(&booklet.title)], form.title, Side::Start, width);
    let mut again = Piece::new();
    if let Some(draft) = draft {
        again.below(drafted(setter, None, draft, form.fact + 1.0, width));
        again.below(Piece::space(form.gap));
    }
    let mut flow = Flow::new(size, form.side, form.edge, again);
    let title = tags.within(part, Kind::Title);
    flow.divided(Piece::paragraph(&set, 0.0, Some(title)));
    if let Some(draft) = draft {
        let tag = tags.within(part, Kind::Paragraph);
        flow.divided(drafted(setter, Some(tag), draft, form.fact + 1.0, width));
    }
    flow.space(form.gap);
    if day.heading != booklet.title {
        let heading = tags.within(part, Kind::Heading);
        let spans = [bold(&day.heading)];
        let set = setter.set(&spans, form.heading + 2.0, Side::Start, width);
        flow.divided(Piece::paragraph(&set, 0.0, Some(heading)));
    }
    let element = tags.within(part, Kind::Table);
    let columns = columns(setter, day, &form, width);
    let mut draw = |texts: &[String; 4], tags: Option<&mut Tags>, is_head: bool| {
        let cells = cells(texts, tags, element, is_head);
        let size = if is_head { form.note } else { form.row };
        let (mut piece, baseline) = row(setter, &columns, cells, size, form.pad);
        if !is_head {
            let side = form.row * 0.85;
            let x = width - side;
            piece.frame(x, baseline - side * 0.9, side, side, Look::Edge(0.9));
        }
        piece.rule(0.0, piece.height, width, if is_head { 1.0 } else { 0.3 });
        piece
    };
    flow.whole(draw(&day.columns, Some(&mut tags), true));
    flow.columns(Some(draw(&day.columns, None, true)));
    for texts in &day.rows {
        flow.whole(draw(texts, Some(&mut tags), false));
    }
    let behind = draft.map(|draft| draft.word.clone());
    let pages = flow.pages().into_iter().enumerate();
    let pages = pages.map(|(index, ink)| Page {
        ink,
        behind: behind.clone(),
        entry: (index == 0).then(|| day.heading.clone()),
    });
    Section {
        pages: pages.collect(),
        tags,
    }
}

/// The cells of a row; the amount is set bold.
fn cells<'a>(
    texts: &'a [String; 4],
    tags: Option<&mut Tags>,
    element: Tag,
    is_head: bool,
) -> Vec<Cell<'a>> {
    let mut cells: Vec<Cell<'a>> = Vec::new();
    let kind = if is_head { Kind::HeadCell } else { Kind::Cell };
    let mut tags = tags;
    let row = tags.as_mut().map(|tags| tags.within(element, Kind::Row));
    for (index, text) in texts.iter().enumerate() {
        let tag = match (tags.as_mut(), row) {
            (Some(tags), Some(row)) => Some(tags.within(row, kind.clone())),
            _ => None,
        };
        let is_bold = !is_head && (index == 1 || index == 2);
        let span = if is_bold { bold(text) } else { plain(text) };
        cells.push((vec![span], tag));
    }
    cells
}

fn columns(setter: &mut Setter, day: &DayOrder, form: &Form, width: f32) -> Vec<Column> {
    let mut wishes = Vec::new();
    for index in 0..4 {
        let rows = day.rows.iter().map(|row| bold(&row[index]));
        let mut widths = widest(setter, form.row, rows);
        let of_name = setter.widths(&[plain(&day.columns[index])], form.note);
        widths.natural = widths.natural.max(of_name.natural);
        widths.least = widths.least.max(of_name.least);
        wishes.push(Wish {
            widths,
            side: if index == 2 { Side::Right } else { Side::Left },
            grows: index == 3,
            is_firm: index == 0 || index == 2,
        });
    }
    // The box to tick stands at the right of all columns.
    share(&wishes, width - form.row * 1.5)
}

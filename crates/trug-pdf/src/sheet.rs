//! One sheet put together: as roomy as one page allows, or as few pages as it takes.

use crate::flow::{Flow, Page, Section, Size};
use crate::form::{Form, LEVELS};
use crate::head::{head, title};
use crate::lists::sentence;
use crate::parts::under;
use crate::piece::{Ink, Piece, Shade};
use crate::tags::{Kind, Tags};
use crate::text::{Setter, plain};
use crate::weighing::weighing;
use trug_report::sheet::Sheet;

/// What the title may take of a further page: it has been read already.
const FURTHER_TITLE: f32 = 60.0;

/// The picture is drawn larger in such steps, while it fits.
const LARGER: [f32; 7] = [1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64];

/// Draws a sheet at the roomiest level that needs the fewest pages, trying near the one given first: sheets of one
/// booklet are alike. What is left free makes the picture larger. Says which level it was.
pub(crate) fn sheet(
    setter: &mut Setter,
    sheet: &Sheet,
    size: Size,
    near: usize,
) -> (Section, usize) {
    let mut draw = |form: Form| compose(setter, sheet, size, form);
    let tightest = LEVELS - 1;
    let mut level = near.min(tightest);
    let mut drawn = draw(Form::level(level));
    let mut fewest = drawn.pages.len();
    if fewest > 1 && level < tightest {
        fewest = draw(Form::level(tightest)).pages.len();
    }
    while drawn.pages.len() > fewest && level < tightest {
        level += 1;
        drawn = draw(Form::level(level));
    }
    while level > 0 {
        let roomier = draw(Form::level(level - 1));
        if roomier.pages.len() > fewest {
            break;
        }
        (level, drawn) = (level - 1, roomier);
    }
    let form = Form::level(level);
    let larger = LARGER.into_iter().filter(|scale| *scale > form.picture);
    for picture in larger.take_while(|_| !sheet.picture.shapes.is_empty()) {
        let more = draw(Form { picture, ..form });
        if more.pages.len() <= fewest {
            return (more, level);
        }
    }
    (drawn, level)
}

fn compose(setter: &mut Setter, sheet: &Sheet, size: Size, form: Form) -> Section {
    setter.leading = form.leading;
    let mut tags = Tags::new();
    let part = tags.top(Kind::Part);
    let width = size.width - 2.0 * form.side;
    let gap = form.gap;
    let mut again = title(setter, None, sheet, &form, width);
    if again.height > FURTHER_TITLE {
        again = again.cut(FURTHER_TITLE).0;
    }
    again.below(Piece::space(gap));
    let mut flow = Flow::new(size, form.side, form.edge, again);
    flow.divided(head(setter, &mut tags, part, sheet, &form, width));
    flow.space(gap);
    let table = weighing(setter, &mut tags, part, &sheet.weigh, &form, width);
    for (index, piece) in table.parts.into_iter().enumerate() {
        flow.whole(piece);
        if index == 0 {
            flow.columns(Some(table.head.clone()));
        }
    }
    flow.columns(None);
    flow.space(gap);
    let room = (width, (size.height - 2.0 * form.edge) * 0.7);
    let under = under(setter, &mut tags, part, sheet, &form, room);
    flow.divided(under.columns);
    for piece in under.across {
        flow.space(gap);
        flow.divided(piece);
    }
    flow.space(gap * 0.5);
    let defers = sentence(setter, &mut tags, part, &sheet.defers, form.note, width);
    flow.divided(defers);
    if let Some(label) = under.foot {
        flow.space(gap);
        flow.foot(label);
    }
    let entry = match &sheet.subtitle {
        Some(subtitle) => format!("{} \u{2013} {subtitle}", sheet.title),
        None => sheet.title.clone(),
    };
    let behind = sheet.draft.as_ref().map(|draft| draft.word.clone());
    let pages = numbered(setter, flow.pages(), size, &form);
    let pages = pages.into_iter().enumerate().map(|(index, ink)| Page {
        ink,
        behind: behind.clone(),
        entry: (index == 0).then(|| entry.clone()),
    });
    Section {
        pages: pages.collect(),
        tags,
    }
}

/// Puts `2/3` in the upper right corner of each page, where there is more than one.
fn numbered(
    setter: &mut Setter,
    mut pages: Vec<Vec<Ink>>,
    size: Size,
    form: &Form,
) -> Vec<Vec<Ink>> {
    let count = pages.len();
    for (index, page) in pages.iter_mut().enumerate() {
        if count > 1 {
            let text = format!("{}/{count}", index + 1);
            let set = setter.set_unbroken(&[plain(&text)], form.fact + 2.0);
            let mut piece = Piece::new();
            let x = size.width - form.side - set.width();
            piece.text(&set, x, form.edge, Shade::Black, None);
            page.extend(piece.ink);
        }
    }
    pages
}

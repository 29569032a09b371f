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

/// What the picture is tried at, where a level leaves room for more than its own: from the largest.
const LARGER: [f32; 7] = [1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64];

/// How a sheet was drawn: where to begin with the next, for sheets of one booklet are alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Fit {
    /// The level.
    level: usize,
    /// Which of the larger pictures it has; past the last, the level's own.
    larger: usize,
}

/// Draws a sheet at the roomiest level that needs the fewest pages. What is left free makes the picture larger.
pub(crate) fn sheet(setter: &mut Setter, sheet: &Sheet, size: Size, near: Fit) -> (Section, Fit) {
    let mut draw = |form: Form| compose(setter, sheet, size, form);
    let (level, mut drawn) = fitting(&mut draw, near.level);
    let fewest = drawn.pages.len();
    let form = Form::level(level);
    let own = LARGER.iter().filter(|scale| **scale > form.picture).count();
    let mut larger = own;
    if sheet.picture.shapes.is_empty() {
        return (drawn, Fit { level, larger });
    }
    let mut at = |larger: usize| {
        let picture = LARGER.get(larger).copied().unwrap_or(form.picture);
        let drawn = draw(Form { picture, ..form });
        (drawn.pages.len() <= fewest).then_some(drawn)
    };
    // First as large as the sheet before had it, then as much larger or smaller as fits.
    let begin = near.larger.min(own);
    for smaller in begin..own {
        if let Some(more) = at(smaller) {
            (larger, drawn) = (smaller, more);
            break;
        }
    }
    while larger > 0 && larger <= begin {
        let Some(more) = at(larger - 1) else {
            break;
        };
        (larger, drawn) = (larger - 1, more);
    }
    (drawn, Fit { level, larger })
}

/// The roomiest level that needs the fewest pages, and what it comes to. Tighter levels never need more.
fn fitting(draw: &mut impl FnMut(Form) -> Section, near: usize) -> (usize, Section) {
    let tightest = LEVELS - 1;
    let first = draw(Form::level(near));
    let fewest = if first.pages.len() == 1 || near == tightest {
        first.pages.len()
    } else {
        draw(Form::level(tightest)).pages.len()
    };
    // Levels from `roomy` on are known to fit; those under `tight` are known not to.
    let (mut tight, mut roomy, mut best) = if first.pages.len() > fewest {
        (near + 1, tightest, None)
    } else {
        (0, near, Some(first))
    };
    if best.is_some() && roomy > 0 {
        // The sheet before was most likely of the same size.
        let one_more = draw(Form::level(roomy - 1));
        if one_more.pages.len() > fewest {
            tight = roomy;
        } else {
            (roomy, best) = (roomy - 1, Some(one_more));
        }
    }
    while tight < roomy {
        let middle = (tight + roomy) / 2;
        let drawn = draw(Form::level(middle));
        if drawn.pages.len() > fewest {
            tight = middle + 1;
        } else {
            (roomy, best) = (middle, Some(drawn));
        }
    }
    let drawn = best.unwrap_or_else(|| draw(Form::level(roomy)));
    (roomy, drawn)
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

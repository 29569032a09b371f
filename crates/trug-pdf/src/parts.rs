//! The parts under the weighing table: beside each other or one under the other, whichever is shortest.

use crate::doses::{doses, narrowest};
use crate::form::Form;
use crate::label::label;
use crate::lists::{section, totals};
use crate::picture::{drawing, natural_width};
use crate::piece::{Ink, Piece};
use crate::steps::steps;
use crate::tags::{Kind, Tag, Tags};
use crate::text::Setter;
use std::collections::BTreeMap;
use std::rc::Rc;
use trug_report::sheet::Sheet;

/// The parts in the order in which they are read.
const PARTS: [Part; 6] = [
    Part::Steps,
    Part::Picture,
    Part::Totals,
    Part::Doses,
    Part::Found,
    Part::Label,
];

/// What the left column may take of the width.
const SHARES: [f32; 5] = [0.5, 0.46, 0.54, 0.42, 0.58];

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Steps,
    Picture,
    Totals,
    Doses,
    Found,
    Label,
}

/// Where a part stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Seat {
    Left,
    Right,
    Across,
}

/// What the parts come to.
pub(crate) struct Under {
    /// What stands in columns.
    pub(crate) columns: Piece,
    /// What stands across, one under the other.
    pub(crate) across: Vec<Piece>,
    /// The label, where it is not in a column.
    pub(crate) foot: Option<Piece>,
}

/// Draws the parts, and remembers each at each width.
struct Parts<'a> {
    sheet: &'a Sheet,
    form: &'a Form,
    width: f32,
    /// The most that a part may take of a page.
    height: f32,
    /// What the picture takes at the least.
    picture: f32,
    /// What the doses take at the least.
    doses: f32,
    inside: Tag,
    drawn: BTreeMap<(Part, u32), Option<Piece>>,
}

/// Seats and draws all parts under the table.
pub(crate) fn under(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    sheet: &Sheet,
    form: &Form,
    (width, height): (f32, f32),
) -> Under {
    let least_doses = sheet.doses.as_ref();
    let mut parts = Parts {
        doses: least_doses.map_or(0.0, |table| narrowest(setter, table, form)),
        sheet,
        form,
        width,
        height,
        picture: natural_width(setter, &sheet.picture) * form.picture,
        inside,
        drawn: BTreeMap::new(),
    };
    let mut best = parts.usual(setter, tags);
    if form.is_packed {
        let mut least = parts.height(setter, tags, best);
        for share in SHARES {
            for seats in seatings() {
                let height = parts.height(setter, tags, (share, seats));
                if height + 0.5 < least {
                    (least, best) = (height, (share, seats));
                }
            }
        }
    }
    parts.seat(setter, tags, best)
}

type Seating = (f32, [Seat; 6]);

/// Every way to seat the parts with the steps, which are read first, at the left.
fn seatings() -> impl Iterator<Item = [Seat; 6]> {
    let seats = [Seat::Across, Seat::Left, Seat::Right];
    (0..3_usize.pow(5)).map(move |number| {
        let seat = |place: u32| seats[number / 3_usize.pow(place) % 3];
        [Seat::Left, seat(0), seat(1), seat(2), seat(3), seat(4)]
    })
}

impl Parts<'_> {
    /// The steps, with the picture at their right if it can be read there; all else across.
    fn usual(&mut self, setter: &mut Setter, tags: &mut Tags) -> Seating {
        let share = 0.54;
        let mut seats = [Seat::Across; 6];
        let (_, right) = self.widths(share);
        if self.picture > 0.0 && self.picture <= right {
            seats[0] = Seat::Left;
            seats[1] = Seat::Right;
            // The list of totals is narrow: where it fits beside the longer steps it costs nothing.
            let mut least = self.height(setter, tags, (share, seats));
            for seat in [Seat::Right, Seat::Left] {
                let mut beside = seats;
                beside[2] = seat;
                let height = self.height(setter, tags, (share, beside));
                if height < least {
                    (least, seats) = (height, beside);
                }
            }
        }
        (share, seats)
    }

    /// The widths of the columns.
    fn widths(&self, share: f32) -> (f32, f32) {
        let room = self.width - self.gutter();
        (room * share, room * (1.0 - share))
    }

    fn gutter(&self) -> f32 {
        self.form.gap.max(8.0) + 4.0
    }

    fn width_of(&self, share: f32, seat: Seat) -> f32 {
        let (left, right) = self.widths(share);
        match seat {
            Seat::Left => left,
            Seat::Right => right,
            Seat::Across => self.width,
        }
    }

    /// How high all parts are if seated so.
    fn height(&mut self, setter: &mut Setter, tags: &mut Tags, (share, seats): Seating) -> f32 {
        let (mut left, mut right, mut across) = (0.0, 0.0, 0.0);
        for (part, seat) in PARTS.into_iter().zip(seats) {
            let width = self.width_of(share, seat);
            let least = match part {
                Part::Picture => self.picture,
                Part::Doses => self.doses,
                _ => 0.0,
            };
            if seat != Seat::Across && width < least {
                return f32::INFINITY;
            }
            let Some(piece) = self.draw(setter, tags, part, width) else {
                continue;
            };
            let height = piece.height + self.form.gap;
            match seat {
                Seat::Left => left += height,
                Seat::Right => right += height,
                Seat::Across => across += height,
            }
        }
        f32::max(left, right) + across
    }

    fn seat(&mut self, setter: &mut Setter, tags: &mut Tags, (share, seats): Seating) -> Under {
        let (mut left, mut right) = (Piece::new(), Piece::new());
        let mut across = Vec::new();
        let mut foot = None;
        let gap = self.form.gap;
        for (part, seat) in PARTS.into_iter().zip(seats) {
            let width = self.width_of(share, seat);
            let Some(piece) = self.draw(setter, tags, part, width) else {
                continue;
            };
            let column = match seat {
                Seat::Left => &mut left,
                Seat::Right => &mut right,
                Seat::Across if part == Part::Label => {
                    foot = Some(piece);
                    continue;
                }
                Seat::Across => {
                    across.push(piece);
                    continue;
                }
            };
            if column.height > 0.0 {
                column.below(Piece::space(gap));
            }
            column.below(piece);
        }
        let mut columns = left;
        columns.beside(right, self.widths(share).0 + self.gutter(), 0.0);
        Under {
            columns,
            across,
            foot,
        }
    }

    fn draw(
        &mut self,
        setter: &mut Setter,
        tags: &mut Tags,
        part: Part,
        width: f32,
    ) -> Option<Piece> {
        let key = (part, width.to_bits());
        if let Some(piece) = self.drawn.get(&key) {
            return piece.clone();
        }
        let (sheet, form, inside) = (self.sheet, self.form, self.inside);
        let piece = match part {
            Part::Steps if sheet.mix.steps.is_empty() => None,
            Part::Steps => Some(steps(setter, tags, inside, &sheet.mix, form, width)),
            Part::Picture => self.picture(setter, tags, width),
            Part::Totals => Some(totals(setter, tags, inside, &sheet.totals, form, width)),
            Part::Doses => {
                let table = sheet.doses.as_ref().filter(|table| !table.rows.is_empty());
                table.map(|table| doses(setter, tags, inside, table, form, width))
            }
            Part::Found => {
                let found = sheet.found.as_ref();
                found.map(|found| section(setter, tags, inside, found, form, width))
            }
            Part::Label => Some(label(setter, tags, inside, &sheet.label, form, width)),
        };
        self.drawn.insert(key, piece.clone());
        piece
    }

    fn picture(&self, setter: &mut Setter, tags: &mut Tags, width: f32) -> Option<Piece> {
        let picture = &self.sheet.picture;
        let drawing = drawing(setter, picture, self.form.picture, (width, self.height))?;
        let mut said = picture.title.clone();
        if !picture.description.is_empty() {
            said.push('\n');
            said.push_str(&picture.description);
        }
        let tag = tags.within(self.inside, Kind::Figure(said));
        let mut piece = Piece::space(drawing.height);
        let x = ((width - drawing.width) / 2.0).max(0.0);
        piece.ink.push(Ink::Drawing {
            drawing: Rc::new(drawing),
            x,
            y: 0.0,
            tag,
        });
        Some(piece)
    }
}

//! The weighing table: what, from which lot, how much, on which scale, what it may read, a box to tick, and room for
//! what it did read.

use crate::clean::glued;
use crate::form::Form;
use crate::head::warning;
use crate::piece::{Look, Piece, Shade};
use crate::table::{Cell, Column, Wish, row, share, widest};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, Span, Widths, bold, plain};
use trug_report::sheet::{WeighingBlock, WeighingRow, WeighingTable};

/// Room to write an actual weight by hand.
const ACTUAL: f32 = 58.0;

/// The widest that the headings beside the blocks may be.
const SIDE_HEADINGS: f32 = 64.0;

/// The table in parts that each stay on one page.
pub(crate) struct Weighing {
    /// The names of the columns: again on every page.
    pub(crate) head: Piece,
    /// Rows with what belongs to them.
    pub(crate) parts: Vec<Piece>,
}

/// Where the columns are, and how large the letters.
struct Grid<'a> {
    columns: Vec<Column>,
    /// Which of the columns is what, counted from 0; the lot may have none.
    lot: Option<usize>,
    form: &'a Form,
    /// Where the columns begin: further in where the headings stand beside the blocks.
    left: f32,
    width: f32,
}

/// Draws the table; where the headings may stand beside the blocks, only if that makes it shorter.
pub(crate) fn weighing(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    table: &WeighingTable,
    form: &Form,
    width: f32,
) -> Weighing {
    let above = Grid::new(setter, table, form, width, 0.0);
    let beside = Grid::beside(setter, table, form, width);
    let Some(beside) = beside else {
        return above.table(setter, tags, inside, table);
    };
    let height = |weighing: &Weighing| -> f32 {
        let heights = weighing.parts.iter().map(|part| part.height);
        heights.sum()
    };
    let narrow = beside.table(setter, tags, inside, table);
    let wide = above.table(setter, tags, inside, table);
    if height(&narrow) < height(&wide) {
        narrow
    } else {
        wide
    }
}

impl<'a> Grid<'a> {
    /// With the headings of the blocks beside them, where the form and their length allow it.
    fn beside(
        setter: &mut Setter,
        table: &WeighingTable,
        form: &'a Form,
        width: f32,
    ) -> Option<Grid<'a>> {
        let headings = table.blocks.iter().map(|block| bold(&block.heading));
        let widest = widest(setter, form.note, headings).natural;
        let fits = form.has_side_headings && widest <= SIDE_HEADINGS;
        fits.then(|| Grid::new(setter, table, form, width, widest + 6.0))
    }

    fn new(
        setter: &mut Setter,
        table: &WeighingTable,
        form: &'a Form,
        width: f32,
        left: f32,
    ) -> Grid<'a> {
        let (wishes, lot) = wishes(setter, table, form);
        let mut columns = share(&wishes, width - left);
        for column in &mut columns {
            column.x += left;
        }
        Grid {
            columns,
            lot,
            form,
            left,
            width,
        }
    }

    /// The whole table.
    fn table(
        &self,
        setter: &mut Setter,
        tags: &mut Tags,
        inside: Tag,
        table: &WeighingTable,
    ) -> Weighing {
        let tag = tags.within(inside, Kind::Heading);
        let size = self.form.heading;
        let set = setter.set(&[bold(&table.heading)], size, Side::Start, self.width);
        let element = tags.within(inside, Kind::Table);
        let mut next = Piece::paragraph(&set, 0.0, Some(tag));
        next.below(self.head(setter, Some((tags, element)), table));
        let mut parts = Vec::new();
        for block in &table.blocks {
            let mut beside = self.heading(setter, tags, element, block, &mut next);
            for (index, line) in block.rows.iter().enumerate() {
                // The heading is read before the row that it stands beside.
                let mut drawn = beside.take().unwrap_or_default();
                drawn.beside(self.row(setter, tags, element, line), 0.0, 0.0);
                let mut piece = std::mem::take(&mut next);
                piece.below(drawn);
                let ends_block = self.left > 0.0 && index + 1 == block.rows.len();
                let from = if ends_block { 0.0 } else { self.left };
                let thick = if ends_block { 0.6 } else { 0.3 };
                piece.rule(from, piece.height, self.width - from, thick);
                parts.push(piece);
            }
        }
        next.below(self.together(setter, tags, element, table));
        parts.push(next);
        Weighing {
            head: self.head(setter, None, table),
            parts,
        }
    }

    /// The names of the columns, over a line.
    fn head(
        &self,
        setter: &mut Setter,
        tags: Option<(&mut Tags, Tag)>,
        table: &WeighingTable,
    ) -> Piece {
        let names = &table.columns;
        let mut texts = vec!["", &names.what];
        if self.lot.is_some() {
            texts.push(&names.lot);
        }
        texts.extend([
            &*names.mass,
            &*names.scale,
            &*names.range,
            &*names.done,
            &*names.actual,
        ]);
        let mut cells: Vec<Cell<'_>> = Vec::new();
        match tags {
            Some((tags, element)) => {
                let row = tags.within(element, Kind::Row);
                for text in texts {
                    let tag = tags.within(row, Kind::HeadCell);
                    cells.push((vec![plain(text)], Some(tag)));
                }
            }
            None => cells.extend(texts.into_iter().map(|text| (vec![plain(text)], None))),
        }
        let (mut piece, _) = row(
            setter,
            &self.columns,
            cells,
            self.form.note,
            self.form.pad * 0.5,
        );
        piece.rule(0.0, piece.height, self.width, 1.0);
        piece
    }

    /// The heading of a block: above its rows, or handed back to stand beside them.
    fn heading(
        &self,
        setter: &mut Setter,
        tags: &mut Tags,
        element: Tag,
        block: &WeighingBlock,
        above: &mut Piece,
    ) -> Option<Piece> {
        let row = tags.within(element, Kind::Row);
        let tag = tags.within(row, Kind::HeadCell);
        let size = self.form.note;
        let pad = self.form.pad * 0.4;
        if self.left > 0.0 {
            let set = setter.set(&[bold(&block.heading)], size, Side::Left, self.left);
            let mut piece = Piece::space(self.form.pad + (self.form.row - size));
            piece.below(Piece::paragraph(&set, 0.0, Some(tag)));
            return Some(piece);
        }
        let size = size + 0.5;
        let set = setter.set(&[bold(&block.heading)], size, Side::Start, self.width - 4.0);
        let mut piece = Piece::space(pad);
        piece.below(Piece::paragraph(&set, 2.0, Some(tag)));
        piece.height += pad;
        piece.frame_behind(0.0, self.width, Look::Filled(Shade::Light));
        above.below(piece);
        None
    }

    /// One weighing with its loads and cautions.
    fn row(&self, setter: &mut Setter, tags: &mut Tags, element: Tag, line: &WeighingRow) -> Piece {
        let form = self.form;
        let number = line.number.to_string();
        let lot = glued(line.lot.as_deref().unwrap_or(""));
        let (mass, range) = (glued(&line.mass), glued(&line.range));
        let mut texts = vec![vec![plain(&number)], vec![bold(&line.what)]];
        if self.lot.is_some() {
            texts.push(vec![plain(&lot)]);
        }
        texts.push(vec![bold(&mass)]);
        texts.push(vec![plain(&line.scale)]);
        texts.push(vec![plain(&range)]);
        let row_tag = tags.within(element, Kind::Row);
        let mut cells: Vec<Cell<'_>> = Vec::new();
        for spans in texts {
            let tag = tags.within(row_tag, Kind::Cell);
            cells.push((spans, Some(tag)));
        }
        let (mut piece, baseline) = row(setter, &self.columns, cells, form.row, form.pad);
        self.to_fill_in(setter, tags, row_tag, line, &mut piece, baseline);
        let x = self.columns.get(1).map_or(0.0, |column| column.x);
        let below = tags.within(row_tag, Kind::Cell);
        if let Some(loads) = &line.loads {
            let set = setter.set(&[plain(loads)], form.caution, Side::Start, self.width - x);
            piece.below(Piece::paragraph(&set, x, Some(below)));
        }
        for caution in &line.cautions {
            let size = form.caution;
            piece.below(warning(setter, Some(below), caution, size, x, self.width));
        }
        if line.loads.is_some() || !line.cautions.is_empty() {
            piece.height += form.pad;
        }
        piece
    }

    /// The box to tick, and the one for the actual weight with its unit.
    fn to_fill_in(
        &self,
        setter: &mut Setter,
        tags: &mut Tags,
        row: Tag,
        line: &WeighingRow,
        piece: &mut Piece,
        baseline: f32,
    ) {
        let [.., done, actual] = self.columns.as_slice() else {
            return;
        };
        let side = self.form.row * 0.85;
        let x = done.x + (done.width - side) / 2.0;
        piece.frame(x, baseline - side * 0.9, side, side, Look::Edge(0.9));
        let unit = setter.set_unbroken(&[plain(line.unit)], self.form.note);
        let end = actual.x + actual.width;
        let y = baseline - unit.first_baseline();
        let tag = tags.within(row, Kind::Cell);
        piece.text(&unit, end - unit.width(), y, Shade::Black, Some(tag));
        let length = actual.width - unit.width() - 3.0;
        piece.rule(actual.x, baseline + 1.0, length, 0.7);
    }

    /// All weighings together, under a heavy line.
    fn together(
        &self,
        setter: &mut Setter,
        tags: &mut Tags,
        element: Tag,
        table: &WeighingTable,
    ) -> Piece {
        let row_tag = tags.within(element, Kind::Row);
        let mut cells: Vec<Cell<'_>> = vec![(Vec::new(), None)];
        let what = tags.within(row_tag, Kind::Cell);
        cells.push((vec![bold(&table.together.what)], Some(what)));
        if self.lot.is_some() {
            cells.push((Vec::new(), None));
        }
        let value = tags.within(row_tag, Kind::Cell);
        let sum = glued(&table.together.value);
        cells.push((vec![bold(&sum)], Some(value)));
        let (mut piece, _) = row(setter, &self.columns, cells, self.form.row, self.form.pad);
        piece.rule(0.0, 0.0, self.width, 1.2);
        piece
    }
}

/// What each column asks for, and which is the lot's.
fn wishes(setter: &mut Setter, table: &WeighingTable, form: &Form) -> (Vec<Wish>, Option<usize>) {
    let rows: Vec<&WeighingRow> = table.blocks.iter().flat_map(|block| &block.rows).collect();
    let names = &table.columns;
    let size = form.row;
    let mut wish = |name: &str, texts: &mut dyn Iterator<Item = String>, side, grows, is_firm| {
        let mut widths = setter.widths(&[plain(name)], form.note);
        let is_bold = grows || side == Side::Right;
        for text in texts {
            let span = Span {
                text: &text,
                is_bold,
            };
            let of_text = setter.widths(&[span], size);
            widths.natural = widths.natural.max(of_text.natural);
            widths.least = widths.least.max(of_text.least);
        }
        Wish {
            widths,
            side,
            grows,
            is_firm,
        }
    };
    let together = &table.together;
    let numbers = &mut rows.iter().map(|row| row.number.to_string());
    let mut wishes = vec![wish("", numbers, Side::Right, false, true)];
    let whats = &mut rows.iter().map(|row| row.what.clone());
    wishes.push(wish(&names.what, whats, Side::Left, true, false));
    let lot = table.has_lots.then_some(wishes.len());
    if table.has_lots {
        let lots = &mut rows.iter().filter_map(|row| row.lot.as_deref().map(glued));
        wishes.push(wish(&names.lot, lots, Side::Left, false, false));
    }
    let masses = rows.iter().map(|row| glued(&row.mass));
    let masses = &mut masses.chain([glued(&together.value)]);
    wishes.push(wish(&names.mass, masses, Side::Right, false, true));
    let scales = &mut rows.iter().map(|row| row.scale.clone());
    wishes.push(wish(&names.scale, scales, Side::Left, false, false));
    let ranges = &mut rows.iter().map(|row| glued(&row.range));
    wishes.push(wish(&names.range, ranges, Side::Left, false, false));
    let none = &mut std::iter::empty();
    let mut done = wish(&names.done, none, Side::Middle, false, true);
    done.widths.natural = done.widths.natural.max(form.row);
    wishes.push(done);
    let mut actual = wish(&names.actual, none, Side::Left, false, true);
    actual.widths = Widths {
        natural: actual.widths.natural.max(ACTUAL),
        least: ACTUAL,
    };
    wishes.push(actual);
    (wishes, lot)
}

//! The weighing table: what, from which lot, how much, on which scale, what it may read, and a box to tick.

use super::{left, right};
use crate::sheet::{WeighingRow, WeighingTable};
use crate::words::{columns, hanging, lines_of};

/// A box to tick.
const BOX: &str = "[ ]";
/// Blanks between columns.
const GAP: &str = "  ";
/// What a name is set in at least, however wide the rest is.
const LEAST_NAME: usize = 8;

/// The table of one batch, a block for every step, in the order of work.
pub(super) fn weighing_table(table: &WeighingTable, width: usize) -> String {
    let head = Row::head(table);
    let all = table.blocks.iter().flat_map(|block| &block.rows);
    let rows: Vec<Row> = all.map(Row::of).collect();
    let together = Row::together(table);
    let layout = Layout::of([&head, &together], &rows, table.has_lots, width);
    let mut text = hanging("", &table.heading, width);
    text.push_str(&layout.line(&head));
    let mut rows = rows.iter();
    for block in &table.blocks {
        text.push_str(&hanging("", &block.heading, width));
        for (weighing, row) in block.rows.iter().zip(&mut rows) {
            text.push_str(&layout.line(row));
            if let Some(loads) = &weighing.loads {
                text.push_str(&hanging(&layout.indent(), loads, width));
            }
            for caution in &weighing.cautions {
                let heading = format!("{}! ", layout.indent());
                text.push_str(&hanging(&heading, caution, width));
            }
        }
    }
    text.push_str(&layout.line(&together));
    text
}

struct Row {
    number: String,
    what: String,
    lot: String,
    mass: String,
    scale: String,
    range: String,
    tick: String,
}

impl Row {
    fn head(table: &WeighingTable) -> Row {
        let columns = &table.columns;
        Row {
            number: String::new(),
            what: columns.what.clone(),
            lot: columns.lot.clone(),
            mass: columns.mass.clone(),
            scale: columns.scale.clone(),
            range: columns.range.clone(),
            tick: columns.done.clone(),
        }
    }

    fn of(weighing: &WeighingRow) -> Row {
        Row {
            number: weighing.number.to_string(),
            what: weighing.what.clone(),
            lot: weighing.lot.clone().unwrap_or_default(),
            mass: weighing.mass.clone(),
            scale: weighing.scale.clone(),
            range: weighing.range.clone(),
            tick: BOX.to_owned(),
        }
    }

    fn together(table: &WeighingTable) -> Row {
        Row {
            number: String::new(),
            what: table.together.what.clone(),
            lot: String::new(),
            mass: table.together.value.clone(),
            scale: String::new(),
            range: String::new(),
            tick: String::new(),
        }
    }
}

/// How wide each column is; the names take what is left.
struct Layout {
    number: usize,
    what: usize,
    lot: usize,
    mass: usize,
    scale: usize,
    range: usize,
}

impl Layout {
    fn of(ends: [&Row; 2], rows: &[Row], has_lots: bool, width: usize) -> Layout {
        let widest = |cell: fn(&Row) -> &String| {
            let cells = rows.iter().chain(ends).map(|row| columns(cell(row)));
            cells.max().unwrap_or(0)
        };
        let mut layout = Layout {
            number: widest(|row| &row.number),
            what: 0,
            lot: if has_lots {
                widest(|row| &row.lot).min(width / 8)
            } else {
                0
            },
            mass: widest(|row| &row.mass),
            scale: widest(|row| &row.scale).min(width / 8),
            range: widest(|row| &row.range),
        };
        let gaps = GAP.len() * if has_lots { 6 } else { 5 };
        let others = layout.number + layout.lot + layout.mass + layout.scale + layout.range;
        let taken = others + widest(|row| &row.tick) + gaps;
        layout.what = width.saturating_sub(taken).max(LEAST_NAME);
        layout
    }

    /// Up to where the names begin.
    fn indent(&self) -> String {
        " ".repeat(self.number + GAP.len())
    }

    /// One row, over as many lines as its longest text needs.
    fn line(&self, row: &Row) -> String {
        let what = lines_of(&row.what, self.what);
        let lot = if self.lot > 0 {
            lines_of(&row.lot, self.lot)
        } else {
            Vec::new()
        };
        let scale = lines_of(&row.scale, self.scale.max(1));
        let lines = what.len().max(lot.len()).max(scale.len());
        let mut text = String::new();
        for rank in 0..lines {
            let cell = |cells: &[String]| cells.get(rank).cloned().unwrap_or_default();
            let first = |word: &String| {
                if rank == 0 {
                    word.clone()
                } else {
                    String::new()
                }
            };
            let mut cells = vec![
                right(&first(&row.number), self.number),
                left(&cell(&what), self.what),
            ];
            if self.lot > 0 {
                cells.push(left(&cell(&lot), self.lot));
            }
            cells.push(right(&first(&row.mass), self.mass));
            cells.push(left(&cell(&scale), self.scale));
            cells.push(left(&first(&row.range), self.range));
            cells.push(first(&row.tick));
            text.push_str(cells.join(GAP).trim_end());
            text.push('\n');
        }
        text
    }
}

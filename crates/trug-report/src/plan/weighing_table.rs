//! The weighing table: what, from which lot, how much, on which scale, what it may read, and a box to tick.

use std::collections::BTreeSet;

use trug_model::Q;
use trug_plan::plan::{Batch, Plan, Weighing};

use super::PlanAbout;
use super::masses::{shown, shown_loads, shown_range};
use crate::words::{columns, hanging, lines_of};

/// A box to tick.
const BOX: &str = "[ ]";
/// Blanks between columns.
const GAP: &str = "  ";
/// What a name is set in at least, however wide the rest is.
const LEAST_NAME: usize = 8;
/// Where the scale's name stands when none will do.
const NO_SCALE: &str = "none";

/// The table of one batch, a block for every step, in the order of work.
pub(super) fn weighing_table(
    plan: &Plan,
    batch: &Batch,
    about: &PlanAbout<'_>,
    width: usize,
) -> String {
    let rows: Vec<Row> = batch
        .weighings
        .iter()
        .enumerate()
        .map(|(rank, weighing)| row(plan, about, rank + 1, weighing))
        .collect();
    let layout = Layout::of(&rows, width);
    let mut text = layout.line(&Row::head());
    let mut cautioned = BTreeSet::new();
    let mut step = None;
    for (weighing, row) in batch.weighings.iter().zip(&rows) {
        if step != Some(&weighing.step) {
            step = Some(&weighing.step);
            text.push_str(&heading(batch, &weighing.step));
        }
        text.push_str(&layout.line(row));
        if let [_, _, ..] = weighing.loads_g.as_slice() {
            let loads = shown_loads(&weighing.loads_g);
            let words = format!("in {} loads: {loads}", weighing.loads_g.len());
            text.push_str(&hanging(&layout.indent(), &words, width));
        }
        if cautioned.insert(weighing.ingredient) {
            text.push_str(&cautions(plan, about, weighing, &layout, width));
        }
    }
    text
}

/// What to beware of stands where the ingredient is first handled.
fn cautions(
    plan: &Plan,
    about: &PlanAbout<'_>,
    weighing: &Weighing,
    layout: &Layout,
    width: usize,
) -> String {
    let ingredient = plan.order.ingredients.get(weighing.ingredient);
    let name = ingredient.map(|ingredient| ingredient.name.as_str());
    about
        .cautions
        .iter()
        .filter(|caution| caution.ingredient.is_some() && caution.ingredient.as_deref() == name)
        .map(|caution| hanging(&format!("{}! ", layout.indent()), &caution.text, width))
        .collect()
}

fn heading(batch: &Batch, step: &str) -> String {
    let rank = batch.steps.iter().position(|it| it.id == *step);
    rank.map_or_else(String::new, |rank| format!("for step {}\n", rank + 1))
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
    fn head() -> Row {
        Row {
            number: String::new(),
            what: "what".to_owned(),
            lot: "lot".to_owned(),
            mass: "how much".to_owned(),
            scale: "scale".to_owned(),
            range: "may read".to_owned(),
            tick: "done".to_owned(),
        }
    }
}

fn row(plan: &Plan, about: &PlanAbout<'_>, number: usize, weighing: &Weighing) -> Row {
    let ingredient = plan.order.ingredients.get(weighing.ingredient);
    let scale = weighing.scale.and_then(|rank| plan.order.scales.get(rank));
    let range = |from: &Q, to: &Q| shown_range(from, to, &weighing.mass_g);
    Row {
        number: number.to_string(),
        what: about.name_of(plan, weighing.ingredient).to_owned(),
        lot: ingredient
            .and_then(|ingredient| ingredient.lot.clone())
            .unwrap_or_default(),
        mass: shown(&weighing.mass_g),
        scale: scale.map_or(NO_SCALE.to_owned(), |scale| scale.name.clone()),
        range: scale.map_or_else(String::new, |_| range(&weighing.from_g, &weighing.to_g)),
        tick: BOX.to_owned(),
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
    fn of(rows: &[Row], width: usize) -> Layout {
        let head = Row::head();
        let widest = |cell: fn(&Row) -> &String| {
            let cells = rows.iter().chain([&head]).map(|row| columns(cell(row)));
            cells.max().unwrap_or(0)
        };
        let has_lots = rows.iter().any(|row| !row.lot.is_empty());
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
        let taken = others + columns(&head.tick) + gaps;
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

/// Set at the left of a column.
pub(super) fn left(cell: &str, width: usize) -> String {
    format!("{cell}{}", " ".repeat(width.saturating_sub(columns(cell))))
}

/// Set at the right of a column.
pub(super) fn right(cell: &str, width: usize) -> String {
    format!("{}{cell}", " ".repeat(width.saturating_sub(columns(cell))))
}

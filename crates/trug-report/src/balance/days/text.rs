//! Many days for a person: a table with a row a day.

use super::{BalancedDays, Series};
use crate::analysis::table::{Group, Layout, Row, Side, tables};
use crate::words::{columns, hanging, lines_of, money, printable};

/// Narrower than this no table reads.
const LEAST_WIDTH: usize = 60;
/// What a day and its cost take before the amounts.
const BEFORE_AMOUNTS: usize = 30;
/// Blanks before a column.
const GAP: usize = 2;

/// How the mix and its cost move, as a page of text.
#[must_use]
pub fn days_text(page: &BalancedDays<'_>, width: usize) -> String {
    let width = width.max(LEAST_WIDTH);
    let head = format!("{} ({}): {}", page.title(), page.written(), page.summary());
    let mut sections = vec![hanging("", &head, width)];
    let (moving, still): (Vec<Series>, Vec<Series>) =
        page.amounts().into_iter().partition(Series::moves);
    let mut blocks = blocks(&moving, width);
    if blocks.is_empty() {
        blocks.push(&[]);
    }
    for block in blocks {
        sections.extend(table(page, block, width));
    }
    let still: Vec<String> = still
        .iter()
        .filter_map(|series| Some(format!("{} {} %", series.name, series.ends()?.0)))
        .collect();
    if !still.is_empty() {
        let says = format!("The same on every day: {}.", still.join(", "));
        sections.push(lines_of(&says, width).join("\n") + "\n");
    }
    printable(&sections.join("\n")).into_owned()
}

/// The amounts in groups that fit side by side.
fn blocks(series: &[Series], width: usize) -> Vec<&[Series]> {
    let mut blocks = Vec::new();
    let mut start = 0;
    let mut used = BEFORE_AMOUNTS;
    for (rank, one) in series.iter().enumerate() {
        let wide = GAP + columns(&one.name).max(9);
        if rank > start && used + wide > width {
            blocks.extend(series.get(start..rank));
            start = rank;
            used = BEFORE_AMOUNTS;
        }
        used += wide;
    }
    blocks.extend(series.get(start..).filter(|rest| !rest.is_empty()));
    blocks
}

fn table(page: &BalancedDays<'_>, amounts: &[Series], width: usize) -> Vec<String> {
    let cost = page.cost();
    let row = |cells: Vec<String>| Row {
        cells,
        below: Vec::new(),
    };
    let mut headings = vec!["day".to_owned(), "a kg".to_owned()];
    headings.extend(amounts.iter().map(|series| series.name.clone()));
    let mut rows = vec![row(headings)];
    for (rank, (day, _)) in page.days.iter().enumerate() {
        let price = cost.values.get(rank).and_then(Option::as_ref);
        let mut cells = vec![day.clone()];
        cells.push(price.map_or_else(
            || "no choice".to_owned(),
            |price| money(price, page.currency()),
        ));
        cells.extend(amounts.iter().map(|series| {
            let value = series.values.get(rank).and_then(Option::as_ref);
            value.map_or_else(String::new, |value| format!("{} %", value.readable(6)))
        }));
        rows.push(row(cells));
    }
    let mut sides = vec![Side::Left];
    sides.resize(2 + amounts.len(), Side::Right);
    let layout = Layout {
        sides: &sides,
        flexible: 0,
        width,
    };
    tables(&[Group { heading: "", rows }], &layout)
}

//! A balanced ration for a person: the amounts, why these, what is left out; or what contradicts what.

use super::BalancedRation;
use super::told::{Told, told};
use crate::analysis::table::{Group, Layout, Row, Side, tables};
use crate::words::{hanging, lines_of, printable};

/// Narrower than this no table reads.
const LEAST_WIDTH: usize = 66;

/// The balanced ration as a page of text.
#[must_use]
pub fn balance_text(page: &BalancedRation<'_>, width: usize) -> String {
    let width = width.max(LEAST_WIDTH);
    let told = told(page);
    let mut sections = vec![hanging(
        "",
        &format!("{} ({}): {}", told.title, told.written, told.result),
        width,
    )];
    sections.extend(amounts(&told, width));
    sections.extend(reasons(&told, width));
    sections.extend(left_out(&told, width));
    sections.extend(conflict(&told, width));
    sections.extend(relax(&told, width));
    if !told.remarks.is_empty() {
        let remarks = told.remarks.join(" ");
        sections.push(lines_of(&remarks, width).join("\n") + "\n");
    }
    printable(&sections.join("\n")).into_owned()
}

fn amounts(told: &Told, width: usize) -> Vec<String> {
    if told.amounts.is_empty() {
        return Vec::new();
    }
    let headings = ["ingredient", "amount", "", "price a kg", "stays for"];
    let mut rows = vec![Row::new(headings.map(str::to_owned))];
    for amount in &told.amounts {
        rows.push(Row::new([
            amount.ingredient.clone(),
            amount.percent.clone(),
            amount.before.clone(),
            amount.price.clone(),
            amount.stays.clone(),
        ]));
    }
    let layout = Layout {
        sides: &[Side::Left, Side::Right, Side::Left, Side::Right, Side::Left],
        flexible: 0,
        width,
    };
    tables(&[Group { heading: "", rows }], &layout)
}

fn reasons(told: &Told, width: usize) -> Vec<String> {
    let rows = told.reasons.iter().map(|reason| {
        Row::new([
            reason.bound.clone(),
            reason.says.clone(),
            reason.written.clone(),
        ])
    });
    pairs("what decides", rows.collect(), width)
}

fn left_out(told: &Told, width: usize) -> Vec<String> {
    if told.left_out.is_empty() {
        return Vec::new();
    }
    let lines = told.left_out.iter().map(|line| hanging("  ", line, width));
    vec![format!("left out\n{}", lines.collect::<String>())]
}

fn conflict(told: &Told, width: usize) -> Vec<String> {
    let rows = told
        .conflict
        .iter()
        .map(|(says, at)| Row::new([says.clone(), at.clone()]));
    let heading = "these cannot all be kept; without any one of them the others can";
    pairs(heading, rows.collect(), width)
}

fn relax(told: &Told, width: usize) -> Vec<String> {
    if told.relax.is_empty() {
        let is_conflict = !told.conflict.is_empty();
        return is_conflict
            .then(|| hanging("", told.ways_out, width))
            .into_iter()
            .collect();
    }
    let rows = told.relax.iter().map(|relax| {
        let mut row = Row::new([
            relax.what.clone(),
            relax.change.clone(),
            relax.written.clone(),
        ]);
        if !relax.then.is_empty() {
            row.below.push(relax.then.clone());
        }
        row
    });
    pairs(told.ways_out, rows.collect(), width)
}

/// Rows of words under a heading; the first column gives way.
fn pairs(heading: &str, rows: Vec<Row>, width: usize) -> Vec<String> {
    let layout = Layout {
        sides: &[Side::Left; 3],
        flexible: 0,
        width,
    };
    tables(&[Group { heading, rows }], &layout)
}

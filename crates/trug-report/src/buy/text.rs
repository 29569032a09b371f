//! A shopping list for a person to read, and to take to the shop.

use super::ShoppingList;
use super::told::{Told, tell};
use crate::analysis::table::{Group, Layout, Row, Side, tables};
use crate::words::{hanging, printable};

/// Narrower than this no table reads.
const LEAST_WIDTH: usize = 66;

/// The list as a page of text.
#[must_use]
pub fn buy_text(list: &ShoppingList<'_>, width: usize) -> String {
    let width = width.max(LEAST_WIDTH);
    let told = tell(list);
    let mut sections = vec![hanging("", &told.title, width)];
    let alarms: String = told
        .alarms
        .iter()
        .map(|alarm| hanging("", alarm, width))
        .collect();
    sections.extend((!alarms.is_empty()).then_some(alarms));
    sections.extend(fed(&told, width));
    sections.extend(buy(&told, width));
    sections.extend(enough(&told, width));
    let expires = told.expires.iter();
    let expires: String = expires
        .map(|(day, says)| hanging(&format!("  {day}  "), says, width))
        .collect();
    sections.extend((!expires.is_empty()).then(|| format!("expires\n{expires}")));
    sections.extend(listed("caution", &told.cautions, width));
    let remarks = told.remarks.iter().map(|one| hanging("", one, width));
    sections.push(remarks.collect::<Vec<_>>().concat());
    printable(&sections.join("\n")).into_owned()
}

fn fed(told: &Told, width: usize) -> Vec<String> {
    let rows = told.fed.iter().map(|fed| {
        let cells = [fed.who.clone(), fed.daily.clone(), fed.cost.clone()];
        Row {
            below: vec![fed.about.clone()],
            ..Row::new(cells)
        }
    });
    let layout = Layout {
        sides: &[Side::Left, Side::Right, Side::Right],
        flexible: 0,
        width,
    };
    let rows = rows.collect();
    tables(
        &[Group {
            heading: "eaten",
            rows,
        }],
        &layout,
    )
}

fn buy(told: &Told, width: usize) -> Vec<String> {
    if told.buy.is_empty() {
        return vec![hanging("", told.nothing, width)];
    }
    let headings = ["by", "to buy", "", "cost"];
    let mut rows = vec![Row::new(headings.map(str::to_owned))];
    for one in &told.buy {
        let cells = [
            one.by.clone(),
            one.what.clone(),
            one.amount.clone(),
            one.cost.clone(),
        ];
        rows.push(Row {
            below: vec![one.about.join("; ")],
            ..Row::new(cells)
        });
    }
    let sides = [Side::Left, Side::Left, Side::Right, Side::Right];
    let layout = Layout {
        sides: &sides,
        flexible: 1,
        width,
    };
    let mut drawn = tables(&[Group { heading: "", rows }], &layout);
    drawn.push(hanging("  total  ", &told.total, width));
    drawn
}

fn enough(told: &Told, width: usize) -> Vec<String> {
    if told.enough.is_empty() {
        return Vec::new();
    }
    let headings = ["enough of", "on hand", "needed", "left", "lasts"];
    let mut rows = vec![Row::new(headings.map(str::to_owned))];
    for one in &told.enough {
        rows.push(Row::new([
            one.what.clone(),
            one.on_hand.clone(),
            one.needed.clone(),
            one.left.clone(),
            one.lasts.clone(),
        ]));
    }
    let sides = [
        Side::Left,
        Side::Right,
        Side::Right,
        Side::Right,
        Side::Left,
    ];
    let layout = Layout {
        sides: &sides,
        flexible: 0,
        width,
    };
    tables(&[Group { heading: "", rows }], &layout)
}

fn listed(heading: &str, lines: &[String], width: usize) -> Vec<String> {
    if lines.is_empty() {
        return Vec::new();
    }
    let lines = lines.iter().map(|line| hanging("  ", line, width));
    vec![format!("{heading}\n{}", lines.collect::<String>())]
}

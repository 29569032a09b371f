//! A shopping list as one flat table (RFC 4180): what is to be bought, what is there, what expires, who eats, what is not counted.

use trug_model::Q;
use trug_store::{Lasts, Row};

use super::ShoppingList;
use super::told::{why_left_out, why_uncounted};
use crate::cells::{text_cell, written};

/// The columns, in an order that stays; a row leaves empty what it does not have.
const COLUMNS: [&str; 20] = [
    "kind",
    "day",
    "ingredient",
    "label",
    "sacks",
    "sack_g",
    "bought_g",
    "price_per_kg",
    "cost",
    "currency",
    "short_g",
    "needed_g",
    "on_hand_g",
    "coming_g",
    "left_g",
    "lasts_until",
    "lot",
    "group",
    "ration",
    "why",
];

/// The list as CSV. No text cell starts with a sign that a spreadsheet would take for a formula.
#[must_use]
pub fn buy_csv(list: &ShoppingList<'_>) -> String {
    let buying = list.buying;
    let mut rows = vec![COLUMNS.map(str::to_owned)];
    for one in &buying.uncounted {
        let mut row = Cells::of("not-counted");
        row.text("group", one.group.as_deref().unwrap_or(""));
        row.text("ration", one.ration.as_deref().unwrap_or(""));
        row.text("why", &why_uncounted(one));
        rows.push(row.0);
    }
    rows.extend(buying.rows.iter().map(needed));
    for total in &buying.totals {
        let mut row = Cells::of("total");
        row.put("cost", &total.amount.to_string());
        row.put("currency", &total.currency);
        rows.push(row.0);
    }
    for one in &buying.expiring {
        let mut row = Cells::of("expires");
        row.put("day", &one.best_before.to_string());
        row.text("ingredient", &one.of);
        row.text("lot", &one.lot);
        row.grams("left_g", &one.left);
        rows.push(row.0);
    }
    for one in &buying.left_out {
        let mut row = Cells::of("lot-not-counted");
        row.text("ingredient", &one.of);
        row.text("lot", &one.lot);
        row.text("why", &why_left_out(one));
        rows.push(row.0);
    }
    for fed in &buying.fed {
        let mut row = Cells::of("eats");
        row.text("group", &fed.group);
        row.text("ration", &fed.ration);
        row.grams("needed_g", &(&fed.daily * &Q::int(i64::from(fed.days))));
        rows.push(row.0);
    }
    written(&rows)
}

fn needed(row: &Row) -> [String; COLUMNS.len()] {
    let mut cells = Cells::of(match row.purchase {
        Some(_) => "buy",
        None => "enough",
    });
    cells.text("ingredient", &row.name);
    cells.text("label", row.label.as_deref().unwrap_or(""));
    cells.grams("needed_g", &row.needed);
    if row.is_stock_known {
        cells.grams("on_hand_g", &row.on_hand);
    }
    cells.grams("coming_g", &row.coming);
    cells.grams("left_g", &row.left);
    if let Lasts::Until(day) = row.lasts {
        cells.put("lasts_until", &day.to_string());
    }
    if let Some(purchase) = &row.purchase {
        cells.put("day", &purchase.by.to_string());
        cells.grams("bought_g", &purchase.mass);
        cells.grams("short_g", &purchase.short);
        if let Some(sacks) = &purchase.sacks {
            cells.put("sacks", &sacks.count.to_string());
            cells.grams("sack_g", &sacks.each);
        }
        if let (Some(price), Some(cost)) = (&purchase.price, &purchase.cost) {
            cells.put("price_per_kg", &price.value.to_string());
            cells.put("cost", &cost.amount.to_string());
            cells.put("currency", &cost.currency);
        }
        let lots: Vec<&str> = purchase
            .instead_of
            .iter()
            .map(|(lot, _)| lot.as_str())
            .collect();
        cells.text("lot", &lots.join("; "));
    }
    cells.0
}

/// The cells of one row.
struct Cells([String; COLUMNS.len()]);

impl Cells {
    fn of(kind: &str) -> Cells {
        let mut cells = Cells(std::array::from_fn(|_| String::new()));
        cells.put("kind", kind);
        cells
    }

    /// Numbers and words of our own.
    fn put(&mut self, column: &str, cell: &str) {
        let slots = COLUMNS.iter().zip(&mut self.0);
        for (_, slot) in slots.filter(|(name, _)| **name == column) {
            cell.clone_into(slot);
        }
    }

    /// What others wrote.
    fn text(&mut self, column: &str, cell: &str) {
        self.put(column, &text_cell(cell));
    }

    fn grams(&mut self, column: &str, kilograms: &Q) {
        self.put(column, &(kilograms * &Q::int(1000)).to_string());
    }
}

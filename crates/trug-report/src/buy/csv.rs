//! A shopping list as one flat table (RFC 4180): what is to be bought, what is there, what expires, who eats, what is not counted.

use trug_model::Q;
use trug_store::{Lasts, Row as Needed};

use super::ShoppingList;
use super::told::{why_left_out, why_uncounted};
use crate::table::{Row, written};

/// The columns, in an order that stays; a row leaves empty what it does not have.
const COLUMNS: &[&str] = &[
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
    let mut rows = Vec::new();
    for one in &buying.uncounted {
        let mut row = of_kind("not-counted");
        row.text("group", one.group.as_deref().unwrap_or(""));
        row.text("ration", one.ration.as_deref().unwrap_or(""));
        row.text("why", &why_uncounted(one));
        rows.push(row);
    }
    rows.extend(buying.rows.iter().map(needed));
    for total in &buying.totals {
        let mut row = of_kind("total");
        row.put("cost", &total.amount.to_string());
        row.put("currency", &total.currency);
        rows.push(row);
    }
    for one in &buying.expiring {
        let mut row = of_kind("expires");
        row.put("day", &one.best_before.to_string());
        row.text("ingredient", &one.of);
        row.text("lot", &one.lot);
        mass(&mut row, "left_g", &one.left);
        rows.push(row);
    }
    for one in &buying.left_out {
        let mut row = of_kind("lot-not-counted");
        row.text("ingredient", &one.of);
        row.text("lot", &one.lot);
        row.text("why", &why_left_out(one));
        rows.push(row);
    }
    for fed in &buying.fed {
        let mut row = of_kind("eats");
        row.text("group", &fed.group);
        row.text("ration", &fed.ration);
        mass(
            &mut row,
            "needed_g",
            &(&fed.daily * &Q::int(i64::from(fed.days))),
        );
        rows.push(row);
    }
    written(COLUMNS, &rows)
}

fn needed(row: &Needed) -> Row {
    let mut cells = of_kind(match row.purchase {
        Some(_) => "buy",
        None => "enough",
    });
    cells.text("ingredient", &row.name);
    cells.text("label", row.label.as_deref().unwrap_or(""));
    mass(&mut cells, "needed_g", &row.needed);
    if row.is_stock_known {
        mass(&mut cells, "on_hand_g", &row.on_hand);
    }
    mass(&mut cells, "coming_g", &row.coming);
    mass(&mut cells, "left_g", &row.left);
    if let Lasts::Until(day) = row.lasts {
        cells.put("lasts_until", &day.to_string());
    }
    if let Some(purchase) = &row.purchase {
        cells.put("day", &purchase.by.to_string());
        mass(&mut cells, "bought_g", &purchase.mass);
        mass(&mut cells, "short_g", &purchase.short);
        if let Some(sacks) = &purchase.sacks {
            cells.put("sacks", &sacks.count.to_string());
            mass(&mut cells, "sack_g", &sacks.each);
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
    cells
}

/// A row of that kind.
fn of_kind(kind: &str) -> Row {
    let mut row = Row::of(COLUMNS);
    row.put("kind", kind);
    row
}

/// A mass that is given in kg.
fn mass(row: &mut Row, column: &str, kilograms: &Q) {
    row.grams(column, &(kilograms * &Q::int(1000)));
}

//! Prices of many days: a table with a row a day, and what an ingredient costs in a column each.

use std::collections::BTreeMap;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{FileId, Source};
use trug_syntax::tree::{IngredientStatement, ItemBody, Quantity};

use crate::Q;
use crate::farm::table::{Cell, Row, rows as rows_of_table};
use crate::view::{View, Wants};

/// How the first heading reads.
const FIRST_HEADING: &str = "day";

/// What a kg of some ingredients costs on one day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prices(BTreeMap<SmolStr, (Q, SmolStr)>);

/// The prices of one day.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceDay {
    /// The day.
    pub day: Date,
    /// What is known of that day; any other ingredient costs what its text says.
    pub prices: Prices,
}

/// A cell that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnusedCell {
    /// Its line, from 1.
    pub line: usize,
    /// Its column, from 1.
    pub column: usize,
    /// What is wrong with it, and what to do.
    pub says: String,
}

impl Prices {
    /// Money for a kg, and its currency.
    pub(crate) fn of(&self, ingredient: &str) -> Option<(&Q, &str)> {
        let (price, currency) = self.0.get(ingredient)?;
        Some((price, currency.as_str()))
    }
}

/// A column: the ingredient and the unit of its prices.
struct Column {
    ingredient: SmolStr,
    unit: String,
}

impl View<'_> {
    /// Reads prices of many days, in the order of the days: headings `day`, then `maize LKR/kg` and so on; a cell left empty keeps
    /// the price of the text. Ingredients that nobody here names are read over.
    ///
    /// # Errors
    ///
    /// Every cell that cannot be used, with its place.
    pub fn price_days(&self, table: &str) -> Result<Vec<PriceDay>, Vec<UnusedCell>> {
        let mut reading = Reading {
            view: self,
            source: Source::new("", table),
            wrong: Vec::new(),
        };
        let days = reading.days(table);
        if reading.wrong.is_empty() {
            Ok(days)
        } else {
            Err(reading.wrong)
        }
    }
}

struct Reading<'a, 'farm> {
    view: &'a View<'farm>,
    source: Source,
    wrong: Vec<UnusedCell>,
}

impl Reading<'_, '_> {
    fn days(&mut self, table: &str) -> Vec<PriceDay> {
        let mut unreadable = Vec::new();
        let rows = rows_of_table(table, &mut unreadable);
        for finding in unreadable {
            self.say(finding.place.span.range().start, finding.message);
        }
        let mut rows = rows.into_iter();
        let Some(headings) = rows.next() else {
            self.say(
                0,
                format!("the table is empty: its first heading is `{FIRST_HEADING}`"),
            );
            return Vec::new();
        };
        let columns = self.columns(&headings);
        let mut days: Vec<PriceDay> = rows.filter_map(|row| self.day(&row, &columns)).collect();
        days.sort_by_key(|day| day.day);
        days
    }

    fn columns(&mut self, headings: &Row) -> Vec<Option<Column>> {
        let mut cells = headings.cells.iter();
        if let Some(first) = cells
            .next()
            .filter(|cell| cell.text.trim() != FIRST_HEADING)
        {
            let text = first.text.trim().to_owned();
            self.at(
                first,
                format!("the first heading is `{text}`; write `{FIRST_HEADING}`"),
            );
        }
        cells.map(|cell| self.column(cell)).collect()
    }

    fn column(&mut self, cell: &Cell) -> Option<Column> {
        let text = cell.text.trim();
        if text.is_empty() {
            return None;
        }
        let Some((name, unit)) = text.split_once(char::is_whitespace) else {
            let says = format!("`{text}` has no unit; write it as `{text} LKR/kg`");
            self.at(cell, says);
            return None;
        };
        Some(Column {
            ingredient: trug_syntax::composed(name),
            unit: unit.trim().to_owned(),
        })
    }

    fn day(&mut self, row: &Row, columns: &[Option<Column>]) -> Option<PriceDay> {
        let mut cells = row.cells.iter();
        let first = cells.next()?;
        let text = first.text.trim();
        let Ok(day) = text.parse::<Date>() else {
            self.at(first, format!("`{text}` is no day; write it as 2026-11-25"));
            return None;
        };
        let mut prices = Prices::default();
        for (cell, column) in cells.zip(columns) {
            let text = cell.text.trim();
            let Some(column) = column.as_ref().filter(|_| !text.is_empty()) else {
                continue;
            };
            match self.price(text, column) {
                Ok(price) => {
                    prices.0.insert(column.ingredient.clone(), price);
                }
                Err(says) => self.at(cell, says),
            }
        }
        Some(PriceDay { day, prices })
    }

    /// A cell is read as the line of an ingredient would be.
    fn price(&self, text: &str, column: &Column) -> Result<(Q, SmolStr), String> {
        let unit = &column.unit;
        let unread =
            || format!("`{text} {unit}` is no price; write a number, with the unit in the heading");
        if text.contains(['\n', '\r', '#', '"']) {
            return Err(unread());
        }
        let made = format!("ingredient row\n  price {text} {unit}\n");
        let tree = trug_syntax::parse(FileId::default(), &made);
        let quantity = tree.items.iter().find_map(|item| match &item.body {
            ItemBody::Ingredient(ingredient) => ingredient
                .lines
                .iter()
                .find_map(|line| priced(&line.statement)),
            _ => None,
        });
        let quantity = quantity
            .filter(|_| tree.findings.is_empty())
            .ok_or_else(unread)?;
        let mut findings = Vec::new();
        let reader = self
            .view
            .reader_of(self.view.scope.own(), &column.ingredient);
        let measure = reader.quantity(quantity, &Wants::PRICE, &mut findings);
        let measure = measure.ok_or_else(unread)?;
        let currency = measure.dimension.currency().ok_or_else(unread)?;
        if measure.value.is_negative() {
            return Err(format!("a price of {text} {unit} is below nothing"));
        }
        Ok((measure.value, SmolStr::new(currency)))
    }

    fn at(&mut self, cell: &Cell, says: String) {
        self.say(cell.span.range().start, says);
    }

    fn say(&mut self, offset: usize, says: String) {
        let position = self.source.position(offset);
        self.wrong.push(UnusedCell {
            line: position.line,
            column: position.column,
            says,
        });
    }
}

fn priced(statement: &IngredientStatement) -> Option<&Quantity> {
    match statement {
        IngredientStatement::Price { value, .. } => Some(value),
        _ => None,
    }
}

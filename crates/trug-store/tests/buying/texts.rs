//! Texts in memory to a shopping list, on a day of our own.

use jiff::civil::{Date, date};
use trug_findings::FileId;
use trug_model::{Farm, InMemory, Q, Settings};
use trug_store::{Buying, Judged, Purchase, Row, buying};

/// Every list begins on this day.
pub(crate) const TODAY: Date = date(2026, 11, 25);

/// The list for these texts, all of them asked for.
pub(crate) fn bought(texts: &[(&str, &str)], days: u32) -> Buying {
    let farm = farm(texts);
    let found = farm.check();
    let files: Vec<FileId> = farm.files().collect();
    buying(&farm, &files, Judged::Found(&found), TODAY, days)
}

fn farm(texts: &[(&str, &str)]) -> Farm {
    let names: Vec<String> = texts.iter().map(|(name, _)| (*name).to_owned()).collect();
    let settings = Settings {
        today: Some(TODAY),
        ..Settings::default()
    };
    Farm::read(&names, &InMemory::new(texts.iter().copied()), settings)
}

/// A decimal.
pub(crate) fn q(text: &str) -> Q {
    Q::fraction(text).unwrap()
}

/// The row of an ingredient.
pub(crate) fn row<'a>(list: &'a Buying, name: &str) -> &'a Row {
    list.rows.iter().find(|row| row.name == name).unwrap()
}

/// What is to be bought of an ingredient.
pub(crate) fn purchase<'a>(list: &'a Buying, name: &str) -> &'a Purchase {
    row(list, name).purchase.as_ref().unwrap()
}

/// The rations a group is mixed for today by its age.
pub(crate) fn eaten_by_age(text: &str, group: &str) -> Option<Vec<String>> {
    let farm = farm(&[("f.trug", text)]);
    let file = farm.files().next().unwrap();
    let names = farm.open(file).eaten_by_age(group)?;
    Some(names.iter().map(ToString::to_string).collect())
}

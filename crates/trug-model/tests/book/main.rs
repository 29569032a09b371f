//! The bundled books against the data they were made from, which stands beside: every value in the texts is a row, and
//! every row is in the texts or left out with a reason.

#![expect(clippy::unwrap_used, reason = "a test ends where it cannot go on")]

mod both_ways;
mod clean;
mod diets;
mod plausible;
mod rows;
mod said;

use trug_model::{Farm, InMemory, Library, Settings};

/// The texts of the books, by name.
pub(crate) fn books() -> Vec<(&'static str, &'static str)> {
    let newest = &Library::bundled().editions()[0];
    newest.books.to_vec()
}

/// The text of a book.
pub(crate) fn book(name: &str) -> &'static str {
    let all = books();
    let found = all.iter().find(|(known, _)| *known == name);
    found.map(|(_, text)| *text).unwrap()
}

/// A farm of one text.
pub(crate) fn farm(text: &str) -> Farm {
    let texts = InMemory::new([("farm.trug", text)]);
    Farm::read(&["farm.trug".to_owned()], &texts, Settings::default())
}

//! Shopping lists drawn for people and for programs.

mod csv;
mod html;
mod json;
mod picture;
mod remarks;
mod text;
mod told;

pub use csv::buy_csv;
pub use html::buy_html;
pub use json::buy_document;
pub use text::buy_text;

use trug_findings::Source;
use trug_store::Buying;

/// A shopping list with what is told around it.
#[derive(Clone, Copy, Debug)]
pub struct ShoppingList<'a> {
    /// What is to be bought, and what there is to say about it.
    pub buying: &'a Buying,
    /// The texts, by their number.
    pub sources: &'a [Source],
}

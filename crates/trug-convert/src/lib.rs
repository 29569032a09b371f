//! A spreadsheet saved as CSV to a text one would have written by hand, and a text to CSV.
//!
//! Nothing is guessed: a unit stands in the table or is said by the user, and what could not be used is said with its
//! place and the reason. Numbers are kept digit for digit.

mod book;
mod cells;
mod items;
mod layout;
mod names;
mod remarks;
mod to_table;
mod to_text;
mod units;
mod words;

pub use remarks::{Converted, Refusal, Remark, Weight};
pub use to_table::to_table;
pub use to_text::{Wishes, to_text};

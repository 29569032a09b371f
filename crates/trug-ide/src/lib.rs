//! An offset in a text to hover, completion, rename and the like, as plain structs.
//!
//! Every answer is a function of a farm, a text of it, and an offset in bytes or a range; it never fails, and is empty
//! where there is nothing to say. Knows no protocol: lines, columns and encodings are made by who asks.

mod cards;
mod hover;
mod lines;
mod markdown;
mod parts;
mod paths;
mod units;

pub use hover::{Hover, hover};

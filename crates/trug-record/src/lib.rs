//! What was really mixed against what was planned, and where it went.
//!
//! Records are judged with what planning knows, so a check of a farm that is to say everything begins here: [`check`].

pub mod findings;

mod check;
mod judge;
mod words;

pub mod ledger;

mod contents;

pub mod trace;

pub use check::{check, check_counting, check_file};
pub use judge::{Outcome, outcome};

//! Whatever bytes come in: what must hold of the tool, as functions that stop where it does not.
//!
//! Each target takes bytes and asks one part of the tool. `tests/fuzz` lets a fuzzer look for bytes that make one stop;
//! what it found is kept in `tests/fuzz/corpus` and run again by `whole/corpus.rs`, without a fuzzer.

mod balance;
mod bytes;
mod change;
mod check;
mod client;
mod disk;
mod edits;
mod farms;
mod held;
mod keeping;
mod plan;
mod questions;
mod reader;
pub mod seeds;
mod table;
mod tidy;
mod wire;

pub use balance::balance;
pub use change::{change_table, change_text};
pub use check::check;
pub use edits::edits;
pub use keeping::keeping;
pub use plan::plan;
pub use questions::questions;
pub use reader::reader;
pub use table::table;
pub use tidy::tidy;
pub use wire::wire;

/// A target: its name, and what is asked of the bytes.
pub type Target = (&'static str, fn(&[u8]));

/// Every target, by the name of its folder in the corpus.
pub const TARGETS: [Target; 10] = [
    ("reader", reader),
    ("tidy", tidy),
    ("check", check),
    ("plan", plan),
    ("balance", balance),
    ("keeping", keeping),
    ("questions", questions),
    ("table", table),
    ("edits", edits),
    ("wire", wire),
];

/// The targets that read texts of a farm: what is in the corpus for one of them is given to all.
pub const OF_TEXTS: [&str; 7] = [
    "reader",
    "tidy",
    "check",
    "plan",
    "balance",
    "keeping",
    "questions",
];

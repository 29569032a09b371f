//! Any result to words, JSON, CSV and SARIF: the only crate that draws, and the owner of the JSON that programs rely on.
//!
//! Knows no disk, no terminal and no clock: width, colour and day are handed in, and the same input gives the same bytes.

pub mod analysis;
pub mod balance;
pub mod buy;
pub mod catalogue;
pub mod compare;
pub mod evenness;
pub mod findings;
pub mod json;
mod page;
pub mod plan;
pub mod refusal;
pub mod schema;
pub mod sheet;
pub mod speech;
mod table;
pub mod trace;
pub mod words;

pub use schema::{names, schema};

//! The grammars editors colour by, held to the language: every word of every text is the same to all of them.
//!
//! `editors/tests/grammars` installs what these tests need and runs them.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may stop where it stands"
)]

mod corpus;
mod engines;
mod kinds;
mod reference;
mod same;
mod texts;
mod tree;
mod words;

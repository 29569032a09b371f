//! The tests of the whole: pages, codes, examples, documents, and the repository itself.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may stop where it stands"
)]

mod codes;
mod documents;
mod editor;
mod examples;
mod forms;
mod layout;
mod names;
mod pages;
mod sources;
mod standards;
mod starters;
mod supply;
mod texts;

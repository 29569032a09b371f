//! The tests of the whole: pages, codes, examples, documents, and the repository itself.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may stop where it stands"
)]

mod arithmetic;
mod changed;
mod codes;
mod corpus;
mod documents;
mod editor;
mod examples;
mod forms;
mod layout;
mod mixing;
mod names;
mod pages;
mod recounted;
mod sources;
mod standards;
mod starters;
mod supply;
mod texts;

//! Sheets drawn as PDF and read back.
#![expect(clippy::unwrap_used, reason = "a test ends where it cannot go on")]

mod alike;
mod drawn;
#[path = "../../../trug-plan/tests/support/mod.rs"]
mod orders;
mod planned;
mod support;

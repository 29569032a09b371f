//! The page of a plan in a real browser: printed, on a phone, and at work.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may stop where it stands"
)]

mod driver;
mod layout;
mod numbers;
mod print;
mod tool;
mod work;

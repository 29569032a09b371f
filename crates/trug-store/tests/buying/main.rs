//! Shopping lists: worked by hand, and replayed day by day on made-up farms.

#![expect(clippy::unwrap_used, reason = "a test may stop where it stands")]

mod by_age;
mod made_up;
mod replay;
mod replayed;
mod texts;
mod worked;

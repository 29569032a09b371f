//! What is promised of everything drawn: its words, its places, and that no text can break it.
#![expect(clippy::unwrap_used, reason = "a test ends where it cannot go on")]

mod analysis;
mod balance;
mod farm;
mod human;
mod pages;
mod programs;
mod robust;
mod sarif;
mod schema;

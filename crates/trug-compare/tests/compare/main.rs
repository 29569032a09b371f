//! Two states of a farm, held side by side: what a change of the text changes, and what it does not.
#![expect(clippy::unwrap_used, reason = "a test ends where it cannot go on")]

mod changes;
mod editions;
mod farm;
mod mirror;

//! The server as a client meets it: over a wire in memory, with a disk in memory.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test that cannot set itself up has failed"
)]

mod addresses;
mod bytes;
mod client;
mod diagnostics;
mod edits;
mod farms;
mod lenses;
mod memory;
mod previews;
mod requests;
mod settings;
mod spoken;
mod traps;

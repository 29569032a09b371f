//! What goes wrong around the tool: full disks, shut folders, kills, closed streams, odd surroundings, strange files.
//!
//! The ways to make such trouble are Linux's. Where a machine does not allow one, that test says so and passes.
#![cfg(target_os = "linux")]
#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]

mod around;
mod disk;
#[expect(dead_code, reason = "shared with the tests of the command line")]
#[path = "../cli/farm.rs"]
mod farm;
mod killed;
mod kinds;
mod machine;
#[expect(dead_code, reason = "shared with the tests of the command line")]
#[path = "../cli/mash.rs"]
mod mash;
mod reading;
mod server;
mod streams;

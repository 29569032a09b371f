//! The binary as its users meet it: what it is given, what it prints where, how it ends.
#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]

mod alike;
mod balance;
mod buy;
mod by_age;
mod check;
mod compare;
mod convert;
mod evenness;
mod farm;
mod guides;
mod light;
mod lots;
mod lsp;
mod mash;
mod pages;
mod plan;
mod prints;
mod refused;
mod repository;
mod sheet;
mod start;
mod tables;
mod threads;
mod tidy;
mod trace;
mod written;

//! Order, snapshots, encodings and cancellation: the protocol of a language server, and nothing about feed.
//!
//! One thread owns everything that changes ([`owner`]); whatever comes over the wire is only sent to it, before
//! anything is awaited, so edits apply in the order they came. What is asked is answered elsewhere, on a snapshot that
//! does not change. What the server is given of the world ([`World`]) is handed in.

mod abilities;
mod actions;
mod area;
mod candidates;
mod convert;
mod diagnostics;
mod documents;
mod event;
mod folders;
mod guard;
mod hello;
mod indexing;
mod judge;
mod legend;
mod lenses;
mod naming;
mod outbox;
mod outlet;
mod owner;
mod position;
mod pulled;
mod ready;
mod reports;
mod requests;
mod serve;
mod server;
mod session;
mod settings;
mod settle;
mod snapshot;
mod snippet;
mod symbols;
mod takings;
mod wire;
mod world;

pub use serve::{serve, serve_on};
pub use wire::Ended;
pub use world::{Listed, World};

pub(crate) use tower_lsp::lsp_types as lsp;

//! The cheapest shares, in exact arithmetic, with the proof that nothing is cheaper.

mod watch;

mod exact;
mod kernel;
pub(crate) mod linear;
pub(crate) mod rows;
mod scaling;
mod sketch;

pub use watch::{Stopped, Watch};

#[cfg(test)]
mod tests;

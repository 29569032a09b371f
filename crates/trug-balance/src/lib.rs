//! A ration with open amounts to the cheapest choice of them, with its reasons and its proof.

pub mod programme;

mod solve;

pub use solve::{Stopped, Watch};

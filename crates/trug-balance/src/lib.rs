//! A ration with open amounts to the cheapest choice of them, with its reasons and its proof.

mod answer;
mod conflict;
#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "the inputs are fixed")]
mod made_up;
pub mod programme;
mod rounding;
mod settled;
mod solve;

pub use answer::answer;
pub use solve::{Stopped, Watch};

//! A checked ration and a batch to a mixing plan, and the verifier of plans.

pub mod order;
pub mod plan;
pub mod verify;

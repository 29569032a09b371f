//! Items of all files to names, units, exact quantities and checks.

pub mod analysis;
pub mod exact;
mod texts;

pub use exact::Q;
pub use texts::{Absent, InMemory, Texts};

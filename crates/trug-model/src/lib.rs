//! Items of all files to names, units, exact quantities and checks.

pub mod exact;

pub use exact::Q;

//! Samples of a batch to how even it is, and where to take them.
//!
//! Everything here is statistics: floating point is used for what was estimated, and nothing is weighed by it. Sums of
//! what the laboratory wrote down are exact.

pub mod statistics;

pub mod chi_square;

pub mod spread;

pub mod verdict;

pub mod bands;

pub mod trend;

pub mod places;

mod test;

mod sampling;

pub use sampling::{BAG_KG, Sampling, sampling};
pub use test::{EvennessTest, Untestable, Untested, Wanted, tests_of, wanted};

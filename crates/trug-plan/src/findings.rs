//! What the planner can say, one file for each family.

pub mod keeping;
pub mod mix;
pub mod vessel;
pub mod weigh;

use trug_findings::Code;

/// Every code of the planner, by family, in the order of the reference.
pub static FAMILIES: [&[&Code]; 4] = [mix::ALL, keeping::ALL, weigh::ALL, vessel::ALL];

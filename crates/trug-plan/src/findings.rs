//! What the planner can say, one file for each family.

pub mod mix;
pub mod vessel;
pub mod weigh;

use trug_findings::Code;

/// Every code of the planner, by family, in the order of the reference.
pub static FAMILIES: [&[&Code]; 3] = [mix::ALL, weigh::ALL, vessel::ALL];

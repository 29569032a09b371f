//! Text to items and lines; never fails.

pub mod tree;

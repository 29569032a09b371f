//! What every page shares: how a text gets into it, and what it may do.

pub(crate) mod policy;
pub(crate) mod text;

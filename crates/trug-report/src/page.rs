//! What every page shares: how a text gets into it, what it may do, and what stands around it.

pub(crate) mod policy;
pub(crate) mod still;
pub(crate) mod text;

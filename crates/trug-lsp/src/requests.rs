//! The requests, a file each: convert what came in, ask once, convert the answer.

pub(crate) mod command;
pub(crate) mod content;
pub(crate) mod diagnostic;
pub(crate) mod workspace_diagnostic;

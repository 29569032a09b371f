//! The requests, a file each: convert what came in, ask once, convert the answer.

pub(crate) mod calls;
pub(crate) mod code_action;
pub(crate) mod code_lens;
pub(crate) mod command;
pub(crate) mod completion;
pub(crate) mod content;
pub(crate) mod definition;
pub(crate) mod diagnostic;
pub(crate) mod folding;
pub(crate) mod formatting;
pub(crate) mod hover;
pub(crate) mod inlay_hint;
pub(crate) mod links;
pub(crate) mod references;
pub(crate) mod rename;
pub(crate) mod rename_files;
pub(crate) mod symbols;
pub(crate) mod tokens;
pub(crate) mod workspace_diagnostic;

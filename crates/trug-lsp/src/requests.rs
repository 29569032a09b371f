//! The requests, a file each: convert what came in, ask once, convert the answer.

pub(crate) mod code_action;
pub(crate) mod code_lens;
pub(crate) mod command;
pub(crate) mod completion;
pub(crate) mod completion_resolve;
pub(crate) mod content;
pub(crate) mod definition;
pub(crate) mod diagnostic;
pub(crate) mod document_symbol;
pub(crate) mod folding;
pub(crate) mod formatting;
pub(crate) mod hover;
pub(crate) mod incoming_calls;
pub(crate) mod inlay_hint;
pub(crate) mod links;
pub(crate) mod outgoing_calls;
pub(crate) mod prepare_calls;
pub(crate) mod references;
pub(crate) mod rename;
pub(crate) mod rename_files;
pub(crate) mod selection;
pub(crate) mod tokens_delta;
pub(crate) mod tokens_full;
pub(crate) mod tokens_range;
pub(crate) mod workspace_diagnostic;
pub(crate) mod workspace_symbol;

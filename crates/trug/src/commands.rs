//! The commands, a file each: load, call one function of the core, print one report.

mod analyse;
mod balance;
mod book;
mod buy;
mod check;
mod compare;
mod completions;
mod convert;
mod evenness;
mod lsp;
mod man;
mod plan;
mod schema;
mod start;
mod tidy;
mod trace;
mod why;

pub(crate) use analyse::analyse;
pub(crate) use balance::balance;
pub(crate) use book::book;
pub(crate) use buy::buy;
pub(crate) use check::check;
pub(crate) use compare::compare;
pub(crate) use completions::completions;
pub(crate) use convert::convert;
pub(crate) use evenness::evenness;
pub(crate) use lsp::lsp;
pub(crate) use man::man;
pub(crate) use plan::plan;
pub(crate) use schema::schema;
pub(crate) use start::start;
pub(crate) use tidy::tidy;
pub(crate) use trace::trace_of;
pub(crate) use why::why;

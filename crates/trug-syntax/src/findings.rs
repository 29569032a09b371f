//! What may be said while a text is read, one file per family.

pub mod name;
pub mod syntax;
pub mod unit;

use trug_findings::Code;

/// Every code this crate raises, in the order of the reference.
pub static ALL: &[&Code] = &[
    &syntax::LINE,
    &syntax::ITEM,
    &syntax::RANGE,
    &syntax::MARGIN,
    &syntax::TEXT,
    &syntax::SPELLING,
    &unit::COMMA,
    &name::RESERVED,
];

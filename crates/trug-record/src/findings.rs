//! Everything that records can say beside a plan: a code beside the function that raises it.

#![expect(missing_docs, reason = "a code's page says what it means")]

pub mod record;

use trug_findings::Code;

/// The codes of every family.
pub static FAMILIES: [&[&Code]; 1] = [record::ALL];

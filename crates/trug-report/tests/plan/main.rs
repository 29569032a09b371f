//! Plans drawn as text, CSV and JSON, from the plans made by hand that the verifier is tested with.
#![expect(clippy::unwrap_used, reason = "a test ends where it cannot go on")]

mod csv;
mod document;
mod made_by_hand;
mod picture;
mod planned;
mod text;

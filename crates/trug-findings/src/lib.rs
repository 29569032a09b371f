//! What may be said about a farm's texts, and where: places, findings, fixes and codes.
//!
//! Depends on nothing of ours. A finding is plain data; it is drawn elsewhere. Offsets are bytes;
//! [`Source`] turns them into the lines and columns that people and programs read.

mod code;
mod finding;
mod place;
mod source;

pub use code::{Code, Family, Severity};
pub use finding::{Acceptance, Edit, Finding, Fix, Related, sort};
pub use place::{FileId, Place, Span};
pub use source::{Position, Source};

//! The harness of the marked texts in `suite/`, and what the tests of the whole stand on.
//!
//! A test is a text a farmer could read, with what is expected written under the line it concerns.
//! Nothing here knows a disk but [`repository`]: texts are handed to the tool in memory.

pub mod answer;
pub mod balance;
pub mod claims;
pub mod draw;
pub mod editor;
pub mod fixes;
pub mod hostile;
pub mod marked;
pub mod page;
pub mod places;
pub mod readings;
pub mod repository;
pub mod run;
pub mod supply;

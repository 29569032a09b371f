//! The solver against answers known beforehand, against other solvers, and against its own proofs.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod blends;
mod certainty;
mod edges;
mod linear;
mod patterns;
mod properties;
mod reasons;

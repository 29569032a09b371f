//! The verifier against plans made by hand: the good ones pass, and whatever is changed in them is caught.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod any_json;
mod broken_amounts;
mod broken_steps;
mod changes;
mod each_rule;
mod good_plans;
mod whole_changes;

//! What a plan's own findings must lead to.

use super::sheet::Sheet;
use super::{Breaches, Rule};

/// A plan with an error that stands open is a draft.
pub(super) fn check(sheet: &Sheet, found: &mut Breaches) {
    if let Some(error) = sheet.open.iter().find(|remark| remark.is_error)
        && !sheet.draft
    {
        let says = format!("{} is an error, and the plan is no draft", error.code);
        found.add(Rule::Draft, "the plan", says);
    }
}

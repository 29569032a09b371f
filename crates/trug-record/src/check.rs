//! A check that says everything: what the model finds in a text, and what its records say beside the plan.

use trug_findings::{FileId, Finding};
use trug_model::{Farm, View};

use crate::judge::records;

/// Everything there is to say about the texts asked for and the texts they use, in the order of files and places.
#[must_use]
pub fn check(farm: &Farm) -> Vec<Finding> {
    check_counting(farm, &|| {})
}

/// The same, telling `done` each time a text is judged.
pub fn check_counting(farm: &Farm, done: &(dyn Fn() + Sync)) -> Vec<Finding> {
    farm.check_with(Some(&of_records), done)
}

/// What there is to say about one text, alone with what it uses.
#[must_use]
pub fn check_file(farm: &Farm, file: FileId) -> Vec<Finding> {
    farm.check_file_with(file, Some(&of_records))
}

fn of_records(view: &View<'_>, findings: &mut Vec<Finding>) {
    if !view.farm().is_book(view.file()) {
        records(view, findings);
    }
}

//! Pages of findings in a terminal.

use trug_report::catalogue::{page_text, summary};

use crate::farm::CEILING;

#[test]
fn a_page_reads_without_its_markup() {
    insta::assert_snapshot!(page_text(&CEILING, 72));
}

#[test]
fn the_summary_is_the_first_paragraph() {
    assert_eq!(
        summary(&CEILING),
        "An ingredient is above the amount from which it can do harm. \
         The `ceiling` line of the ingredient says where that is, and why."
    );
}

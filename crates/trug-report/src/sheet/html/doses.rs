//! What doses and bounds can be: first what can hurt, then, smaller, what is only aimed at.

use maud::{Markup, html};

use super::{Place, Text, apart};
use crate::sheet::{DoseRow, Doses};

/// The table of doses and bounds.
pub(super) fn table(place: &Place<'_>, doses: &Doses) -> Markup {
    let columns = &doses.columns;
    html! {
        section.doses aria-labelledby=(place.id("doses")) {
            h2 id=(place.id("doses")) { (Text(&doses.heading)) }
            table {
                thead {
                    tr {
                        th scope="col" { (Text(&columns.what)) }
                        th scope="col" { (Text(&columns.value)) }
                        th scope="col" { (Text(&columns.bound)) }
                        th scope="col" { (Text(&columns.batch)) }
                        th scope="col" { (Text(&columns.portion)) }
                    }
                }
                (body(doses, true))
                (body(doses, false))
            }
        }
    }
}

fn body(doses: &Doses, can_hurt: bool) -> Markup {
    let rows: Vec<&DoseRow> = doses
        .rows
        .iter()
        .filter(|row| row.can_hurt == can_hurt)
        .collect();
    let columns = &doses.columns;
    html! {
        @if !rows.is_empty() {
            tbody class=(if can_hurt { "can-hurt" } else { "aims" }) {
                @for row in rows {
                    tr {
                        th scope="row" { (apart(&row.what)) }
                        (cell(&columns.value, &row.value))
                        (cell(&columns.bound, &row.bound))
                        (cell(&columns.batch, &row.batch))
                        (cell(&columns.portion, &row.portion))
                    }
                }
            }
        }
    }
}

/// A cell that says its column where the table is drawn without a head.
fn cell(column: &str, value: &str) -> Markup {
    html! {
        td data-label=(Text(column)) { @if !value.is_empty() { (apart(value)) } }
    }
}

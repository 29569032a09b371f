//! What doses and bounds can be: first what can hurt, then, smaller, what is only aimed at.

use maud::{Markup, html};

use super::{Place, Text, apart, crowding};
use crate::sheet::{DoseColumns, DoseRow, Doses};

/// The doses and bounds, in two tables.
pub(super) fn section(place: &Place<'_>, doses: &Doses) -> Markup {
    html! {
        section.doses aria-labelledby=(place.id("doses")) {
            h2 id=(place.id("doses")) { (Text(&doses.heading)) }
            (table(doses, true, "can-hurt"))
            (table(doses, false, if crowding::has_many_aims(doses) { "aims many" } else { "aims" }))
        }
    }
}

fn table(doses: &Doses, can_hurt: bool, class: &str) -> Markup {
    let rows: Vec<&DoseRow> = doses
        .rows
        .iter()
        .filter(|row| row.can_hurt == can_hurt)
        .collect();
    let columns = &doses.columns;
    html! {
        @if !rows.is_empty() {
            div class=(class) {
                table {
                    (head(columns))
                    tbody {
                        @for row in rows {
                            tr {
                                th scope="row" { (apart(&row.what)) }
                                (cell("value", &columns.value, &row.value))
                                (cell("bound", &columns.bound, &row.bound))
                                (cell("batch", &columns.batch, &row.batch))
                                (cell("portion", &columns.portion, &row.portion))
                            }
                        }
                    }
                }
            }
        }
    }
}

fn head(columns: &DoseColumns) -> Markup {
    html! {
        thead {
            tr {
                th scope="col" { (Text(&columns.what)) }
                th.value scope="col" { (Text(&columns.value)) }
                th.bound scope="col" { (Text(&columns.bound)) }
                th.batch scope="col" { (Text(&columns.batch)) }
                th.portion scope="col" { (Text(&columns.portion)) }
            }
        }
    }
}

/// A cell that says its column where the table is drawn without a head.
fn cell(class: &str, column: &str, value: &str) -> Markup {
    html! {
        td class=(class) data-label=(Text(column)) { @if !value.is_empty() { (apart(value)) } }
    }
}

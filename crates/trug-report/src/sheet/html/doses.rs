//! What doses and bounds can be: first what can hurt, then, smaller, what is only aimed at.

use maud::{Markup, html};

use super::{Place, Text, apart, crowding};
use crate::sheet::{DoseColumns, DoseRow, Doses};

/// The doses and bounds: in one table, or, where there are many targets, in a second one for these.
pub(super) fn section(place: &Place<'_>, doses: &Doses) -> Markup {
    let (can_hurt, aims): (Vec<&DoseRow>, Vec<&DoseRow>) =
        doses.rows.iter().partition(|row| row.can_hurt);
    html! {
        section.doses aria-labelledby=(place.id("doses")) {
            h2 id=(place.id("doses")) { (Text(&doses.heading)) }
            @if crowding::has_many_aims(doses) {
                (table(&doses.columns, "few", &[("can-hurt", &can_hurt)]))
                (table(&doses.columns, "many", &[("aims", &aims)]))
            } @else {
                (table(&doses.columns, "few", &[("can-hurt", &can_hurt), ("aims", &aims)]))
            }
        }
    }
}

fn table(columns: &DoseColumns, class: &str, parts: &[(&str, &[&DoseRow])]) -> Markup {
    html! {
        @if parts.iter().any(|(_, rows)| !rows.is_empty()) {
            div class=(class) {
                table {
                    (head(columns))
                    @for (class, rows) in parts {
                        @if !rows.is_empty() {
                            tbody class=(class) { @for row in *rows { (row_of(columns, row)) } }
                        }
                    }
                }
            }
        }
    }
}

fn row_of(columns: &DoseColumns, row: &DoseRow) -> Markup {
    html! {
        tr {
            th scope="row" { (apart(&row.what)) }
            (cell("value", &columns.value, &row.value))
            (cell("bound", &columns.bound, &row.bound))
            (cell("batch", &columns.batch, &row.batch))
            (cell("portion", &columns.portion, &row.portion))
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

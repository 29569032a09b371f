//! The weighing table: on paper a table with room to write in, on a phone one card for every weighing.

use maud::{Markup, html};

use super::{Place, Sheet, Text, apart};
use crate::sheet::{WeighingBlock, WeighingColumns, WeighingRow, WeighingTable};

/// The weighing table, with who mixes above it.
pub(super) fn table(place: &Place<'_>, sheet: &Sheet) -> Markup {
    let weigh = &sheet.weigh;
    html! {
        section.weigh aria-labelledby=(place.id("weigh")) {
            div.heading {
                h2 id=(place.id("weigh")) { (Text(&weigh.heading)) }
                p.by {
                    label for=(place.id("by")) { (Text(&sheet.record.words.mixed_by)) }
                    input type="text" id=(place.id("by")) autocomplete="off" maxlength="200";
                }
            }
            table class={ "weighings" @if weigh.has_lots { " has-lots" } } {
                (head(place, weigh))
                @for block in &weigh.blocks { (block_of(place, weigh, block)) }
                tbody.together {
                    tr {
                        td {}
                        th scope="row" colspan=(if weigh.has_lots { "2" } else { "1" }) { (Text(&weigh.together.what)) }
                        td.mass { (apart(&weigh.together.value)) }
                        td colspan="4" {}
                    }
                }
            }
            p.left role="status" hidden {}
            p.not-kept { (Text(&sheet.record.words.not_kept)) }
        }
    }
}

fn head(place: &Place<'_>, weigh: &WeighingTable) -> Markup {
    let WeighingColumns {
        what,
        lot,
        mass,
        scale,
        range,
        done,
        actual,
    } = &weigh.columns;
    html! {
        thead {
            tr {
                td {}
                th.what scope="col" { (Text(what)) }
                @if weigh.has_lots { th.lot scope="col" { (Text(lot)) } }
                th.mass scope="col" { (Text(mass)) }
                th.scale scope="col" { (Text(scale)) }
                th.range scope="col" { (Text(range)) }
                th.done scope="col" { (Text(done)) }
                th.actual scope="col" id=(place.id("actual")) { (Text(actual)) }
            }
        }
    }
}

fn block_of(place: &Place<'_>, weigh: &WeighingTable, block: &WeighingBlock) -> Markup {
    let columns = if weigh.has_lots { "8" } else { "7" };
    html! {
        tbody.block {
            tr.block-heading { th scope="rowgroup" colspan=(columns) { (apart(&block.heading)) } }
            @for (rank, row) in block.rows.iter().enumerate() {
                (row_of(place, weigh, row, (rank == 0).then_some(block.heading.as_str())))
                @if has_notes(row) {
                    tr.notes {
                        td {}
                        td colspan=(if weigh.has_lots { "7" } else { "6" }) { (notes(place, row)) }
                    }
                }
            }
        }
    }
}

fn has_notes(row: &WeighingRow) -> bool {
    row.loads.is_some() || !row.cautions.is_empty()
}

/// The label fills the row, so that a thumb need not hit the box.
fn row_of(
    place: &Place<'_>,
    weigh: &WeighingTable,
    row: &WeighingRow,
    first_for: Option<&str>,
) -> Markup {
    let columns = &weigh.columns;
    let tick = place.id(&format!("tick-{}", row.number));
    let what = place.id(&format!("what-{}", row.number));
    let message = place.id(&format!("message-{}", row.number));
    html! {
        tr class={ "weighing" @if has_notes(row) { " has-notes" } }
            data-weighing=(Text(&row.id))
            data-ingredient=(Text(&row.ingredient))
            data-lot=[row.lot.as_deref().map(Text)]
            data-mass=(Text(&row.mass_g))
            data-from=(Text(&row.from_g))
            data-to=(Text(&row.to_g))
            data-unit=(row.unit)
            data-grams-per-unit=(row.grams_per_unit)
        {
            td.number data-for=[first_for.map(Text)] { (row.number) }
            td.what id=(what) { label for=(tick) { (place.label(&row.what)) } }
            @if weigh.has_lots {
                td.lot data-label=(Text(&columns.lot)) { @if let Some(lot) = &row.lot { (apart(lot)) } }
            }
            td.mass { data value=(Text(&row.mass_g)) { (apart(&row.mass)) } }
            td.scale data-label=(Text(&columns.scale)) { (apart(&row.scale)) }
            td.range data-label=(Text(&columns.range)) { @if !row.range.is_empty() { (apart(&row.range)) } }
            td.done { input.tick type="checkbox" id=(tick) autocomplete="off"; }
            td.actual data-label=(Text(&columns.actual)) {
                span.field {
                    input.typed type="text" inputmode="decimal" autocomplete="off" maxlength="20"
                        aria-labelledby={ (place.id("actual")) " " (what) } aria-describedby=(message);
                    span.unit { (row.unit) }
                }
                span.message id=(message) role="status" {}
            }
        }
    }
}

fn notes(place: &Place<'_>, row: &WeighingRow) -> Markup {
    html! {
        @if let Some(loads) = &row.loads { p.loads dir="auto" { (Text(loads)) } }
        @for caution in &row.cautions {
            p.caution { span.sign aria-hidden="true" { "!" } " " (place.label(caution)) }
        }
    }
}

//! Balanced rations as one HTML file that needs nothing else: amounts, what decides, what is left out, or what contradicts what.
//!
//! It has no script. Every text goes through [`Text`]; exact shares stand in `data` elements with the digits of `balance/1`.

use maud::{Markup, html};

use super::BalancedRation;
use super::told::{AmountTold, Told, told};
use crate::page::still::still_page;
use crate::page::text::Text;

/// How the page looks, on a screen and on paper.
const STYLE: &str = concat!(
    include_str!("../page/base.css"),
    include_str!("html/balance.css")
);

/// The balanced rations as a page, in their order.
#[must_use]
pub fn balance_html(pages: &[BalancedRation<'_>]) -> String {
    let pages: Vec<Told> = pages.iter().map(told).collect();
    let title = match pages.as_slice() {
        [only] => format!("Least cost: {}", only.title),
        _ => "Least cost".to_owned(),
    };
    let content = html! {
        @for (rank, page) in pages.iter().enumerate() { (article(page, rank + 1)) }
    };
    still_page(&title, STYLE, &content)
}

fn article(page: &Told, rank: usize) -> Markup {
    let title = format!("r{rank}-title");
    html! {
        article aria-labelledby=(title) {
            header {
                h1 id=(title) { bdi { (Text(&page.title)) } }
                p.written { (Text(&page.written)) }
            }
            p.result { (Text(&page.result)) }
            @if !page.amounts.is_empty() { (amounts(page)) }
            @if !page.reasons.is_empty() { (reasons(page)) }
            @if !page.left_out.is_empty() {
                section {
                    h2 { "Left out" }
                    ul { @for line in &page.left_out { li { (Text(line)) } } }
                }
            }
            @if !page.conflict.is_empty() { (conflict(page)) }
            @for remark in &page.remarks { p.remark { (Text(remark)) } }
        }
    }
}

fn amounts(page: &Told) -> Markup {
    html! {
        section {
            h2 { "Amounts" }
            table {
                thead { tr {
                    th scope="col" { "ingredient" }
                    th scope="col" { "amount" }
                    th scope="col" { "price a kg" }
                    th scope="col" { "the amounts stay for" }
                } }
                tbody { @for amount in &page.amounts { (amount_row(amount)) } }
            }
        }
    }
}

fn amount_row(amount: &AmountTold) -> Markup {
    let wide = amount.exact.to_f64().clamp(0.0, 100.0);
    html! {
        tr {
            th scope="row" {
                bdi { @if amount.is_chosen { strong { (Text(&amount.ingredient)) } } @else { (Text(&amount.ingredient)) } }
                svg.part viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true" {
                    rect x="0" y="0" width=(format!("{wide:.2}")) height="4" {}
                }
            }
            td {
                data value=(amount.exact.to_string()) { (Text(&amount.percent)) }
                @if !amount.before.is_empty() { br; span.remark { (Text(&amount.before)) } }
            }
            td { (Text(&amount.price)) }
            td { (Text(&amount.stays)) }
        }
    }
}

fn reasons(page: &Told) -> Markup {
    html! {
        section {
            h2 { "What decides" }
            table.words {
                tbody { @for reason in &page.reasons { tr {
                    th scope="row" { bdi { (Text(&reason.bound)) } }
                    td { (Text(&reason.says)) }
                    td.written { (Text(&reason.written)) }
                } } }
            }
        }
    }
}

fn conflict(page: &Told) -> Markup {
    html! {
        section {
            h2 { "These cannot all be kept" }
            p { "Without any one of them the others can." }
            table.words {
                tbody { @for (says, written) in &page.conflict { tr {
                    th scope="row" { bdi { (Text(says)) } }
                    td.written { (Text(written)) }
                } } }
            }
        }
        section {
            h2 { "What would help" }
            p { (Text(page.ways_out)) }
            @if !page.relax.is_empty() {
                table.words {
                    tbody { @for relax in &page.relax { tr {
                        th scope="row" { bdi { (Text(&relax.what)) } }
                        td { (Text(&relax.change)) }
                        td { (Text(&relax.then)) }
                        td.written { (Text(&relax.written)) }
                    } } }
                }
            }
        }
    }
}

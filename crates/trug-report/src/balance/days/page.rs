//! Many days as one HTML file that needs nothing else: a line for the cost and for each amount that moves, and the table.

use maud::{Markup, html};
use trug_model::Q;

use super::picture::line;
use super::{BalancedDays, Series};
use crate::page::still::still_page;
use crate::page::text::Text;
use crate::words::money;

/// How the page looks, on a screen and on paper.
const STYLE: &str = concat!(
    include_str!("../../page/base.css"),
    include_str!("../html/balance.css"),
    include_str!("days.css")
);

/// How the mix and its cost move, as a page.
#[must_use]
pub fn days_html(pages: &[BalancedDays<'_>]) -> String {
    let content = html! {
        @for page in pages { (article(page)) }
    };
    still_page("Least cost over days", STYLE, &content)
}

fn article(page: &BalancedDays<'_>) -> Markup {
    let cost = page.cost();
    let amounts = page.amounts();
    html! {
        article {
            header {
                h1 { bdi { (Text(page.title())) } }
                p.written { (Text(&page.written())) }
            }
            p.result { (Text(&page.summary())) }
            section.lines {
                @if cost.ends().is_some() { (figure(page, &cost, &|value| money(value, page.currency()))) }
                @for series in amounts.iter().filter(|series| series.moves()) {
                    (figure(page, series, &percent))
                }
            }
            (table(page, &cost, &amounts))
        }
    }
}

fn percent(value: &Q) -> String {
    format!("{} %", value.readable(6))
}

fn figure(page: &BalancedDays<'_>, series: &Series, says: &dyn Fn(&Q) -> String) -> Markup {
    let ends = series.ends();
    let first = page.days.first().map_or("", |(day, _)| day);
    let last = page.days.last().map_or("", |(day, _)| day);
    html! {
        figure {
            figcaption { strong { bdi { (Text(&series.name)) } } }
            div.graph {
                div.ends aria-hidden="true" {
                    @if let Some((least, greatest)) = ends {
                        span { (Text(&says(greatest))) }
                        @if least != greatest { span { (Text(&says(least))) } }
                    }
                }
                (line(series))
            }
            div.days aria-hidden="true" { span { (Text(first)) } span { (Text(last)) } }
        }
    }
}

fn table(page: &BalancedDays<'_>, cost: &Series, amounts: &[Series]) -> Markup {
    html! {
        section.table {
            h2 { "Day by day" }
            table {
                thead { tr {
                    th scope="col" { "day" }
                    th scope="col" { "a kg" }
                    @for series in amounts { th scope="col" { bdi { (Text(&series.name)) } } }
                } }
                tbody { @for (rank, (day, _)) in page.days.iter().enumerate() { tr {
                    th scope="row" { (Text(day)) }
                    td { (cell(cost, rank, &|value| money(value, page.currency()))) }
                    @for series in amounts { td { (cell(series, rank, &percent)) } }
                } } }
            }
        }
    }
}

fn cell(series: &Series, rank: usize, says: &dyn Fn(&Q) -> String) -> Markup {
    let value = series.values.get(rank).and_then(Option::as_ref);
    html! {
        @match value {
            Some(value) => data value=(value.to_string()) { (Text(&says(value))) },
            None => "no choice",
        }
    }
}

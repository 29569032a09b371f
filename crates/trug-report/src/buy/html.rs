//! A shopping list as one HTML file that needs nothing else: to be printed and ticked, with the stock drawn over the days.
//!
//! It has no script. Every text goes through [`Text`].

use maud::{Markup, html};

use super::ShoppingList;
use super::picture::stock;
use super::told::{BuyTold, Told, called, lasts, tell};
use crate::page::still::still_page;
use crate::page::text::Text;

/// How the page looks, on a screen and on paper.
const STYLE: &str = concat!(include_str!("../page/base.css"), include_str!("buy.css"));

/// More pictures than this are not looked at; the numbers of all stand in the tables.
const MOST_PICTURES: usize = 60;

/// The list as a page.
#[must_use]
pub fn buy_html(list: &ShoppingList<'_>) -> String {
    let told = tell(list);
    let content = html! {
        h1 { (prose(&told.title)) }
        @for alarm in &told.alarms { p.alarm { (prose(alarm)) } }
        (buy(&told))
        (listed("Caution", &told.cautions))
        (enough(&told))
        (expires(&told))
        (eaten(&told))
        (pictures(list))
        @for remark in &told.remarks { p.about { (prose(remark)) } }
    };
    still_page(&told.title, STYLE, &content)
}

/// A text of the farm's, kept apart from what stands around it.
fn apart(words: &str) -> Markup {
    html! { bdi { (Text(words)) } }
}

/// Words with days in them, which do not break.
fn prose(words: &str) -> Markup {
    let is_day = |word: &str| {
        word.len() >= 10
            && word
                .get(..10)
                .is_some_and(|day| day.parse::<jiff::civil::Date>().is_ok())
    };
    html! {
        bdi {
            @for (rank, word) in words.split(' ').enumerate() {
                @if 0 < rank { " " }
                @if is_day(word) { span.day { (Text(word)) } } @else { (Text(word)) }
            }
        }
    }
}

fn buy(told: &Told) -> Markup {
    if told.buy.is_empty() {
        return html! { p { (told.nothing) } };
    }
    html! {
        section {
            h2 { "To buy" }
            table {
                thead { tr {
                    th scope="col" { "by" }
                    th.box scope="col" { "got" }
                    th scope="col" { "what" }
                    th.figure scope="col" { "how much" }
                    th.figure scope="col" { "cost" }
                } }
                tbody { @for one in &told.buy { (buy_row(one)) } }
                tfoot { tr { th scope="row" colspan="3" { "Total" } td.figure colspan="2" { (Text(&told.total)) } } }
            }
        }
    }
}

fn buy_row(one: &BuyTold) -> Markup {
    html! {
        tr {
            td.day { (one.by) }
            td.box { span {} }
            th scope="row" { strong { (apart(&one.what)) } br; span.about { (prose(&one.about.join("; "))) } }
            td.figure { (Text(&one.amount)) }
            td.figure { (Text(&one.cost)) }
        }
    }
}

fn enough(told: &Told) -> Markup {
    if told.enough.is_empty() {
        return html! {};
    }
    html! {
        section {
            h2 { "Enough in the store" }
            table {
                thead { tr {
                    th scope="col" { "what" }
                    th.figure scope="col" { "on hand" }
                    th.figure scope="col" { "needed" }
                    th.figure scope="col" { "left" }
                    th scope="col" { "lasts" }
                } }
                tbody { @for one in &told.enough { tr {
                    th scope="row" { (apart(&one.what)) }
                    td.figure { (Text(&one.on_hand)) }
                    td.figure { (Text(&one.needed)) }
                    td.figure { (Text(&one.left)) }
                    td { (Text(&one.lasts)) }
                } } }
            }
        }
    }
}

fn eaten(told: &Told) -> Markup {
    html! {
        section {
            h2 { "Eaten" }
            table {
                tbody { @for fed in &told.fed { tr {
                    th scope="row" { (apart(&fed.who)) }
                    td.about { (prose(&fed.about)) }
                    td.figure { (Text(&fed.daily)) }
                    td.figure { (Text(&fed.cost)) }
                } } }
            }
        }
    }
}

fn expires(told: &Told) -> Markup {
    if told.expires.is_empty() {
        return html! {};
    }
    html! {
        section {
            h2 { "Expires" }
            dl.expires { @for (day, says) in &told.expires { div { dt.day { (day) } dd { (apart(says)) } } } }
        }
    }
}

fn listed(heading: &str, lines: &[String]) -> Markup {
    if lines.is_empty() {
        return html! {};
    }
    html! {
        section {
            h2 { (heading) }
            ul { @for line in lines { li { (prose(line)) } } }
        }
    }
}

fn pictures(list: &ShoppingList<'_>) -> Markup {
    let rows = &list.buying.rows;
    if rows.is_empty() {
        return html! {};
    }
    let others = rows.len().saturating_sub(MOST_PICTURES);
    html! {
        section {
            h2 { "Stock over the days" }
            p.about { "The line is what is in the store. An arrow: bought. A cross: expired." }
            div.pictures {
                @for row in rows.iter().take(MOST_PICTURES) {
                    @let name = called(row, list);
                    figure {
                        figcaption { strong { (apart(&name)) } " lasts " (prose(&lasts(row, list.buying))) }
                        (stock(row, &name, list.buying))
                    }
                }
            }
            @if 0 < others { p.about { (others) " more are not drawn." } }
        }
    }
}

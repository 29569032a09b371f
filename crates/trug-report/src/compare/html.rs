//! A comparison as one HTML file that needs nothing else, in the manner of an analysis.

use maud::{Markup, html};

use super::Compared;
use super::telling::{RationTold, Table, tell};
use crate::page::still::still_page;
use crate::page::text::Text;

/// How the page looks, on a screen and on paper.
const STYLE: &str = concat!(
    include_str!("../page/base.css"),
    include_str!("compare.css")
);

const TITLE: &str = "Comparison";
const ARROW: &str = "→";

/// The comparison as a page.
#[must_use]
pub fn compare_html(compared: &Compared<'_>) -> String {
    let told = tell(compared, ARROW);
    let title = format!("{TITLE}: {}", told.title);
    let content = html! {
        header {
            h1 { (TITLE) }
            p.sides { (apart(&told.title)) }
        }
        p.closing { (Text(&told.summary)) }
        (contents(&told.rations))
        (list("causes", "Because of", &told.causes))
        @for (rank, ration) in told.rations.iter().enumerate() { (article(ration, rank + 1)) }
        (list("groups", "Groups, a day", &told.groups))
        (list("elsewhere", "Found elsewhere", &told.elsewhere))
        footer { p.remark { (Text(&told.closing)) } }
    };
    still_page(&title, STYLE, &content)
}

/// A text of the farm's, kept apart from what stands around it.
fn apart(words: &str) -> Markup {
    html! { bdi { (Text(words)) } }
}

fn id(rank: usize) -> String {
    format!("r{rank}")
}

/// What became of each ration, in a sentence.
fn contents(rations: &[RationTold]) -> Markup {
    html! {
        @if !rations.is_empty() {
            nav aria-label="Rations" {
                ul { @for (rank, ration) in rations.iter().enumerate() {
                    li {
                        a href={ "#" (id(rank + 1)) } { (apart(&ration.name)) }
                        ": " (apart(&ration.summary))
                    }
                } }
            }
        }
    }
}

fn list(id: &str, heading: &str, lines: &[String]) -> Markup {
    html! {
        @if !lines.is_empty() {
            section.list aria-labelledby=(id) {
                h2 id=(id) { (heading) }
                ul { @for line in lines { li { (apart(line)) } } }
            }
        }
    }
}

fn article(ration: &RationTold, rank: usize) -> Markup {
    html! {
        article id=(id(rank)) aria-labelledby={ (id(rank)) "-title" } {
            h2 id={ (id(rank)) "-title" } { (apart(&ration.name)) " " span.about { (apart(&ration.about)) } }
            @if !ration.worse.is_empty() {
                ul.worse { @for line in &ration.worse { li { (apart(line)) } } }
            }
            @for note in &ration.notes { p.remark { (apart(note)) } }
            @for one in &ration.tables { (table(one)) }
            @if !ration.found.is_empty() {
                h3 { "Found" }
                ul.found { @for line in &ration.found { li { (apart(line)) } } }
            }
        }
    }
}

fn table(table: &Table) -> Markup {
    html! {
        table {
            caption { (table.heading) }
            thead { tr { @for column in &table.columns { th scope="col" { (column) } } } }
            tbody { @for row in &table.rows {
                tr.is-missed[row.is_loud] { @for (rank, cell) in row.cells.iter().enumerate() {
                    @if rank == 0 { th scope="row" { (apart(cell)) } } @else { td { (apart(cell)) } }
                } }
            } }
        }
    }
}

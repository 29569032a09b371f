//! Analyses as one HTML file that needs nothing else: bounds and doses as bars, composition and cost as tables.
//!
//! It has no script. Every text goes through [`Text`], and every exact number stands in a `data` element with the
//! digits that programs read in `analysis/1`.

mod bar;
mod standing;
mod tables;
mod words;

use maud::{Markup, html};
use trug_model::Q;

use super::Analysed;
use super::text::{closing, cost_words};
use crate::findings::{file_name, start_of};
use crate::page::still::still_page;
use crate::page::text::Text;
use crate::words::mass;
use standing::{Standing, standings};

/// How the page looks, on a screen and on paper.
const STYLE: &str = concat!(
    include_str!("../page/base.css"),
    include_str!("html/analysis.css")
);

/// The analyses as a page, in their order.
#[must_use]
pub fn analysis_html(pages: &[Analysed<'_>]) -> String {
    let title = match pages {
        [only] => format!("{}: {}", words::ANALYSIS, only.title()),
        _ => words::ANALYSES.to_owned(),
    };
    let content = html! {
        @if pages.len() > 1 { (contents(pages)) }
        @for (rank, page) in pages.iter().enumerate() { (article(page, rank + 1)) }
    };
    still_page(&title, STYLE, &content)
}

/// A text of the farm's, kept apart from what stands around it.
fn apart(words: &str) -> Markup {
    html! { bdi { (Text(words)) } }
}

/// An exact number: as it is shown, with the digits that programs read.
fn number(exact: &Q, shown: &str) -> Markup {
    html! { data value=(exact.to_string()) { (Text(shown)) } }
}

/// A number from statistics.
fn estimate(value: f64, shown: &str) -> Markup {
    html! { data value=(value) { (Text(shown)) } }
}

impl Analysed<'_> {
    fn title(&self) -> &str {
        self.label.as_deref().unwrap_or(&self.analysis.ration)
    }

    /// What people call an ingredient; its name where it has no label.
    fn called<'b>(&'b self, ingredient: &'b str) -> &'b str {
        self.labels
            .get(ingredient)
            .map_or(ingredient, String::as_str)
    }
}

/// Where in the page something stands, for the ids that must differ.
fn id(number: usize, part: &str) -> String {
    format!("r{number}-{part}")
}

fn contents(pages: &[Analysed<'_>]) -> Markup {
    html! {
        nav aria-labelledby="contents" {
            h1 id="contents" { (words::ANALYSES) }
            ol { @for (rank, page) in pages.iter().enumerate() {
                li {
                    a href={ "#" (id(rank + 1, "title")) } { (apart(page.title())) }
                    " " (count(page))
                }
            } }
        }
    }
}

/// `10 met, 1 missed, 0 undecided.`
fn count(page: &Analysed<'_>) -> String {
    let closing = closing(&page.analysis);
    let end = closing.find(". ").map_or(closing.len(), |end| end + 1);
    closing.get(..end).unwrap_or_default().to_owned()
}

fn article(page: &Analysed<'_>, rank: usize) -> Markup {
    let analysis = &page.analysis;
    let groups = standings(page, rank);
    html! {
        article aria-labelledby=(id(rank, "title")) {
            (head(page, rank))
            p.closing { (closing(analysis)) }
            (named(words::MISSED, &groups, Some(false)))
            (named(words::UNDECIDED, &groups, None))
            @if groups.iter().any(|(_, rows)| rows.iter().any(|row| row.bar.is_some())) { (legend(rank)) }
            @for (number, (heading, rows)) in groups.iter().enumerate() {
                @let heading_id = id(rank, &format!("group-{}", number + 1));
                section.standings aria-labelledby=(heading_id) {
                    h2 id=(heading_id) { (heading) }
                    ul role="list" { @for row in rows { (standing::row(row)) } }
                }
            }
            (tables::composition(page, rank))
            (tables::costs(page, rank))
            (tables::origins(page, rank))
        }
    }
}

fn head(page: &Analysed<'_>, rank: usize) -> Markup {
    let analysis = &page.analysis;
    let file = file_name(analysis.place, page.sources);
    let line = start_of(analysis.place, page.sources).line;
    html! {
        header {
            h1 id=(id(rank, "title")) { (apart(page.title())) }
            dl.facts {
                @if page.label.is_some() { div { dt { (words::RATION) } dd { (apart(&analysis.ration)) } } }
                div { dt { (words::WRITTEN) } dd { (apart(&format!("{file}:{line}"))) } }
                @if let Some(grams) = &analysis.mass_g {
                    div { dt { (words::BATCH) } dd { (number(grams, &mass(grams))) } }
                }
                div { dt { (words::COST) } dd { (Text(&cost_words(analysis))) } }
                @if let Some(today) = &page.today { div { dt { (words::DAY) } dd { (Text(today)) } } }
            }
        }
    }
}

/// The bounds with this verdict, by name; nothing where there are none.
fn named(heading: &str, groups: &[(&str, Vec<Standing<'_>>)], met: Option<bool>) -> Markup {
    let rows = groups.iter().flat_map(|(_, rows)| rows);
    let rows: Vec<&Standing<'_>> = rows.filter(|row| row.met == met).collect();
    html! {
        @if !rows.is_empty() {
            p.named {
                strong { (heading) }
                @for (rank, row) in rows.iter().enumerate() {
                    @if rank > 0 { "," }
                    " " a href={ "#" (row.id) } { (apart(&row.what)) }
                }
            }
        }
    }
}

fn legend(rank: usize) -> Markup {
    let meanings = [
        words::LEGEND_BAND,
        words::LEGEND_VALUE,
        words::LEGEND_BATCH,
        words::LEGEND_PORTION,
        words::LEGEND_CEILING,
    ];
    html! {
        section.legend aria-labelledby=(id(rank, "legend")) {
            h2 id=(id(rank, "legend")) { (words::LEGEND) }
            ul role="list" {
                @for (sample, meaning) in bar::samples().iter().zip(meanings) { li { (sample) " " (meaning) } }
            }
            p { (words::LEGEND_ALONE) }
        }
    }
}
